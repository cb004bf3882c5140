/** What the exciter sends while the key is down; folded away beside the controls, and loaded when it is opened. */
import { Suspense, useState } from "react";
import type { WorldView } from "../../../shells/bench/worldView";
import { later } from "../../instruments/later";
import { SIGNAL_WORDS, type SignalKind } from "./views/signalKinds";

const SignalFields = later(() => import("./SignalFields"));

export function SignalGroup({ world }: { readonly world: WorldView }) {
  // Morse is a keyed carrier: nothing in the world tells the two apart
  const [isMorse, setMorse] = useState(false);
  const [wasOpen, setOpen] = useState(false);
  const { signal } = world;
  const kind: SignalKind = isMorse && signal.signal === "carrier" ? "morse" : signal.signal;
  return (
    <details className="load-knobs" onToggle={() => setOpen(true)}>
      <summary>Signal: {SIGNAL_WORDS[kind]}</summary>
      {wasOpen && (
        <Suspense fallback={<p className="note">One moment.</p>}>
          <SignalFields kind={kind} signal={signal} onMorse={setMorse} />
        </Suspense>
      )}
    </details>
  );
}
