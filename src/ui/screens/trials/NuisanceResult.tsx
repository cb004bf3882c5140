/** Nuisance: false trips by the hour with their intervals, which use and which condition they come from, and each moment. */
import type { NuisanceSummary } from "../../../study/trials/nuisanceSummary";
import { countOf, formatNumber, formatTime } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { OpenCase } from "./openCase";
import { useTrial } from "./trialsContext";
import { WideTable } from "./WideTable";

export function NuisanceResult() {
  const summary = useTrial("nuisance", (s) => s.summary) as NuisanceSummary | null;
  const monitors = useTrial("nuisance", (s) => s.asked?.project.monitors) ?? [];
  const standing = useTrial("nuisance", (s) => s.standing);
  if (standing === "idle") {
    return (
      <p className="note">
        Nothing has been run. Speech, keying, data, tuning up, mains dips and moving antennas are
        played to the scheme; what trips stands here with its moment.
      </p>
    );
  }
  if (summary === null) return <p className="note">Nothing is known yet.</p>;
  const nameOf = (id: string): string => monitors.find((m) => m.id === id)?.name ?? id;
  const shares = (head: string, rows: NuisanceSummary["uses"]) => (
    <Figures
      title={`By ${head.toLowerCase()}`}
      heads={[head, "Hours", "False trips", "Alarms"]}
      rows={rows.map(({ id, words, hours: h, trips, monitors: by, alarms }) => [
        id,
        words,
        formatNumber(h),
        trips === 0 ? 0 : `${trips}: ${by.map(nameOf).join(", ")}`,
        alarms,
      ])}
    />
  );
  const { all, hours, notRun } = summary;
  return (
    <>
      <p className="summary">
        {summary.casesRun + notRun < summary.cases &&
          `${summary.casesRun} of ${countOf(summary.cases, "case")} so far. `}
        {all === null
          ? "No use has been played yet."
          : `${all.count === 0 ? "No false trip" : countOf(all.count, "false trip")} in ${formatNumber(hours)} h: ${interval(all)} an hour.`}
        {notRun > 0 &&
          ` ${notRun} of ${countOf(summary.cases, "case")} could not be run: their time is in no figure here.`}
      </p>
      <Figures
        title="By monitor, with the exact Poisson interval at 95 %, if trips came independently"
        heads={["Monitor", "False trips", "An hour", "Alarms"]}
        rows={summary.monitors.map((m) => [m.id, m.name, m.count, interval(m), m.alarms])}
      />
      <div className="figures-row">
        {shares("Use", summary.uses)}
        {shares("Condition", summary.conditions)}
      </div>
      {notRun > 0 && (
        <Moments
          title="Not run, each with its reason"
          none=""
          rows={summary.problems.map((p) => ({ ...p, words: p.problem }))}
        />
      )}
      <Moments
        title="False trips, each with its moment, counted from the start of its case's run"
        none="There is none."
        rows={summary.trips.map((t) => ({
          ...t,
          words: `${nameOf(t.monitor)}, ${formatTime(t.atS)} after the start`,
        }))}
      />
      <Moments
        title="Not ordinary use, beside it; moments from the start of the case's run"
        none="None were run."
        rows={summary.exceptions.map((e) => ({
          ...e,
          words:
            e.monitors.length === 0
              ? "nothing trips"
              : `${e.monitors.map(nameOf).join(", ")}${e.firstS === null ? "" : `, first ${formatTime(e.firstS)} after the start`}`,
        }))}
      />
    </>
  );
}

/** A rate with its interval: `0.20 (0.024 to 0.72)`. */
function interval(rate: NonNullable<NuisanceSummary["all"]>): string {
  const n = (v: number): string => (v === 0 ? "0" : formatNumber(v, 2));
  return `${n(rate.perHour)} (${n(rate.low)} to ${n(rate.high)})`;
}

interface FiguresProps {
  readonly title: string;
  readonly heads: readonly string[];
  /** A key, the row's name, and a figure for each further head. */
  readonly rows: readonly (readonly [string, string, ...(string | number)[]])[];
}

function Figures({ title, heads, rows }: FiguresProps) {
  return (
    <WideTable caption={title}>
      <ColumnHeads words={heads} />
      <tbody>
        {rows.map(([id, name, ...figures]) => (
          <tr key={id}>
            <th scope="row">{name}</th>
            {figures.map((figure, k) => (
              <td key={heads[k + 1]}>{figure}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}

interface MomentsProps {
  readonly title: string;
  readonly none: string;
  readonly rows: readonly {
    readonly index: number;
    /** Of several in one case. */
    readonly atS?: number;
    readonly label: string;
    readonly words: string;
  }[];
}

function Moments({ title, none, rows }: MomentsProps) {
  return (
    <section className="moments">
      <h3>{title}</h3>
      {rows.length === 0 ? (
        <p className="note">{none}</p>
      ) : (
        <ul>
          {rows.map((r) => (
            <li key={`${r.index} ${r.words} ${r.atS ?? ""}`}>
              <span>
                <b>{r.label}</b>: {r.words}
              </span>
              <OpenCase kind="nuisance" index={r.index} />
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
