/** Mains switch, lid and airflow switch, folded away beside the controls, and what the filter still holds. */
import type { WorldView } from "../../../shells/bench/worldView";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { useBench, useFrameTurn, usePlayback } from "./benchContext";
import { channelIn } from "./views/frameReader";
import { filterWords, powerWords } from "./views/powerWords";

export function PowerGroup({ world }: { readonly world: WorldView }) {
  const { playback } = useBench();
  const { power } = world;
  return (
    <details className="load-knobs">
      <summary>Power and interlocks</summary>
      <SegmentedChoice
        name="Power"
        options={[
          { value: "off", word: "Power off" },
          { value: "on", word: "Power on" },
        ]}
        value={power.on ? "on" : "off"}
        onChoose={(v) => playback.act({ do: "power", on: v === "on" })}
      />
      <SegmentedChoice
        name="Lid"
        options={[
          { value: "closed", word: "Lid closed" },
          { value: "open", word: "Lid open" },
        ]}
        value={power.lidClosed ? "closed" : "open"}
        onChoose={(v) => playback.act({ do: "interlock", which: "lid", closed: v === "closed" })}
      />
      <SegmentedChoice
        name="Airflow switch"
        options={[
          { value: "closed", word: "Air flows" },
          { value: "open", word: "No airflow" },
        ]}
        value={power.airflowClosed ? "closed" : "open"}
        onChoose={(v) =>
          playback.act({ do: "interlock", which: "airflow", closed: v === "closed" })
        }
      />
      <p className="note">
        <Standing world={world} />
      </p>
    </details>
  );
}

/** Once a second: how far the warm-up is, and how long the filter stays dangerous. */
function Standing({ world }: { readonly world: WorldView }) {
  const { playback } = useBench();
  const project = usePlayback((s) => s.project);
  useFrameTurn(1);
  if (project === null) return null;
  const { playNs } = playback.store.getState();
  const filterV = channelIn(playback.frame, "filterV");
  return `${powerWords(world, playNs)}. ${filterWords(world, project, filterV)}.`;
}
