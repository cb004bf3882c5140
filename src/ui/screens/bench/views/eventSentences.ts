/** One sentence for everything the bench logs, with its mark, and the short form that is read out. */

import { FAULTS } from "../../../../project/faults";
import type { MonitorDef } from "../../../../project/protection";
import type { Command, InterlockName, MonitorChange, Signal } from "../../../../project/scenario";
import { type ActuatorFailures, NO_FAILURES } from "../../../../protection/actuators/schedule";
import { KEY_DOWN_LIMIT_ID, type ProtectionEvent } from "../../../../protection/events";
import { formatReading } from "../../../../protection/quantityWords";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { formatQuantity, formatTime } from "../../../../units/format";
import type { RichText } from "../../../instruments/drawing/shapes";
import type { MarkName } from "../../../instruments/state/stateWord";
import { CONTROL_WORDS } from "./controlWords";
import {
  ACTED_WORDS,
  ACTUATOR_WORDS,
  DAMAGE_WORDS,
  deviationWords,
  faultWords,
  lowerFirst,
  PART_WORDS,
  PLACE_WORDS,
  RELEASED_WORDS,
  STEP_WORDS,
  SUPPLY_WORDS,
  upperFirst,
} from "./words";

export interface Sentence {
  readonly mark: MarkName;
  readonly sentence: RichText;
  /** Rows of one kind of noise merge: `keying`, or a knob's name. Empty: always a row of its own. */
  readonly noise: string;
  readonly isKeyDown: boolean;
}

export interface SentenceContext {
  readonly monitors: readonly MonitorDef[];
  readonly failures: ActuatorFailures;
}

function plain(mark: MarkName, text: string, noise = "", isKeyDown = false): Sentence {
  return { mark, sentence: [{ text }], noise, isKeyDown };
}

function stated(mark: MarkName, before: string, word: string, after = ""): Sentence {
  const sentence = [
    ...(before === "" ? [] : [{ text: `${before} ` }]),
    { text: word, strong: true },
    ...(after === "" ? [] : [{ text: after }]),
  ];
  return { mark, sentence, noise: "", isKeyDown: false };
}

/** The row of an event; null where another row says the same. */
export function benchSentence(e: BenchEvent, context: SentenceContext): Sentence | null {
  switch (e.kind) {
    case "command":
      return commandSentence(e.command, e.refused, context);
    case "faultZero":
      // A strike at the same instant says it better.
      return e.struck !== null ? null : plain("strike", upperFirst(faultWords(e.fault, e.part)));
    case "strike":
      return plain(
        "strike",
        `Strike, ${PLACE_WORDS[e.place]}, at ${formatQuantity(e.peakV, "V")} peak`,
      );
    case "arcOut":
      return plain(
        "change",
        `Arc out, ${formatQuantity(e.energyJ, "J")} in ${formatTime(e.burnedNs / 1e9)}`,
      );
    case "mended":
      return plain(
        "change",
        `${upperFirst(PLACE_WORDS[e.place])} mended: the metal across its gap is off`,
      );
    case "outsideArcLaw":
      return plain(
        "change",
        `Arc of ${formatQuantity(e.peakA, "A")} peak, ${PLACE_WORDS[e.place]}: its law holds from 0.1 to 2 A`,
      );
    case "actuator":
      return plain("change", actuatorWords(e.actuator, e.effect));
    case "sequence":
      return sequenceSentence(e.step);
    case "supply":
      return plain(e.news === "antennaLive" ? "alarm" : "change", SUPPLY_WORDS[e.news]);
    case "cleared":
      return plain("change", "Fault cleared");
    case "milestone":
      return milestoneSentence(e);
    case "protection":
      return protectionSentence(e.event, context);
  }
}

function actuatorWords(
  actuator: keyof typeof ACTED_WORDS,
  effect: "acted" | "released" | "failed",
): string {
  if (effect === "failed") return `${upperFirst(STEP_WORDS[actuator])} commanded, does not act`;
  return upperFirst(effect === "acted" ? ACTED_WORDS[actuator] : RELEASED_WORDS[actuator]);
}

function sequenceSentence(step: "transmit" | "receive" | "driveOn" | "driveOff"): Sentence {
  const words = {
    transmit: "T/R relay to transmit",
    receive: "T/R relay to receive",
    driveOn: "Drive on",
    driveOff: "Drive off",
  } as const;
  return plain("change", words[step], "keying");
}

/** Nominal marks, and the early edge of the melting: before it nothing can have melted. */
function milestoneSentence(e: Extract<BenchEvent, { kind: "milestone" }>): Sentence | null {
  const part = upperFirst(DAMAGE_WORDS[e.part]);
  if (e.edge === "early" && e.milestone === "meltOnset")
    return plain("change", `${part} may melt from here on, early edge`);
  if (e.edge !== "nominal") return null;
  const words = {
    meltOnset: "begins to melt",
    halfMilligram: "has 500 µg molten",
    bead: "carries a bead to be seen",
    bridged: "bridged by molten metal, a dead short",
    damage: "is damaged",
  } as const;
  return plain("change", `${part} ${words[e.milestone]}`);
}

// ------------------------------------------------------------------ commands

function commandSentence(
  command: Command,
  refused: string,
  context: SentenceContext,
): Sentence | null {
  const row = commandRow(command, context);
  if (refused === "") return row;
  return plain("change", `${row === null ? "Command" : textOf(row)} refused: ${refused}`);
}

function textOf({ sentence }: Sentence): string {
  return sentence.map((run) => run.text).join("");
}

function commandRow(command: Command, context: SentenceContext): Sentence | null {
  switch (command.do) {
    case "set": {
      const { words, value } = CONTROL_WORDS[command.control];
      return plain("change", `${words} set to ${value(command.value)}`, command.control);
    }
    case "key":
      if ("text" in command)
        return plain(
          "change",
          `Morse at ${command.wordsPerMinute} words a minute: ${command.text}`,
        );
      return plain("change", command.down ? "Key down" : "Key up", "keying", command.down);
    case "signal":
      return plain("change", `Exciter sends ${signalWords(command)}`);
    case "operate":
      return plain("change", "Set to operate");
    case "standby":
      return plain("change", "Set to standby");
    case "power":
      return plain("change", command.on ? "Power switched on" : "Power switched off");
    case "interlock":
      return plain("change", interlockWords(command.which, command.closed));
    case "mode":
      return plain("change", `${upperFirst(command.mode)} mode`);
    case "placeFault":
      return plain("change", placedWords(command, "placed"));
    case "removeFault":
      return plain("change", placedWords(command, "removed"));
    case "configureMonitor":
      return plain("change", configuredWords(command.monitor, command.change, context));
    // Protection answers with an event of its own for each monitor it concerns.
    case "clearTripMemory":
      return plain("change", "Trip memory cleared");
    case "acknowledge":
    case "reset":
      return null;
  }
}

function interlockWords(which: InterlockName, closed: boolean): string {
  if (which === "lid") return closed ? "Lid closed" : "Lid opened";
  return closed ? "Airflow back" : "Airflow lost";
}

function signalWords(signal: Signal): string {
  switch (signal.signal) {
    case "carrier":
      return "a carrier";
    case "twoTone":
      return `two tones ${formatQuantity(signal.spacingHz, "Hz")} apart`;
    case "speech":
      return `speech, talker ${signal.talker}`;
    case "processedSpeech":
      return `speech processed by ${signal.processingDb} dB, talker ${signal.talker}`;
    case "data":
      return `data at ${Math.round(100 * signal.powerShare)} % of the drive`;
  }
}

/** `Insect in the gap placed, tuning capacitor`. */
function placedWords(
  command: Extract<Command, { do: "placeFault" | "removeFault" }>,
  verb: "placed" | "removed",
): string {
  const { name, parts } = FAULTS[command.fault];
  const said =
    parts.length === 1
      ? `Fault ${verb}: ${lowerFirst(name)}`
      : `${name} ${verb}, ${PART_WORDS[command.part]}`;
  const onset = "onset" in command ? command.onset : undefined;
  if (onset?.kind === "growing") return `${said}, growing over ${formatTime(onset.overS)}`;
  if (onset?.kind === "passing") return `${said}, for ${formatTime(onset.forS)}`;
  return onset?.kind === "intermittent" ? `${said}, coming and going` : said;
}

function nameOf(id: string, { monitors }: SentenceContext): string {
  if (id === KEY_DOWN_LIMIT_ID) return "Key-down limit";
  return monitors.find((m) => m.id === id)?.name ?? id;
}

function configuredWords(id: string, change: MonitorChange, context: SentenceContext): string {
  const def = context.monitors.find((m) => m.id === id);
  const criterion = def?.criteria[change.criterion ?? 0];
  const parts: string[] = [];
  if (change.role !== undefined) parts.push(change.role);
  if (change.pickup !== undefined && criterion !== undefined)
    parts.push(
      `pickup ${criterion.quantity === "gainDeviationDb" ? deviationWords(change.pickup) : formatReading(criterion.quantity, change.pickup)}`,
    );
  if (change.delayS !== undefined) parts.push(`delay ${formatTime(change.delayS)}`);
  if (change.timing !== undefined) parts.push(`${change.timing.kind} timing`);
  return `${nameOf(id, context)} set to ${parts.length === 0 ? "the same" : parts.join(", ")}`;
}

// ------------------------------------------------------------------ protection

function protectionSentence(event: ProtectionEvent, context: SentenceContext): Sentence | null {
  const name = nameOf(event.monitorId, context);
  const isShadow = event.role === "shadow";
  const at = readingWords(event, context);
  switch (event.kind) {
    case "armed":
      return plain("change", `${name} armed`, "keying");
    case "notArmed":
      return { ...stated("not armed", name, "not armed"), noise: "keying" };
    case "pickup":
      return isShadow
        ? stated("shadow pickup", name, "pickup", `${at}, in shadow`)
        : stated("pickup", name, "pickup", at);
    case "dropOff":
      return stated("drop-off", name, "drop-off", event.reason === "" ? at : `: ${event.reason}`);
    case "alarm":
      return stated("alarm", name, "alarm", at);
    case "alarmDropOff":
      return stated("drop-off", `${name}, alarm`, "drop-off", at);
    case "operate":
      return isShadow
        ? stated("shadow", name, "shadow", ": would operate, never acts")
        : stated("operate", name, "operate", at);
    case "trip":
      return stated("trip", "", "Trip", `: ${actionWords(event, context)}`);
    case "lockout":
      return stated("lockout", name, "lockout", event.reason === "" ? "" : `: ${event.reason}`);
    case "selfReset":
      return stated("reset", name, "reset", ", by itself");
    case "reset":
      return stated("reset", name, "reset");
    case "resetRefused":
      return plain("change", `${name}, reset refused: ${event.reason}`);
    case "acknowledge":
      return stated("acknowledged", name, "acknowledged");
    case "configured":
      return null; // the command says what was set
    case "keyDownLimit":
      return stated("trip", "", "Trip", `: ${event.reason}`);
    case "keyDownLimitOver":
      return stated("reset", name, "reset", ", the key is open");
  }
}

function actionWords({ actions }: ProtectionEvent, { failures }: SentenceContext): string {
  if (failures.contactorOnly) return "contactor alone";
  return actions.length === 0
    ? "no action"
    : actions.map((action) => ACTUATOR_WORDS[action]).join(", ");
}

/**
 * The reading at the event, with what it is: `, 151 mA`; a thermal replica says that it is one, and what the monitor
 * smoothed that it did: the gauges show the reading before that.
 */
function readingWords(event: ProtectionEvent, { monitors }: SentenceContext): string {
  const { quantity, value } = event;
  if (quantity === null || value === null || !Number.isFinite(value)) return "";
  const def = monitors.find((m) => m.id === event.monitorId);
  const isImage = def?.criteria[event.criterion]?.timing.kind === "thermal";
  const smoothed = !isImage && def !== undefined && def.smoothingS > 0 ? "smoothed " : "";
  if (quantity === "gainDeviationDb") return `, ${smoothed}${deviationWords(value)}`;
  const what = isImage ? "thermal replica " : `${smoothed}${quantity === "vswr" ? "VSWR " : ""}`;
  return `, ${what}${formatReading(quantity, value)}`;
}

// ------------------------------------------------------------------ announcements

export interface Announcement {
  readonly key: string;
  readonly atNs: number;
  readonly sentence: string;
}

/** The announcements of a list of events, in their order; keys stay the same while the list grows. */
export function announcementsOf(
  events: readonly BenchEvent[],
  monitors: readonly MonitorDef[],
  failures: ActuatorFailures = NO_FAILURES,
): readonly Announcement[] {
  const context: SentenceContext = { monitors, failures };
  let zeroNs: number | null = null;
  return events.flatMap((e, i): readonly Announcement[] => {
    if (e.kind === "strike" || e.kind === "faultZero") zeroNs = e.atNs;
    const sentence = announced(e, zeroNs, context);
    return sentence === "" ? [] : [{ key: `a${i}-${e.atNs}`, atNs: e.atNs, sentence }];
  });
}

function announced(e: BenchEvent, zeroNs: number | null, context: SentenceContext): string {
  const after = zeroNs === null ? "" : ` ${formatTime((e.atNs - zeroNs) / 1e9)} after the fault`;
  if (e.kind === "strike") return `Strike at the ${PLACE_WORDS[e.place]}.`;
  if (e.kind === "faultZero") return e.struck === null ? `${FAULTS[e.fault].name}.` : "";
  if (e.kind === "cleared") return `Fault cleared${after}.`;
  if (e.kind === "supply" && e.news === "antennaLive") return `${SUPPLY_WORDS[e.news]}.`;
  if (e.kind !== "protection") return "";
  const name = nameOf(e.event.monitorId, context);
  switch (e.event.kind) {
    case "operate":
      return e.event.role === "acting" ? `${name} operate${after}.` : "";
    case "trip":
      return `Trip by ${lowerFirst(name)}${after}: ${actionWords(e.event, context)}.`;
    case "lockout":
      return `Lockout of ${lowerFirst(name)}: ${e.event.reason}. Remove the cause, then reset.`;
    case "reset":
      return `${name} reset.`;
    case "selfReset":
      return `${name} reset by itself.`;
    default:
      return "";
  }
}
