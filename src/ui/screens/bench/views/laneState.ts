/** What a protection lane says: the word at the right, and the sentence of the leading lane. */
import type { ActuatorName } from "../../../../project/protection";
import type { ProtectionEventKind } from "../../../../protection/events";
import { formatTime, timeParts } from "../../../../units/format";
import type { RichText } from "../../../instruments/drawing/shapes";
import type { RaceMark } from "../../../instruments/race/raceView";
import type { MarkName } from "../../../instruments/state/stateWord";
import type { Course, LaneSource } from "./laneTypes";
import { ACTED_WORDS, STEP_WORDS } from "./words";

/** An actuator of the race: when it acted or is due, and whether that is past. */
export interface ActuatorTime {
  readonly actuator: ActuatorName;
  readonly atS: number;
  readonly works: boolean;
  readonly happened: boolean;
}

/** When the fault is over; while nobody can know that yet, when the first actuator that may end it is due. */
export interface Clearing extends RaceMark {
  readonly due: ActuatorName | null;
}

/** What the leading lane needs to know beyond its own course. */
export interface Ending {
  readonly arcOut: RaceMark | null;
  readonly cleared: Clearing | null;
  readonly actuators: readonly ActuatorTime[];
}

/** A reset is shown as such for so long, then the monitor is simply there again. */
const RESET_SHOWN_NS = 2e9;
// ------------------------------------------------------------------ state at the right

export interface LaneState {
  readonly state: MarkName;
  readonly stateWord: string;
  readonly stateNote: string;
}

export function stateOf(source: LaneSource, course: Course): LaneState {
  const { operate, role, def } = course;
  const say = (word: MarkName, note = ""): LaneState => ({
    state: word,
    stateWord: word,
    stateNote: note,
  });
  if (role === "off") return say("off");
  const wouldAt = operate === null ? "" : formatTime(operate.atS);
  if (role === "shadow") return say("shadow", wouldAt);
  const own = ownState(source, def.id);
  if (own !== null) return say(own.word, own.note);
  if (!course.armed && course.pickup === null) return say("not armed");
  // one that acts may have its marks in the run left alone: here the fault was over before its time
  return say("no pickup");
}

/** The word of the latest event of this monitor up to the play head; null where nothing has happened to it. */
function ownState(
  source: LaneSource,
  id: string,
): { readonly word: MarkName; readonly note: string } | null {
  const { nowS, zeroNs, untilNs } = source;
  if (nowS === null) return null;
  const nowNs = zeroNs + nowS * 1e9;
  let word: MarkName | null = null;
  let atNs = zeroNs;
  let latched = false;
  for (const e of source.protectedEvents) {
    if (e.kind !== "protection" || e.event.monitorId !== id) continue;
    if (e.atNs < zeroNs || e.atNs >= untilNs || e.atNs > nowNs) continue;
    const next = wordAfter(e.event.kind, latched);
    if (next === null) continue;
    latched = next === "trip" || next === "lockout" || next === "acknowledged";
    if (next !== "acknowledged") atNs = e.atNs;
    word = next;
  }
  if (word === null) return null;
  if (word === "reset" && nowNs - atNs > RESET_SHOWN_NS) return { word: "no pickup", note: "" };
  return { word, note: formatTime((atNs - zeroNs) / 1e9) };
}

function wordAfter(kind: ProtectionEventKind, latched: boolean): MarkName | null {
  switch (kind) {
    case "trip":
    case "lockout":
    case "reset":
      return kind;
    case "selfReset":
      return "reset";
    case "acknowledge":
      return "acknowledged";
    default:
      break;
  }
  if (latched) return null;
  switch (kind) {
    case "pickup":
    case "alarm":
    case "operate":
      return kind;
    case "dropOff":
    case "alarmDropOff":
      return "drop-off";
    case "notArmed":
      return "not armed";
    default:
      return null;
  }
}

// ------------------------------------------------------------------ words of the leading lane

/** Instants of one sentence, the unit once where it is the same for all. */
function timesWords(items: readonly { readonly text: string; readonly atS: number }[]): RichText {
  const units = items.map((item) => timeParts(item.atS).unit);
  const isOneUnit = new Set(units).size === 1;
  return items.flatMap((item, i) => {
    const isLast = i === items.length - 1;
    const number = timeParts(item.atS).number;
    return [
      { text: `${i === 0 ? "" : ", "}${item.text} ` },
      { text: isOneUnit && !isLast ? number : formatTime(item.atS), strong: true },
    ];
  });
}

export function leadingWords(course: Course, ending: Ending): RichText {
  const { operate, role } = course;
  if (operate === null) return [];
  if (role === "shadow") {
    return [
      ...timesWords([{ text: "would have operated", atS: operate.atS }]),
      { text: ", in shadow: never acts" },
    ];
  }
  const items = [{ text: operate.happened ? "operate" : "would operate", atS: operate.atS }];
  const first = ending.actuators.find((a) => a.works && a.actuator !== "transmitReceive");
  if (first !== undefined) {
    const isDue = operate.happened && !first.happened;
    const text = isDue ? `${STEP_WORDS[first.actuator]} due` : ACTED_WORDS[first.actuator];
    items.push({ text, atS: first.atS });
  }
  if (ending.arcOut !== null) items.push({ text: "arc out", atS: ending.arcOut.atS });
  else if (ending.cleared !== null && ending.cleared.due === null)
    items.push({ text: "clear", atS: ending.cleared.atS });
  return timesWords(items);
}

export function leadingSubWords({ role }: Course, { actuators }: Ending): string {
  if (role !== "acting" || actuators.length === 0) return "";
  const units = new Set(actuators.map((a) => timeParts(a.atS).unit));
  const list = actuators.map((a, i) => {
    const time =
      units.size === 1 && i < actuators.length - 1 ? timeParts(a.atS).number : formatTime(a.atS);
    if (!a.works) return `${STEP_WORDS[a.actuator]} fails`;
    return a.happened
      ? `${ACTED_WORDS[a.actuator]} ${time}`
      : `${STEP_WORDS[a.actuator]} due ${time}`;
  });
  return `trip: ${list.join(", ")}`;
}
