/** The record, pace, clock and identity of the run, for every place that shows them. */
import { useLayoutEffect, useMemo, useRef } from "react";
import type { BenchEvent } from "../../../simulation/benchEvent";
import { PACES, paceText } from "../../../state/pace";
import { offsetText, raceAt } from "../../../state/playbackState";
import { figuresToShow, formatNumber, formatTime, timeParts } from "../../../units/format";
import { recordKnots } from "../../instruments/time/recordScale";
import type {
  RecordEvent,
  TimeBarActions,
  TimeBarFrame,
  TimeBarView,
} from "../../instruments/time/timeView";
import { useBench, useFrames, useFrameTurn, usePlayback } from "./benchContext";
import { stepToEvent } from "./eventSteps";

export interface TimeBarParts {
  readonly view: TimeBarView;
  readonly initial: TimeBarFrame;
  readonly actions: TimeBarActions;
}

function markOf(e: BenchEvent): RecordEvent["mark"] | null {
  switch (e.kind) {
    case "strike":
      return "strike";
    case "protection":
      switch (e.event.kind) {
        case "pickup":
          return "pickup";
        case "operate":
          return e.event.role === "shadow" ? "shadow" : "operate";
        case "trip":
          return "trip";
        case "lockout":
          return "lockout";
        case "reset":
        case "selfReset":
          return "reset";
        default:
          return null;
      }
    case "command":
      return e.command.do === "placeFault" || e.command.do === "key" ? "change" : null;
    default:
      return null;
  }
}

/** Marks on the record: the newest ones, no more than can be told apart. */
const MOST_MARKS = 40;

/** Everything of the time bar but its drawing; `draw` gets the clock ten times a second. */
export function useTimeBar(draw: (frame: TimeBarFrame) => void): TimeBarParts {
  const { playback } = useBench();
  const running = usePlayback((s) => s.running);
  const mode = usePlayback((s) => s.mode);
  const pace = usePlayback((s) => s.pace);
  const lensOn = usePlayback((s) => s.lensOn);
  const events = usePlayback((s) => s.events);
  const project = usePlayback((s) => s.project);
  const zeroNs = usePlayback((s) => raceAt(s.races, s.playNs)?.zero.atNs ?? 0);
  const struck = usePlayback((s) => raceAt(s.races, s.playNs) !== null);
  useFrameTurn(2);
  const state = playback.store.getState();
  const marks = useMemo(() => {
    const out: RecordEvent[] = [];
    events.forEach((e, i) => {
      const mark = markOf(e);
      if (mark !== null) out.push({ key: String(i), atS: (e.atNs - zeroNs) / 1e9, mark });
    });
    return out.slice(-MOST_MARKS);
  }, [events, zeroNs]);
  useFrames((figures) => {
    if (figures) draw(clockOf(playback.store.getState(), zeroNs, struck));
  });
  // while time stands no frame follows: a clock drawn before its zero came is drawn again with it
  const latest = useRef(draw);
  useLayoutEffect(() => {
    latest.current = draw;
  });
  useLayoutEffect(
    () => latest.current(clockOf(playback.store.getState(), zeroNs, struck)),
    [playback, zeroNs, struck],
  );
  const fromS = -zeroNs / 1e9;
  const toS = Math.max((state.headNs - zeroNs) / 1e9, 1e-6);
  const knots = recordKnots(fromS, toS, struck);
  const lensTo = Math.min(10, toS);
  const view: TimeBarView = {
    running,
    knots,
    ticks: ticksOf(knots, struck),
    events: marks,
    lensSpans: lensOn && struck ? [{ fromS: 0, toS: lensTo }] : [],
    lensOn,
    paceWord: paceText(state.rate),
    reachedWord: state.reachedRate === null ? "" : `reached ${formatTime(state.reachedRate)}`,
    canSlower: pace < PACES.length - 1,
    canFaster: pace > 0,
    identityWord: `seed ${project?.seed ?? "–"}`,
    live: mode === "live",
  };
  return {
    view,
    initial: clockOf(state, zeroNs, struck),
    actions: {
      onRun: playback.run,
      onPause: playback.pause,
      onStep: (by) => playback.step(by),
      onEvent: (direction) => stepToEvent(playback, direction),
      onLive: playback.goLive,
      onScrub: (atS) => playback.seek(Math.round(zeroNs + atS * 1e9)),
      onPace: playback.changePace,
      onLens: playback.setLens,
    },
  };
}

function ticksOf(
  knots: readonly { readonly atS: number; readonly fraction: number }[],
  struck: boolean,
): TimeBarView["ticks"] {
  const first = knots[0];
  const last = knots[knots.length - 1];
  if (first === undefined || last === undefined) return [];
  const ends = [first.atS, last.atS].map((atS) => ({ atS, word: tickWord(atS) }));
  return struck && first.atS < 0
    ? [ends[0] as (typeof ends)[0], { atS: 0, word: "0" }, ends[1] as (typeof ends)[0]]
    : ends;
}

function tickWord(atS: number): string {
  return atS === 0 ? "0" : formatTime(atS, 2);
}

interface Clocked {
  readonly playNs: number;
  readonly sampleNs: number;
  readonly headNs: number;
  readonly mode: "live" | "back";
  readonly running: boolean;
  readonly replaying: boolean;
}

/** Four figures while time runs, so that the width stands still; where it stands, as many as show the step of one sample. */
function clockOf(state: Clocked, zeroNs: number, struck: boolean): TimeBarFrame {
  const headS = (state.playNs - zeroNs) / 1e9;
  const figures = state.running ? 4 : Math.max(4, figuresToShow(headS, state.sampleNs / 1e9));
  const parts =
    Math.abs(headS) < 1e-9
      ? { number: formatNumber(0), unit: "s" }
      : timeParts(headS, figures, undefined, struck);
  const from = struck ? "from the strike" : "from the start";
  const note =
    state.mode === "back"
      ? `${from}, ${offsetText(state)}`
      : state.replaying
        ? `${from}, the run is made again up to here`
        : `${state.running ? "running" : "paused"}, ${from}`;
  return { headS, clockNumber: parts.number, clockUnit: parts.unit, clockNote: note };
}
