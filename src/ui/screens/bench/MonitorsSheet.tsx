/** The monitors while the bench runs: acting, shadow or off, pickup and delay; each change is logged with its time. */

import { MONITOR_STANDING } from "../../../project/presets/standing";
import type { MonitorChange } from "../../../project/scenario";
import { offsetText } from "../../../state/playbackState";
import { tellMonitors } from "../../../state/tellMonitors";
import { MonitorTable } from "../../instruments/controls/MonitorTable";
import { ActingSheet } from "./ActingSheet";
import { useBench, usePlayback } from "./benchContext";
import { monitorRows } from "./views/monitorRows";

export function MonitorsSheet({ onClose }: { readonly onClose: () => void }) {
  const { playback } = useBench();
  const world = usePlayback((s) => s.world);
  const events = usePlayback((s) => s.events);
  const back = usePlayback(offsetText);
  if (world === null) return null;
  const change = (monitor: string, what: MonitorChange): void =>
    tellMonitors(playback, [{ do: "configureMonitor", monitor, change: what }]);
  return (
    <ActingSheet title="Monitors" onClose={onClose} wide>
      <p className={back === "" ? "note" : ""}>
        {back === ""
          ? "A change acts from the play head on; what is recorded stays."
          : `You are looking at the past, ${back}. A change here is not made at once: it is offered as a new run from this instant, with what came before as it was.`}
      </p>
      <p className="note">
        Shadow: evaluated, never acts. Device: number of IEEE C37.2. A new pickup or delay keeps a
        running count. Pickups and delays are a practitioner's judgement, not from a source, unless
        the list below says otherwise. Everything else of them is on the{" "}
        <a href="#monitors">monitors screen</a>.
      </p>
      <MonitorTable
        rows={monitorRows(world, events)}
        onMode={(monitor, role) => change(monitor, { role })}
        onPickup={(monitor, pickup) => change(monitor, { pickup })}
        onDelay={(monitor, delayS) => change(monitor, { delayS })}
      />
      <details>
        <summary>Where the settings come from</summary>
        <dl className="standing">
          {world.settings.map((m) => (
            <div key={m.id}>
              <dt>{m.name}</dt>
              <dd>{MONITOR_STANDING[m.id] ?? "set in the project"}</dd>
            </div>
          ))}
        </dl>
      </details>
    </ActingSheet>
  );
}
