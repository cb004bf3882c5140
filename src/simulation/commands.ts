/** What each command of a person or a scenario does to the logic, and why it may be refused. */
import { ARC_PLACES } from "../physics/stage/layout";
import { FAULTS, faultFits } from "../project/faults";
import { keyText } from "../project/morse";
import type { Command, FaultName, PartName } from "../project/scenario";
import type { Project } from "../project/types";
import { nanoseconds } from "../units/nanoseconds";
import type { BenchEvent } from "./benchEvent";
import { placeOf } from "./gaps";
import { type Logic, rampAt } from "./logic";
import { type Change, keyDown, keyUp, setOperate, unchanged } from "./sequencer";

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
      return placed(logic, command.fault, command.part, command.severity, ns);
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

/** A fault that fits and changes something is placed; any other is refused. */
function placed(
  logic: Logic,
  fault: FaultName,
  part: PartName,
  severity: number,
  ns: number,
): CommandChange {
  const { name } = FAULTS[fault];
  if (!faultFits(fault, part)) return refuse(logic, `${name} cannot be placed on this part`);
  if (logic.faults.some((f) => f.fault === fault && f.part === part && f.severity === severity))
    return refuse(logic, `${name} is there already, as severe`);
  const place = placeOf(part);
  const isBurning = place !== null && (logic.arcSinceNs[ARC_PLACES.indexOf(place)] as number) >= 0;
  if (fault === "insect" && isBurning)
    return refuse(logic, `${name}: an arc burns in this gap; wait until it is out`);
  return done(placeFault(logic, fault, part, severity, ns));
}

function placeFault(
  logic: Logic,
  fault: FaultName,
  part: PartName,
  severity: number,
  ns: number,
): Change {
  const others = logic.faults.filter((f) => f.fault !== fault || f.part !== part);
  let failures = logic.failures;
  if (fault === "driveInhibitFailed" || fault === "relayStuck" || fault === "contactorOnly") {
    failures = { ...failures, [fault]: true };
  }
  const faults = [...others, { fault, part, severity, placedNs: ns }];
  const kind = FAULTS[fault];
  // a gap waits for its strike; a latent fault waits for its call; everything else is electrical at once
  const atOnce = !kind.latent && placeOf(part) === null;
  const events: BenchEvent[] = atOnce
    ? [{ kind: "faultZero", atNs: ns, fault, part, struck: null }]
    : [];
  return { logic: { ...logic, faults, failures }, later: [], events, jumps: !kind.latent };
}

function removeFault(logic: Logic, fault: FaultName, part: PartName): Change {
  const faults = logic.faults.filter((f) => f.fault !== fault || f.part !== part);
  let failures = logic.failures;
  if (fault === "driveInhibitFailed" || fault === "relayStuck" || fault === "contactorOnly") {
    failures = { ...failures, [fault]: false };
  }
  return { logic: { ...logic, faults, failures }, later: [], events: [], jumps: true };
}
