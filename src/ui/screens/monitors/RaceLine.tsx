/** What the edited settings make of the present race: first trip, clearing and margin, as the bench has them and as edited. */
import type { RaceOutcome } from "../../../study/raceBeside";
import { formatLate, formatRatio, formatTime, NO_VALUE } from "../../../units/format";
import { faultWords, upperFirst } from "../bench/views/words";
import { useStudy } from "./monitorsContext";

export function RaceLine() {
  const before = useStudy((s) => s.before);
  const after = useStudy((s) => s.after);
  const fault = useStudy((s) => s.fault);
  const working = useStudy((s) => s.working);
  const problem = useStudy((s) => s.problem);
  const failure = useStudy((s) => s.failure);
  const name =
    fault === null ? "The present race" : upperFirst(faultWords(fault.fault, fault.part));
  const where = fault === null || fault.isOfRun ? "on the bench" : "under a full carrier";
  return (
    <section className="race-line" aria-labelledby="race-title">
      <h3 id="race-title">
        {name} <span className="unit">{where}: as set there → as edited</span>
      </h3>
      <dl aria-busy={working}>
        <Figure name="First trip" before={tripWords(before)} after={tripWords(after)} />
        <Figure
          name="Cleared"
          before={timeWords(before?.clearingS)}
          after={timeWords(after?.clearingS)}
        />
        <Figure name="Margin" before={marginWords(before)} after={marginWords(after)} />
        <Figure name="Early edge" before={earlyWords(before)} after={earlyWords(after)} />
      </dl>
      <p className="note" role="status">
        {failure !== ""
          ? failure
          : problem !== ""
            ? `No race as edited: ${problem}.`
            : saysOf(before, after, working)}
      </p>
    </section>
  );
}

interface FigureProps {
  readonly name: string;
  readonly before: string;
  readonly after: string;
}

function Figure({ name, before, after }: FigureProps) {
  const isSame = before === after;
  return (
    <div className="race-figure">
      <dt>{name}</dt>
      <dd>
        {isSame ? (
          <b>{after}</b>
        ) : (
          <>
            <span className="was">{before}</span>
            <span aria-hidden="true"> → </span>
            <span className="unseen"> becomes </span>
            <b>{after}</b>
          </>
        )}
      </dd>
    </div>
  );
}

function tripWords(race: RaceOutcome | null): string {
  if (race === null) return NO_VALUE;
  return race.firstTrip === null
    ? "none"
    : `${race.firstTrip.name}, ${formatTime(race.firstTrip.atS)}`;
}

function timeWords(seconds: number | null | undefined): string {
  if (seconds === undefined) return NO_VALUE;
  return seconds === null ? "not in 3 s" : formatTime(seconds);
}

function marginWords(race: RaceOutcome | null): string {
  return race === null ? NO_VALUE : ratioWords(race.margin);
}

/** The margin by the early edge of the estimates. */
function earlyWords(race: RaceOutcome | null): string {
  return race === null ? NO_VALUE : ratioWords(race.marginEarly);
}

function ratioWords(margin: number | null): string {
  if (margin === null) return "none";
  return margin < 1 ? formatLate(margin) : formatRatio(margin);
}

function saysOf(before: RaceOutcome | null, after: RaceOutcome | null, working: boolean): string {
  if (working) return after === null ? "The race is being run." : "It is being run again.";
  if (before === null || after === null) return "No fault comes in this run.";
  const same =
    tripWords(before) === tripWords(after) &&
    timeWords(before.clearingS) === timeWords(after.clearingS) &&
    marginWords(before) === marginWords(after) &&
    earlyWords(before) === earlyWords(after);
  return same
    ? "The same scenario, run with both: no difference."
    : "The same scenario, run with both.";
}
