/**
 * The sequence of events: what happened up to the play head, newest last, then what is due and what the run left alone
 * would come to. Noise is merged: knobs on their way, Morse, T/R steps. Times from the fault, or from the key.
 */
import type { Project } from "../../../../project/types";
import { type ActuatorFailures, actuatorSteps } from "../../../../protection/actuators/schedule";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import type { EventListView, EventRow } from "../../../instruments/events/eventView";
import { benchSentence, type Sentence, type SentenceContext } from "./eventSentences";
import { DAMAGE_WORDS, STEP_WORDS, upperFirst } from "./words";

export interface EventRowsInput {
  /** Everything logged, later than the play head included. */
  readonly events: readonly BenchEvent[];
  /** Time zero of the fault; null while nothing has struck. */
  readonly zeroNs: number | null;
  readonly playNs: number;
  /** Events of the fault left alone, of the same time zero; empty without one. */
  readonly aloneEvents: readonly BenchEvent[];
  readonly project: Project;
  readonly failures: ActuatorFailures;
  /** Time runs on from the end of the record. */
  readonly running: boolean;
  /** The play head stands at the end of the record, not somewhere behind it. */
  readonly atEnd: boolean;
}

/** Rows kept of what has happened. */
export const ROWS_KEPT = 60;
const AHEAD_KEPT = 8;
/** Steps of one knob closer than this are one movement. */
const ONE_MOVE_NS = 2e9;
/** Keying rows in one go from which on they are counted rather than listed. */
const MANY_KEYINGS = 6;
/** Events looked at for the list: older ones have left it, or stand in a long run of keying. */
const EVENTS_READ = 1200;
/** A key that was up for longer begins a new over. */
const NEW_OVER_NS = 1e9;

interface Draft extends Sentence {
  readonly key: string;
  readonly atNs: number;
  readonly firstUp: boolean;
  readonly isNew: boolean;
  readonly leftAlone?: boolean;
}

/** The list as it stands at the play head. */
export function eventRowsOf(input: EventRowsInput): EventListView {
  const { playNs, zeroNs, project } = input;
  const past = input.events.filter((e) => e.atNs <= playNs);
  const originNs = eventOriginNs(input);
  const context: SentenceContext = { monitors: project.monitors, failures: input.failures };
  const row = (draft: Draft, ahead: boolean): EventRow => ({
    key: draft.key,
    atS: (draft.atNs - originNs) / 1e9,
    mark: draft.mark,
    sentence: draft.sentence,
    firstUp: draft.firstUp,
    isNew: draft.isNew,
    ahead,
    leftAlone: draft.leftAlone === true,
  });
  const isFromFault = zeroNs !== null && zeroNs <= playNs;
  const alone = leftAlone(input, past);
  const happened = [...merged(draftsOf(past, context)), ...alone.filter((d) => d.atNs <= playNs)]
    .sort((a, b) => a.atNs - b.atNs)
    .slice(-ROWS_KEPT);
  const ahead = [...dueActuators(input, past), ...alone.filter((d) => d.atNs > playNs)]
    .sort((a, b) => a.atNs - b.atNs)
    .slice(0, AHEAD_KEPT);
  return {
    title: "Sequence of events",
    note: isFromFault ? "from the fault" : "from key-down",
    rows: [...happened.map((d) => row(d, false)), ...ahead.map((d) => row(d, true))],
    heldKey: isRaceHeld(input, past)
      ? (happened.find((d) => d.atNs >= originNs && d.mark === "strike")?.key ?? null)
      : null,
  };
}

/**
 * Once a race is decided, or time stands, strike, pickup and operate stay on show until a person acts again. Looking
 * back, the panel goes with the play head.
 */
function isRaceHeld(
  { zeroNs, running, atEnd }: EventRowsInput,
  past: readonly BenchEvent[],
): boolean {
  if (zeroNs === null || !atEnd) return false;
  const since = past.filter((e) => e.atNs > zeroNs);
  const decided =
    since.findLast((e) => e.kind === "cleared") ??
    since.find((e) => e.kind === "protection" && e.event.kind === "trip");
  // a key that ends the arc belongs to the race
  const fromNs = decided?.atNs ?? zeroNs;
  if (since.some((e) => e.kind === "command" && e.atNs > fromNs)) return false;
  return !running || decided !== undefined;
}

/** Instant from which the rows' times count: the fault's time zero, or the key-down while nothing has struck. */
export function eventOriginNs({
  events,
  zeroNs,
  playNs,
}: Pick<EventRowsInput, "events" | "zeroNs" | "playNs">): number {
  return zeroNs !== null && zeroNs <= playNs
    ? zeroNs
    : keyDownNs(events.filter((e) => e.atNs <= playNs));
}

/** First key-down of the present over; 0 before any. */
function keyDownNs(past: readonly BenchEvent[]): number {
  let originNs = 0;
  let upNs = Number.NEGATIVE_INFINITY;
  for (const e of past) {
    if (e.kind !== "command" || e.command.do !== "key" || !("down" in e.command)) continue;
    if (!e.command.down) upNs = e.atNs;
    else if (e.atNs - upNs > NEW_OVER_NS) originNs = e.atNs;
  }
  return originNs;
}

// ------------------------------------------------------------------ what happened

/** Instants of all rows that the list has or had for these events, however old. */
export function listedInstants(
  events: readonly BenchEvent[],
  context: SentenceContext,
): readonly number[] {
  return merged(draftsOf(events, context, events.length)).map((d) => d.atNs);
}

function draftsOf(
  past: readonly BenchEvent[],
  context: SentenceContext,
  most = EVENTS_READ,
): readonly Draft[] {
  const firstUps = firstUpPickups(past);
  const newest = openTrips(past);
  const said = new Set<string>();
  const from = Math.max(past.length - most, 0);
  const drafts = past.slice(from).flatMap((e, k): readonly Draft[] => {
    const i = from + k;
    const sentence = benchSentence(e, context);
    if (sentence === null || isSaid(e, said)) return [];
    const isOperate = e.kind === "protection" && e.event.kind === "operate";
    return [
      {
        ...sentence,
        key: `e${i}`,
        atNs: e.atNs,
        firstUp: firstUps.has(i),
        isNew: isOperate && e.event.role === "acting" && newest.has(e.event.monitorId),
      },
    ];
  });
  // Clearing is known only after it has lasted, and logged under the instant at which it began.
  return drafts.sort((a, b) => a.atNs - b.atNs);
}

/** Several criteria of one monitor that pick up or drop off at one scan are one row. */
function isSaid(e: BenchEvent, said: Set<string>): boolean {
  if (e.kind !== "protection") return false;
  const key = `${e.event.kind} ${e.event.monitorId} ${e.atNs}`;
  if (said.has(key)) return true;
  said.add(key);
  return false;
}

/** Index of the pickup that led to each first trip. */
function firstUpPickups(past: readonly BenchEvent[]): ReadonlySet<number> {
  const found = new Set<number>();
  const pickups = new Map<string, number>();
  for (const [i, e] of past.entries()) {
    if (e.kind !== "protection") continue;
    const { kind, monitorId, firstUp } = e.event;
    if (kind === "pickup" && !pickups.has(monitorId)) pickups.set(monitorId, i);
    else if (kind === "dropOff") pickups.delete(monitorId);
    else if (kind === "trip" && firstUp) found.add(pickups.get(monitorId) ?? i);
  }
  return found;
}

/** Monitors that tripped and have been neither acknowledged nor reset. */
function openTrips(past: readonly BenchEvent[]): ReadonlySet<string> {
  const open = new Set<string>();
  for (const e of past) {
    if (e.kind !== "protection") continue;
    const { kind, monitorId } = e.event;
    if (kind === "trip") open.add(monitorId);
    else if (kind === "acknowledge" || kind === "reset" || kind === "selfReset")
      open.delete(monitorId);
  }
  return open;
}

/** Knob movements as one row each, long runs of keying counted. */
function merged(drafts: readonly Draft[]): readonly Draft[] {
  const rows: Draft[] = [];
  let run: Draft[] = [];
  const closeRun = (): void => {
    rows.push(...keyingRows(run));
    run = [];
  };
  for (const draft of drafts) {
    if (draft.noise === "keying") {
      run.push(draft);
      continue;
    }
    closeRun();
    const last = rows[rows.length - 1];
    const isSameMove =
      draft.noise !== "" &&
      last !== undefined &&
      last.noise === draft.noise &&
      draft.atNs - last.atNs < ONE_MOVE_NS;
    if (isSameMove) rows.pop();
    rows.push(draft);
  }
  closeRun();
  return rows;
}

function keyingRows(run: readonly Draft[]): readonly Draft[] {
  if (run.length <= MANY_KEYINGS) return run;
  const last = run[run.length - 1] as Draft;
  const first = run[0] as Draft;
  const count = run.filter((d) => d.isKeyDown).length;
  const text = `Keying, ${count} key-downs`;
  return [first, { ...last, key: `${last.key}-keying`, sentence: [{ text }], mark: "change" }];
}

// ------------------------------------------------------------------ what is ahead

function aheadDraft(key: string, atNs: number, text: string): Draft {
  return {
    key,
    atNs,
    mark: "due",
    sentence: [{ text }],
    noise: "",
    isKeyDown: false,
    firstUp: false,
    isNew: false,
  };
}

/** Actuators that trips before now have commanded and that have not acted yet. */
function dueActuators(input: EventRowsInput, past: readonly BenchEvent[]): readonly Draft[] {
  const { events, project, failures, playNs } = input;
  const due = new Map<string, Draft>();
  for (const e of past) {
    if (e.kind !== "protection" || e.event.kind !== "trip") continue;
    for (const step of actuatorSteps(e.event.actions, project.actuators, failures)) {
      const acted = events.find(
        (a) => a.kind === "actuator" && a.actuator === step.actuator && a.atNs >= e.atNs,
      );
      if (acted !== undefined && acted.atNs <= playNs) continue;
      const atNs = acted?.atNs ?? e.atNs + step.delayNs;
      // A release that waits for the output to fall has no certain instant; one that is past is not announced.
      if (!step.works || atNs <= playNs || due.has(step.actuator)) continue;
      const text = `${upperFirst(STEP_WORDS[step.actuator])} due`;
      due.set(step.actuator, aheadDraft(`due-${step.actuator}-${e.atNs}`, atNs, text));
    }
  }
  return [...due.values()];
}

const MILESTONE_AHEAD = {
  meltOnset: "melt onset",
  halfMilligram: "500 µg molten",
  bead: "a bead to be seen",
  bridged: "gap bridged",
  damage: "damage",
} as const;

/** Milestones of the run left alone, ahead and behind, that this run has not come to. */
function leftAlone(
  { aloneEvents, zeroNs, playNs }: EventRowsInput,
  past: readonly BenchEvent[],
): readonly Draft[] {
  if (zeroNs === null || zeroNs > playNs) return [];
  const reached = new Set(
    past.flatMap((e) =>
      e.kind === "milestone" && e.edge === "nominal" && e.atNs >= zeroNs
        ? [`${e.milestone} ${e.part}`]
        : [],
    ),
  );
  return aloneEvents.flatMap((e, i) => {
    if (e.kind !== "milestone" || e.edge !== "nominal") return [];
    if (reached.has(`${e.milestone} ${e.part}`)) return [];
    const text = `Left alone: ${MILESTONE_AHEAD[e.milestone]}, ${DAMAGE_WORDS[e.part]}`;
    return [{ ...aheadDraft(`alone-${i}`, e.atNs, text), leftAlone: true }];
  });
}
