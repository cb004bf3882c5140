/** What each command of a person or a scenario does to the logic, and why it may be refused. */
import { ARC_PLACES } from "../physics/stage/layout";
import { arcPlaceOf } from "../project/arcPlaceOf";
import { FAULTS, faultFits, onsetFits } from "../project/faults";
import { keyText } from "../project/morse";
import type { Command, ControlName, FaultName, Onset, PartName } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import type { Project } from "../project/types";
import { nanoseconds } from "../units/nanoseconds";
import type { BenchEvent } from "./benchEvent";
import {
  type Logic,
  milestoneKey,
  type PlacedFault,
  rampAt,
  whyNotReady,
  withEntry,
} from "./logic";
import { setInterlock, setPower } from "./power";
import { patternSeed, presenceOf } from "./presence";
import {
  type Change,
  keyDown,
  keyUp,
  onsetSteps,
  setOperate,
  startsOwnRace,
  unchanged,
} from "./sequencer";
import { clearedMemory, isEmptyMemory } from "./tripMemory";
import { EDGE_VARIANTS } from "./worldLayout";

/** What a command leaves for the protection, which is not the logic's business. */
export type ProtectionCommand = Extract<
  Command,
  { do: "acknowledge" | "reset" | "configureMonitor" }
>;

export interface CommandChange extends Change {
  /** Further commands it stands for (Morse text becomes keying). */
  readonly expands: readonly { readonly atNs: number; readonly command: Command }[];
  /** In words; empty when it was carried out. */
  readonly refused: string;
  readonly protection: ProtectionCommand | null;
}

function done(change: Change): CommandChange {
  return { ...change, expands: [], refused: "", protection: null };
}

function refuse(logic: Logic, refused: string): CommandChange {
  return { ...done(unchanged(logic)), refused };
}

/** Carries a command out at `ns`. */
export function runCommand(
  project: Project,
  logic: Logic,
  command: Command,
  ns: number,
): CommandChange {
  switch (command.do) {
    case "set": {
      if (isLoadKnob(command.control) && project.station.load.kind === "antenna")
        return refuse(logic, ANTENNA_HAS_NO_KNOB);
      const ramp = logic.controls[command.control];
      const controls = {
        ...logic.controls,
        [command.control]: { from: rampAt(ramp, ns), to: command.value, startNs: ns },
      };
      return done(unchanged({ ...logic, controls }));
    }
    case "key":
      if ("text" in command) return keyed(logic, command.text, command.wordsPerMinute, ns);
      return done(command.down ? keyDown(project, logic, ns) : keyUp(project, logic, ns));
    case "signal": {
      const { do: _, ...signal } = command;
      // under key this is a step of the drive
      return done({ ...unchanged({ ...logic, signal, signalFromNs: ns }), jumps: logic.keyDown });
    }
    case "operate": {
      const why = whyNotReady(logic, ns);
      return why === "" ? done(setOperate(project, logic, true, ns)) : refuse(logic, why);
    }
    case "standby":
      return done(setOperate(project, logic, false, ns));
    case "power":
      if (command.on === logic.power.on)
        return refuse(logic, `the power is ${command.on ? "on" : "off"} already`);
      return done(setPower(project, logic, command.on, ns));
    case "interlock":
      return done(setInterlock(project, logic, command.which, command.closed, ns));
    case "mode":
      // under key this is a step of the drive
      return done({ ...unchanged({ ...logic, mode: command.mode }), jumps: logic.keyDown });
    case "placeFault":
      return placed(project, logic, command, ns);
    case "removeFault":
      return logic.faults.some((f) => f.fault === command.fault && f.part === command.part) ||
        isBridged(logic, command.part)
        ? done(removeFault(logic, command.fault, command.part, ns))
        : refuse(logic, `${FAULTS[command.fault].name} is not there`);
    case "clearTripMemory":
      if (isEmptyMemory(logic.memory)) return refuse(logic, "the trip memory is empty");
      return done(unchanged({ ...logic, memory: clearedMemory(logic.memory) }));
    case "acknowledge":
    case "reset":
    case "configureMonitor":
      return { ...done(unchanged(logic)), protection: command };
  }
}

/** SWR and phase are a plain load's; what an antenna shows follows from its line and its resonance. */
const ANTENNA_HAS_NO_KNOB =
  "the load is an antenna behind a line: place ice, sway or another antenna on it, or give the station a plain load";

function isLoadKnob(control: ControlName): boolean {
  return control === "loadSwr" || control === "loadPhaseRad";
}

function keyed(logic: Logic, text: string, wordsPerMinute: number, ns: number): CommandChange {
  const morse = keyText(text, wordsPerMinute);
  if (!morse.ok) return refuse(logic, morse.problems.join("; "));
  let atNs = ns;
  const expands = morse.elements.flatMap((e) => {
    const downNs = atNs;
    const upNs = downNs + nanoseconds(e.downS);
    atNs = upNs + nanoseconds(e.upS);
    return [
      { atNs: downNs, command: { do: "key", down: true } as const },
      { atNs: upNs, command: { do: "key", down: false } as const },
    ];
  });
  return { ...done(unchanged(logic)), expands };
}

type Placing = Extract<Command, { do: "placeFault" }>;

const SUDDEN: Onset = { kind: "sudden" };

/** A fault that fits and changes something is placed; any other is refused. */
function placed(project: Project, logic: Logic, command: Placing, ns: number): CommandChange {
  const { fault, part, severity, onset = FAULTS[command.fault].usualOnset ?? SUDDEN } = command;
  const { name } = FAULTS[fault];
  if (!faultFits(fault, part)) return refuse(logic, `${name} cannot be placed on this part`);
  if (!onsetFits(fault, onset)) return refuse(logic, `${name} cannot come in this way`);
  const there = logic.faults.find((f) => f.fault === fault && f.part === part);
  if (there !== undefined && there.severity === severity && sameOnset(there.onset, onset))
    return refuse(logic, `${name} is there already, as severe`);
  const place = arcPlaceOf(part);
  const isBurning = place !== null && (logic.arcSinceNs[ARC_PLACES.indexOf(place)] as number) >= 0;
  if (fault === "insect" && isBurning)
    return refuse(logic, `${name}: an arc burns in this gap; wait until it is out`);
  if (fault === "insect" && isBridged(logic, part))
    return refuse(
      logic,
      `${name}: metal bridges this gap; remove the fault there to have it mended`,
    );
  const seed = patternSeed(fault, project.seed);
  const f: PlacedFault = { fault, part, severity, onset, seed, placedNs: ns, began: false };
  return done(placeFault(logic, f, ns));
}

function sameOnset(a: Onset, b: Onset): boolean {
  if (a.kind === "growing") return b.kind === "growing" && a.overS === b.overS;
  if (a.kind === "passing") return b.kind === "passing" && a.forS === b.forS;
  if (a.kind === "intermittent") return b.kind === "intermittent" && a.share === b.share;
  return b.kind === "sudden";
}

function placeFault(logic: Logic, placing: PlacedFault, ns: number): Change {
  const { fault, part } = placing;
  const others = logic.faults.filter((f) => f.fault !== fault || f.part !== part);
  // a growing fault is there from the start, however little
  const isThere = placing.onset.kind === "growing" || presenceOf(placing, ns) > 0;
  const begins = startsOwnRace(placing) && isThere;
  const f = { ...placing, began: begins };
  const events: BenchEvent[] = begins
    ? [{ kind: "faultZero", atNs: ns, fault, part, struck: null }]
    : [];
  const isBeside = (name: FaultName) => others.some((other) => other.fault === name);
  if (
    (fault === "blockingShorted" && isBeside("safetyChokeOpen")) ||
    (fault === "safetyChokeOpen" && isBeside("blockingShorted"))
  )
    events.push({ kind: "supply", atNs: ns, news: "antennaLive" });
  return {
    logic: {
      ...logic,
      faults: [...others, f],
      failures: failuresWith(logic, fault, placing.severity),
      dcArcsOut: logic.dcArcsOut.filter((out) => out !== fault),
    },
    later: onsetSteps(f, ns),
    events,
    // an open safety choke changes the circuit of a shorted blocking capacitor
    jumps: !FAULTS[fault].latent || fault === "safetyChokeOpen" || fault === "bleederOpen",
  };
}

function removeFault(logic: Logic, fault: FaultName, part: PartName, ns: number): Change {
  const faults = logic.faults.filter((f) => f.fault !== fault || f.part !== part);
  let next: Logic = { ...logic, faults, failures: failuresWith(logic, fault, 0) };
  const events: BenchEvent[] = [];
  const here = arcPlaceOf(part);
  for (const place of ARC_PLACES) {
    const a = ARC_PLACES.indexOf(place);
    // a clean gap that was bridged has no fault of its own: whoever removes the last one mends it too
    const isMended = place === here || faults.length === 0;
    if (!isMended || (logic.bridgedSinceNs[a] as number) < 0) continue;
    next = mended(next, place);
    events.push({ kind: "mended", atNs: ns, place });
  }
  return { logic: next, later: [], events, jumps: true };
}

/** The bead is taken off and the gap is open again; what was lost of the plates stays lost. */
function mended(logic: Logic, place: ArcPlace): Logic {
  const a = ARC_PLACES.indexOf(place);
  const marks = EDGE_VARIANTS.map((edge) => milestoneKey(place, "bridged", edge));
  return {
    ...logic,
    bridgedSinceNs: withEntry(logic.bridgedSinceNs, a, -1),
    beadRemoved: withEntry(logic.beadRemoved, a, true),
    milestones: logic.milestones.filter((key) => !marks.includes(key)),
  };
}

/** Metal lies across the gap of this part. */
function isBridged(logic: Logic, part: PartName): boolean {
  const place = arcPlaceOf(part);
  return place !== null && (logic.bridgedSinceNs[ARC_PLACES.indexOf(place)] as number) >= 0;
}

/** The actuators' failures with a fault of this severity, 0 for its removal. */
function failuresWith(logic: Logic, fault: FaultName, severity: number): Logic["failures"] {
  switch (fault) {
    case "contactorSlow":
      return { ...logic.failures, contactorSlowBy: severity === 0 ? 1 : severity };
    case "driveInhibitFailed":
    case "relayStuck":
    case "contactorOnly":
    case "contactorWelded":
    case "crowbarFails":
      return { ...logic.failures, [fault]: severity > 0 };
    default:
      return logic.failures;
  }
}
