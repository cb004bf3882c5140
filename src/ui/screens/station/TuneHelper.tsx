/** Where tuning and loading belong for the station's load, how far off the bench's knobs are, and the way there. */
import { useStore } from "zustand";
import { CONTROL_NAMES, FRAME } from "../../../shells/bench/frameLayout";
import { isSameStation } from "../../../state/stationEdit";
import { swrOf } from "../../../study/partStress";
import type { TuneUp } from "../../../study/tuneUp";
import { formatNumber, formatQuantity } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { useBench } from "../bench/benchContext";
import { useEdit, useStudy } from "./stationContext";
import { STOP_WORDS } from "./words";

function percentOff(ratio: number): string {
  // to the last hundredth: what is less is rounding of the search, and no knob shows it
  const percent = Math.round(1e4 * (ratio - 1)) / 100;
  return `${formatNumber(percent, 2, true)}\u00a0%`;
}

export function TuneHelper() {
  const here = useStudy((s) => s.here);
  const station = useEdit((s) => s.project.station);
  const { playback } = useBench();
  const project = useStore(playback.store, (s) => s.project);
  // the frame is one array that is filled anew: the sequence says when
  useStore(playback.store, (s) => s.sequence);
  if (here === null || here.components === null) return null;
  const { tune, load, asTuned, retuned } = here;
  const knob = (name: "tuningRatio" | "loadingRatio"): number =>
    playback.frame[FRAME.controls + CONTROL_NAMES.indexOf(name)] as number;
  const runs = project !== null && isSameStation(project.station, station);
  const wanted: TuneUp | null =
    tune.kind === "found" ? tune : tune.kind === "stopped" ? tune.wanted : null;
  const swr = swrOf(load);
  const elsewhere = project === null ? "bench not started" : "another station";
  const off = (ratio: number, name: "tuningRatio" | "loadingRatio"): string => {
    const now = knob(name);
    return now > 0 ? percentOff(now / ratio) : "not known";
  };
  return (
    <section aria-labelledby="tune-title">
      <h3 id="tune-title">Tuning up for the load</h3>
      <p className="summary">
        The load shows SWR {Number.isFinite(swr) ? formatNumber(swr) : "without limit"} on
        50&nbsp;Ω.{" "}
        {tune.kind === "found" &&
          `Tuned up it takes ${retuned === null ? "no settled power" : formatQuantity(retuned.outputW, "W")}, with the settings for 50 Ω ${asTuned === null ? "no settled power" : formatQuantity(asTuned.outputW, "W")}.`}
        {tune.kind === "stopped" &&
          `It cannot be tuned: ${tune.stops.map((stop) => STOP_WORDS[stop]).join(" and ")} is in the way.`}
        {tune.kind === "impossible" &&
          "It cannot be tuned: no loading gives the plate the load it is built for."}
      </p>
      {wanted !== null && (
        <div className="table-wide">
          <table className="figures">
            <caption className="unseen">Settings for the load</caption>
            <ColumnHeads words={["Knob", "Wanted", "From the design", "Bench now stands off by"]} />
            <tbody>
              <tr>
                <th scope="row">Tuning</th>
                <td>{formatQuantity(wanted.tuningF - here.components.strayF, "F")}</td>
                <td>{percentOff(wanted.tuningRatio)}</td>
                <td>{runs ? off(wanted.tuningRatio, "tuningRatio") : elsewhere}</td>
              </tr>
              <tr>
                <th scope="row">Loading</th>
                <td>{formatQuantity(wanted.loadingF, "F")}</td>
                <td>{percentOff(wanted.loadingRatio)}</td>
                <td>{runs ? off(wanted.loadingRatio, "loadingRatio") : elsewhere}</td>
              </tr>
            </tbody>
          </table>
        </div>
      )}
      <div className="field-buttons">
        <button
          type="button"
          className="button"
          disabled={tune.kind !== "found" || !runs}
          onClick={() => {
            if (tune.kind !== "found") return;
            playback.act({ do: "set", control: "tuningRatio", value: tune.tuningRatio });
            playback.act({ do: "set", control: "loadingRatio", value: tune.loadingRatio });
          }}
        >
          Set the bench's knobs so
        </button>
        {tune.kind === "found" && !runs && (
          <span className="note">Take this station to the bench first.</span>
        )}
      </div>
    </section>
  );
}
