/** What each command of a person or a scenario does to the logic, and why it may be refused. */
import { ARC_PLACES } from "../physics/stage/layout";
import { FAULTS, faultFits, onsetFits } from "../project/faults";
import { keyText } from "../project/morse";
import type { Command, FaultName, Onset, PartName } from "../project/scenario";
import type { Project } from "../project/types";
import { nanoseconds } from "../units/nanoseconds";
import type { BenchEvent } from "./benchEvent";
import { placeOf } from "./gaps";
import { type Logic, type PlacedFault, rampAt } from "./logic";
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
    case "operate":
      return done(setOperate(project, logic, true, ns));
    case "standby":
      return done(setOperate(project, logic, false, ns));
    case "mode":
      // under key this is a step of the drive
      return done({ ...unchanged({ ...logic, mode: command.mode }), jumps: logic.keyDown });
    case "placeFault":
      return placed(project, logic, command, ns);
    case "removeFault":
      return logic.faults.some((f) => f.fault === command.fault && f.part === command.part)
        ? done(removeFault(logic, command.fault, command.part))
        : refuse(logic, `${FAULTS[command.fault].name} is not there`);
    case "acknowledge":
    case "reset":
    case "configureMonitor":
      return { ...done(unchanged(logic)), protection: command };
  }
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
  const { fault, part, severity, onset = SUDDEN } = command;
  const { name } = FAULTS[fault];
  if (!faultFits(fault, part)) return refuse(logic, `${name} cannot be placed on this part`);
  if (!onsetFits(fault, onset)) return refuse(logic, `${name} cannot come in this way`);
  const there = logic.faults.find((f) => f.fault === fault && f.part === part);
  if (there !== undefined && there.severity === severity && sameOnset(there.onset, onset))
    return refuse(logic, `${name} is there already, as severe`);
  const place = placeOf(part);
  const isBurning = place !== null && (logic.arcSinceNs[ARC_PLACES.indexOf(place)] as number) >= 0;
  if (fault === "insect" && isBurning)
    return refuse(logic, `${name}: an arc burns in this gap; wait until it is out`);
  const seed = patternSeed(fault, project.seed);
  const f: PlacedFault = { fault, part, severity, onset, seed, placedNs: ns, began: false };
  return done(placeFault(logic, f, ns));
}

function sameOnset(a: Onset, b: Onset): boolean {
  if (a.kind === "growing") return b.kind === "growing" && a.overS === b.overS;
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
  return {
    logic: { ...logic, faults: [...others, f], failures: failuresWith(logic, fault, true) },
    later: onsetSteps(f, ns),
    events,
    jumps: !FAULTS[fault].latent,
  };
}

function removeFault(logic: Logic, fault: FaultName, part: PartName): Change {
  const faults = logic.faults.filter((f) => f.fault !== fault || f.part !== part);
  return {
    logic: { ...logic, faults, failures: failuresWith(logic, fault, false) },
    later: [],
    events: [],
    jumps: true,
  };
}

function failuresWith(logic: Logic, fault: FaultName, fails: boolean): Logic["failures"] {
  if (fault !== "driveInhibitFailed" && fault !== "relayStuck" && fault !== "contactorOnly") {
    return logic.failures;
  }
  return { ...logic.failures, [fault]: fails };
}
