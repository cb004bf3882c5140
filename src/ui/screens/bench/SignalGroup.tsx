/** What the exciter sends while the key is down; folded away beside the controls, and loaded when it is opened. */
import { Suspense, useEffect, useState } from "react";
import type { WorldView } from "../../../shells/bench/worldView";
import { later } from "../../instruments/later";
import { usePlayback } from "./benchContext";
import { SIGNAL_WORDS, type SignalKind } from "./views/signalKinds";

const SignalFields = later(() => import("./SignalFields"));

/** Morse is a keyed carrier: nothing in the world tells the two apart, so that what was chosen or sent has to. */
type Morse = "no" | "chosen" | "sent";

export function SignalGroup({ world }: { readonly world: WorldView }) {
  const project = usePlayback((s) => s.project);
  const [morse, setMorse] = useState<Morse>("no");
  useEffect(() => {
    const isKeyed = project?.scenario.some((e) => e.do === "key" && "text" in e) === true;
    setMorse(isKeyed ? "sent" : "no");
  }, [project]);
  const [wasOpen, setOpen] = useState(false);
  const { signal } = world;
  const isMorse = morse !== "no" && signal.signal === "carrier";
  const kind: SignalKind = isMorse ? "morse" : signal.signal;
  return (
    <details className="load-knobs" onToggle={() => setOpen(true)}>
      <summary>
        Signal: {isMorse && morse === "chosen" ? "steady carrier until sent" : SIGNAL_WORDS[kind]}
      </summary>
      {wasOpen && (
        <Suspense fallback={<p className="note">One moment.</p>}>
          <SignalFields kind={kind} signal={signal} onMorse={setMorse} />
        </Suspense>
      )}
    </details>
  );
}
