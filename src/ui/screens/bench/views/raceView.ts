/**
 * The race as the bench shows it: one fault, protected and left alone, up to the play head and beyond it.
 *
 * Live: what happened up to the play head is solid, what comes later hollow. Forecast: everything is hollow. Without
 * either: monitors and parts at rest. Every word leaves here finished.
 */
import { FAULTS } from "../../../../project/faults";
import type { ActuatorName, MonitorDef } from "../../../../project/protection";
import type { Project } from "../../../../project/types";
import {
  type ActuatorFailures,
  type ActuatorStep,
  actuatorSteps,
} from "../../../../protection/actuators/schedule";
import type { ClockReading, ForecastReport, RaceReport } from "../../../../shells/bench/protocol";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import type { ExpectedGain } from "../../../../simulation/gainTable";
import type {
  DamageLane,
  RaceMark,
  RaceOperator,
  RaceSpine,
  RaceView,
} from "../../../instruments/race/raceView";
import { restingLanes } from "./clockLanes";
import type { ActuatorTime, Clearing, Ending } from "./laneState";
import type { Course, LaneSource, Mode } from "./laneTypes";
import { speaksOffAir } from "./offAir";
import { damageLanesOf } from "./raceDamage";
import { coursesOf, lanesOf, leadingOf } from "./raceLanes";
import { forecastNote, liveNote, noMarginWord, summaryOf } from "./raceWords";
import { STEP_WORDS } from "./words";

/** Margin asked for against the nominal onset. */
export const MARGIN_REQUIRED = 3;
/** A person's reaction scatters by a fifth to either side: 2 to 3 s round 2.5 s. */
const OPERATOR_BAND = 0.2;

export interface RaceViewInput {
  /** The race under way or last run; null to show the forecast. */
  readonly report: RaceReport | null;
  readonly forecast: ForecastReport | null;
  readonly project: Project;
  /** Monitors as they are set now. */
  readonly monitors: readonly MonitorDef[];
  readonly mode: Mode;
  readonly failures: ActuatorFailures;
  readonly playNs: number;
  /** Everything logged from t = 0 on, later than the play head included. */
  readonly events: readonly BenchEvent[];
  /** Recorded row at the play head, in the order of CHANNEL_NAMES. */
  readonly row: Float64Array | null;
  /** Clocks at the play head, in the order of CLOCK_PARTS. */
  readonly clocks: readonly ClockReading[];
  /** Null: gain is held against the gain before the fault. */
  readonly expectedGain: ExpectedGain | null;
  /** Why the bench is off the air, in words; empty on the air. */
  readonly offAir: string;
}

/** The race of the report, else of the forecast, else of a bench at rest. */
export function raceViewOf(input: RaceViewInput): RaceView {
  const { report, forecast, playNs } = input;
  if (report !== null) {
    return struckView(input, report, (playNs - report.zero.atNs) / 1e9, input.events);
  }
  const isMute = input.offAir !== "" && forecast !== null && !speaksOffAir(forecast.choice.fault);
  if (forecast !== null && forecast.report !== null && !isMute)
    return struckView(input, forecast.report, null, forecast.actingEvents);
  return restingView(input);
}

function operatorOf(project: Project, onsetS: number | null): RaceOperator {
  const nominalS = project.operatorS;
  const tidy = (value: number): number => Number(value.toPrecision(3));
  return {
    earliestS: tidy(nominalS * (1 - OPERATOR_BAND)),
    latestS: tidy(nominalS * (1 + OPERATOR_BAND)),
    nominalS,
    margin: onsetS === null ? null : onsetS / nominalS,
  };
}

function struckView(
  input: RaceViewInput,
  report: RaceReport,
  nowS: number | null,
  protectedEvents: readonly BenchEvent[],
): RaceView {
  const { zero, race } = report;
  const next = protectedEvents.find((e) => e.kind === "faultZero" && e.atNs > zero.atNs);
  const source: LaneSource = {
    monitors: input.monitors,
    mode: input.mode,
    nowS,
    zeroNs: zero.atNs,
    untilNs: next?.atNs ?? Number.POSITIVE_INFINITY,
    protectedEvents,
    aloneEvents: report.aloneEvents,
    aloneDone: report.aloneDone,
    armingEvents: input.events,
    before: report.before,
    track: report.alone,
    shown: report.acting,
    shownToNs: shownToNs(report, nowS, next?.atNs),
    expectedGain: input.expectedGain,
    struck: zero.struck !== null,
  };
  const courses = coursesOf(source);
  const leading = leadingOf(courses, race.firstTrip?.id ?? null);
  const clearing = clearingOf(input, report, leading, nowS);
  const arcOut = markOf(race.arcOutS, nowS);
  const ending: Ending = {
    arcOut,
    cleared: clearing,
    actuators: actuatorTimes(input, report, leading, clearing, nowS),
  };
  const monitors = lanesOf(source, courses, leading, ending);
  const damage = damageLanesOf({
    report,
    station: input.project.station,
    nowS,
    clearing,
    arcOut,
    protectedEvents,
  });
  const struck = damage.find((lane) => lane.tall) ?? null;
  const spine = spineOf(report, clearing, struck, courses, damage);
  const operator = operatorOf(input.project, spine.onsetS);
  const words = { report, source, courses, leading, spine, clearing, operator, damage };
  return {
    standing: nowS === null ? "forecast" : "live",
    title: "The race",
    note: nowS === null ? forecastNote(words, input.project) : liveNote(words, input.project),
    nowS,
    monitors,
    spine,
    operator,
    damage,
    summary: summaryOf(words),
  };
}

/** Readings of this race end at its clearing, at the next fault, and where the play head stands. */
function shownToNs(
  { zero, race }: RaceReport,
  nowS: number | null,
  nextNs = Number.POSITIVE_INFINITY,
): number {
  const endS = Math.min(
    race.clearingS ?? Number.POSITIVE_INFINITY,
    nowS ?? Number.POSITIVE_INFINITY,
  );
  return Math.min(endS * 1e9, nextNs - zero.atNs);
}

function markOf(atS: number | null, nowS: number | null): RaceMark | null {
  return atS === null ? null : { atS, happened: nowS !== null && atS <= nowS };
}

/** When the fault is over: as it happened, else when the leading monitor's own actuators are due, while that is ahead. */
function clearingOf(
  input: RaceViewInput,
  { race }: RaceReport,
  leading: Course | null,
  nowS: number | null,
): Clearing | null {
  const known = markOf(race.clearingS, nowS);
  if (known !== null) return { ...known, due: null };
  if (leading === null || leading.role !== "acting") return null;
  const promised = race.monitors.find((m) => m.id === leading.def.id)?.clearingS ?? null;
  const due = firstToEnd(input, leading.def);
  if (promised === null || due === null || promised <= (nowS ?? 0)) return null;
  return { atS: promised, happened: false, due };
}

/** The first of a monitor's actuators that may end a fault; null when none of them works. */
function firstToEnd({ project, failures }: RaceViewInput, def: MonitorDef): ActuatorName | null {
  return (
    actuatorSteps(def.actions, project.actuators, failures)
      .filter((step) => step.works && step.actuator !== "transmitReceive")
      .reduce<ActuatorStep | null>((a, b) => (a === null || b.delayNs < a.delayNs ? b : a), null)
      ?.actuator ?? null
  );
}

/** The leading monitor's actuators: those that acted, then those that are due. */
function actuatorTimes(
  input: RaceViewInput,
  { race }: RaceReport,
  leading: Course | null,
  clearing: RaceMark | null,
  nowS: number | null,
): readonly ActuatorTime[] {
  if (leading === null || leading.role !== "acting" || leading.operate === null) return [];
  const commandS = leading.operate.atS;
  return actuatorSteps(leading.def.actions, input.project.actuators, input.failures)
    .map((step): ActuatorTime => {
      const known = race.actuators.find((a) => a.actuator === step.actuator && a.atS >= commandS);
      if (known !== undefined) {
        const happened = nowS !== null && known.atS <= nowS;
        return {
          actuator: step.actuator,
          atS: known.atS,
          works: known.effect === "acted",
          happened,
        };
      }
      const fromS = step.wait === null ? commandS : Math.max(commandS, clearing?.atS ?? 0);
      const atS = fromS + step.delayNs / 1e9;
      return { actuator: step.actuator, atS, works: step.works, happened: false };
    })
    .sort((a, b) => a.atS - b.atS);
}

function spineOf(
  report: RaceReport,
  clearing: Clearing | null,
  struck: DamageLane | null,
  courses: readonly Course[],
  damage: readonly DamageLane[],
): RaceSpine {
  const over = (onsetS: number | null): number | null =>
    onsetS === null || clearing === null || clearing.atS <= 0 ? null : onsetS / clearing.atS;
  const onsetS = struck?.onsetS ?? null;
  const onsetEarlyS = struck?.onsetEarlyS ?? null;
  const margin = over(onsetS);
  return {
    clearingS: clearing?.atS ?? null,
    clearingHappened: clearing?.happened ?? false,
    clearingWord: clearingWordOf(report, clearing),
    onsetEarlyS,
    onsetS,
    onsetLateS: struck?.onsetLateS ?? null,
    margin,
    marginEarly: over(onsetEarlyS),
    marginRequired: MARGIN_REQUIRED,
    noMarginWord: margin === null ? noMarginWord(report, clearing, courses, damage) : "",
  };
}

/** What the clearing time is: what is due, how it will be, the work of a trip, or of whoever lifted the key. */
function clearingWordOf({ race }: RaceReport, clearing: Clearing | null): string {
  if (clearing === null) return "";
  if (clearing.due !== null) return `${STEP_WORDS[clearing.due]} due at`;
  if (!clearing.happened) return "would clear at";
  return race.firstTrip === null ? "cleared by hand at" : "cleared at";
}

// ------------------------------------------------------------------ at rest

function restingView(input: RaceViewInput): RaceView {
  const { forecast, project, playNs } = input;
  const source: LaneSource = {
    monitors: input.monitors,
    mode: input.mode,
    nowS: null,
    zeroNs: playNs,
    untilNs: Number.POSITIVE_INFINITY,
    protectedEvents: [],
    aloneEvents: [],
    aloneDone: true,
    armingEvents: input.events,
    before: input.row,
    track: null,
    shown: null,
    shownToNs: 0,
    expectedGain: input.expectedGain,
    struck: false,
  };
  const courses = coursesOf(source);
  const { note, word } = restingWords(forecast, input.offAir);
  return {
    standing: "forecast",
    title: "The race",
    note,
    nowS: null,
    monitors: lanesOf(source, courses, null, { arcOut: null, cleared: null, actuators: [] }),
    spine: {
      clearingS: null,
      clearingHappened: false,
      clearingWord: "",
      onsetEarlyS: null,
      onsetS: null,
      onsetLateS: null,
      margin: null,
      marginEarly: null,
      marginRequired: MARGIN_REQUIRED,
      noMarginWord: word,
    },
    operator: operatorOf(project, null),
    damage: restingLanes(project.station, input.row, input.clocks),
    summary: `${note.charAt(0).toUpperCase()}${note.slice(1)}: ${word}.`,
  };
}

function restingWords(
  forecast: ForecastReport | null,
  offAir: string,
): {
  readonly note: string;
  readonly word: string;
} {
  if (forecast === null && offAir !== "")
    return { note: "forecast for the chosen fault", word: offAir };
  if (forecast === null) return { note: "no fault chosen", word: "choose a fault to see its race" };
  const name = FAULTS[forecast.choice.fault].name;
  const note = `forecast for the chosen fault: ${name.charAt(0).toLowerCase()}${name.slice(1)}`;
  if (offAir !== "" && forecast.standing !== "latent" && !speaksOffAir(forecast.choice.fault))
    return { note, word: offAir };
  switch (forecast.standing) {
    case "latent":
      return { note, word: "shows only at the next trip" };
    case "noStrike":
      return {
        note,
        word:
          FAULTS[forecast.choice.fault].begins === "withDrive"
            ? "shows only at the next key-down"
            : "the gap holds, nothing strikes",
      };
    default:
      return { note, word: "the forecast is being worked out" };
  }
}
