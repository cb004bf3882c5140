/** Nuisance: false trips by the hour with their intervals, which use and which condition they come from, and each moment. */
import type { NuisanceSummary } from "../../../study/trials/nuisanceSummary";
import { countOf, formatNumber, formatTime } from "../../../units/format";
import { OpenCase } from "./openCase";
import { useTrial } from "./trialsContext";

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
  const { all, hours, notRun } = summary;
  return (
    <>
      <p className="summary">
        {summary.casesRun + notRun < summary.cases &&
          `${summary.casesRun} of ${countOf(summary.cases, "case")} so far. `}
        {all === null
          ? "No use has been played yet."
          : `${all.count === 0 ? "No false trip" : countOf(all.count, "false trip")} in ${formatNumber(hours)} h: ${perHour(all)}.`}
        {notRun > 0 &&
          ` ${notRun} of ${countOf(summary.cases, "case")} could not be run: their time is in no figure here.`}
      </p>
      <div className="table-wide">
        <table className="figures">
          <caption>
            By monitor, with the exact Poisson interval at 95 %, if trips came independently
          </caption>
          <thead>
            <tr>
              <th scope="col">Monitor</th>
              <th scope="col">False trips</th>
              <th scope="col">An hour</th>
              <th scope="col">Alarms</th>
            </tr>
          </thead>
          <tbody>
            {summary.monitors.map((m) => (
              <tr key={m.id}>
                <th scope="row">{m.name}</th>
                <td>{m.count}</td>
                <td>{interval(m)}</td>
                <td>{m.alarms}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div className="figures-row">
        <Shares title="By use" rows={summary.uses} nameOf={nameOf} />
        <Shares title="By condition" rows={summary.conditions} nameOf={nameOf} />
      </div>
      {notRun > 0 && (
        <Moments
          title="Not run, each with its reason"
          none=""
          rows={summary.problems.map((p) => ({
            key: String(p.index),
            index: p.index,
            label: p.label,
            words: p.problem,
          }))}
        />
      )}
      <Moments
        title="False trips, each with its moment"
        none="There is none."
        rows={summary.trips.map((t) => ({
          key: `${t.index} ${t.monitor} ${t.atS}`,
          index: t.index,
          label: t.label,
          words: `${nameOf(t.monitor)}, ${formatTime(t.atS)} into it`,
        }))}
      />
      <Moments
        title="Not ordinary use, beside it"
        none="None were run."
        rows={summary.exceptions.map((e) => ({
          key: String(e.index),
          index: e.index,
          label: e.label,
          words:
            e.monitors.length === 0
              ? "nothing trips"
              : `${e.monitors.map(nameOf).join(", ")}${e.firstS === null ? "" : `, first after ${formatTime(e.firstS)}`}`,
        }))}
      />
    </>
  );
}

function perHour(rate: {
  readonly perHour: number;
  readonly low: number;
  readonly high: number;
}): string {
  return `${interval(rate)} an hour`;
}

function interval(rate: Parameters<typeof perHour>[0]): string {
  const n = (v: number): string => (v === 0 ? "0" : formatNumber(v, 2));
  return `${n(rate.perHour)} (${n(rate.low)} to ${n(rate.high)})`;
}

interface SharesProps {
  readonly title: string;
  readonly rows: NuisanceSummary["uses"];
  readonly nameOf: (id: string) => string;
}

function Shares({ title, rows, nameOf }: SharesProps) {
  return (
    <div className="table-wide">
      <table className="figures">
        <caption>{title}</caption>
        <thead>
          <tr>
            <th scope="col">{title.replace("By ", "")}</th>
            <th scope="col">Hours</th>
            <th scope="col">False trips</th>
            <th scope="col">Alarms</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.id}>
              <th scope="row">{r.words}</th>
              <td>{formatNumber(r.hours)}</td>
              <td>{r.trips === 0 ? "0" : `${r.trips}: ${r.monitors.map(nameOf).join(", ")}`}</td>
              <td>{r.alarms}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface MomentsProps {
  readonly title: string;
  readonly none: string;
  readonly rows: readonly {
    readonly key: string;
    readonly index: number;
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
            <li key={r.key}>
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
