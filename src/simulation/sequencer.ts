/**
 * Switches, keying, the T/R sequence and the actuators: what a command or a timed step does to the logic,
 * and which timed steps follow. Pure: takes a logic, gives the next one with the steps to schedule.
 *
 * Key down: antenna relay, input relay, bias, drive; key up: drive at once, relays after the hold time,
 * bias before contacts. A trip opens in the actuators' own order; what it released is closed again by the
 * same sequence after a reset.
 */

import { arcPlaceOf } from "../project/arcPlaceOf";
import { FAULTS } from "../project/faults";
import type { ActuatorName } from "../project/protection";
import type { FaultName, PartName } from "../project/scenario";
import type { Project } from "../project/types";
import type { ActuatorStep } from "../protection/actuators/schedule";
import { nanoseconds } from "../units/nanoseconds";
import type { BenchEvent } from "./benchEvent";
import { envelopeAt } from "./faultEffects";
import type { Logic, PlacedFault } from "./logic";
import { nextOnsetNs, presenceOf } from "./presence";

export type TimedStep =
  | { readonly kind: "relayClosed"; readonly turn: number }
  | { readonly kind: "biasOn"; readonly turn: number }
  | { readonly kind: "driveOn"; readonly turn: number }
  | { readonly kind: "holdOver"; readonly turn: number }
  | { readonly kind: "relayOpen"; readonly turn: number }
  | { readonly kind: "actuate"; readonly step: ActuatorStep }
  /** An intermittent fault comes or goes; void once it was placed anew. */
  | {
      readonly kind: "onset";
      readonly fault: FaultName;
      readonly part: PartName;
      readonly placedNs: number;
    }
  /** Of power-up and switch-off; see `power`. */
  | { readonly kind: "power"; readonly step: PowerStep; readonly turn: number };

export type PowerStep = "warm" | "bridged" | "plateOff" | "crowbar" | "fanOff";

export interface Scheduled {
  readonly atNs: number;
  readonly step: TimedStep;
}

export interface Change {
  readonly logic: Logic;
  readonly later: readonly Scheduled[];
  readonly events: readonly BenchEvent[];
  /** The circuit has jumped: the transient solver must follow. */
  readonly jumps: boolean;
}

/** A change that changes nothing more than the logic given. */
export function unchanged(logic: Logic): Change {
  return { logic, later: [], events: [], jumps: false };
}

function ramped(logic: Logic, edgeNs: number, ns: number, to: number): Logic {
  const from = logic.driveInhibited ? 0 : envelopeAt(logic, edgeNs, ns);
  return { ...logic, envelope: { from, to, startNs: ns } };
}

/** Starts the sequence towards transmit, or only the drive where the relays are still held. */
export function startTransmit(project: Project, logic: Logic, ns: number): Change {
  if (logic.tripHeld) return unchanged(logic);
  const turn = logic.sequence.turn + 1;
  const tr = project.station.transmitReceive;
  if (logic.sequence.phase === "transmit") {
    return {
      ...unchanged({ ...logic, sequence: { ...logic.sequence, turn } }),
      later: [{ atNs: ns, step: { kind: "driveOn", turn } }],
    };
  }
  const relay = ns + nanoseconds(tr.antennaRelayS) + nanoseconds(tr.inputRelayS);
  const bias = relay + nanoseconds(tr.biasS);
  const drive = driveStartNs(logic, ns, relay, bias + nanoseconds(tr.driveS));
  return {
    ...unchanged({ ...logic, sequence: { ...logic.sequence, phase: "closing", turn } }),
    later: [
      { atNs: relay, step: { kind: "relayClosed", turn } },
      { atNs: bias, step: { kind: "biasOn", turn } },
      { atNs: drive, step: { kind: "driveOn", turn } },
    ],
  };
}

/** When the drive comes: in its order, or ahead of the antenna relay where the exciter does not wait. */
function driveStartNs(logic: Logic, ns: number, relayNs: number, inOrderNs: number): number {
  const ahead = logic.faults.find((f) => f.fault === "driveAhead");
  return ahead === undefined ? inOrderNs : Math.max(ns, relayNs - nanoseconds(ahead.severity));
}

/** The key closes: the T/R sequence begins where the station is in operate. */
export function keyDown(project: Project, logic: Logic, ns: number): Change {
  if (logic.keyDown) return unchanged(logic);
  const next: Logic = { ...logic, keyDown: true, keyDownAtNs: ns };
  return logic.operate ? startTransmit(project, next, ns) : unchanged(next);
}

/** The key opens: drive falls at once, relays after the hold time. */
export function keyUp(project: Project, logic: Logic, ns: number): Change {
  if (!logic.keyDown) return unchanged(logic);
  const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
  const off = ramped({ ...logic, keyDown: false }, edgeNs, ns, 0);
  const { phase } = off.sequence;
  const hold =
    phase === "transmit" ? edgeNs + nanoseconds(project.station.transmitReceive.holdS) : 0;
  return opened(off, ns, ns + hold);
}

/** Drive is off; relays follow at `overNs` where they were closed or closing, and go on opening where they were. */
function opened(off: Logic, ns: number, overNs: number): Change {
  const { phase } = off.sequence;
  if (phase !== "transmit" && phase !== "closing") return unchanged(off);
  const turn = off.sequence.turn + 1;
  return {
    logic: { ...off, sequence: { ...off.sequence, turn } },
    later: [{ atNs: overNs, step: { kind: "holdOver", turn } }],
    events: [{ kind: "sequence", atNs: ns, step: "driveOff" }],
    jumps: false,
  };
}

/** Operate or standby: the station is in the path, or bypassed. */
export function setOperate(project: Project, logic: Logic, operate: boolean, ns: number): Change {
  if (logic.operate === operate) return unchanged(logic);
  if (operate) {
    const next = { ...logic, operate };
    return logic.keyDown ? startTransmit(project, next, ns) : unchanged(next);
  }
  const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
  return opened(ramped({ ...logic, operate }, edgeNs, ns, 0), ns, ns + edgeNs);
}

/** One timed step of sequence or actuators, at its instant. */
export function takeStep(project: Project, logic: Logic, step: TimedStep, ns: number): Change {
  if (step.kind === "actuate") return actuate(project, logic, step.step, ns);
  if (step.kind === "onset") return comesOrGoes(logic, step, ns);
  if (step.kind === "power" || step.turn !== logic.sequence.turn) return unchanged(logic);
  const { sequence } = logic;
  switch (step.kind) {
    case "relayClosed":
      if (staysOpen(logic, ns)) return unchanged(logic);
      return jump({ ...logic, sequence: { ...sequence, antennaClosed: true } });
    case "biasOn":
      return {
        ...jump({ ...logic, sequence: { ...sequence, biasOn: true, phase: "transmit" } }),
        events: [{ kind: "sequence", atNs: ns, step: "transmit" }],
      };
    case "driveOn": {
      const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
      const begins = logic.faults.filter((f) => beginsWithDrive(f, logic));
      const faults = logic.faults.map((f) => (begins.includes(f) ? { ...f, began: true } : f));
      const driven = { ...ramped(logic, edgeNs, ns, 1), driveOnNs: ns };
      return {
        logic: begins.length > 0 ? { ...driven, faults } : driven,
        later: [],
        events: [
          { kind: "sequence", atNs: ns, step: "driveOn" },
          ...begins.map(({ fault, part }) => zeroEvent(fault, part, ns)),
        ],
        // the bias that comes with a drive ahead of its relay is a jump
        jumps: sequence.phase === "closing",
      };
    }
    case "holdOver":
      return {
        ...jump({ ...logic, sequence: { ...sequence, biasOn: false, phase: "opening" } }),
        later: [
          {
            atNs: ns + nanoseconds(project.actuators.transmitReceive.releaseS),
            step: { kind: "relayOpen", turn: sequence.turn },
          },
        ],
      };
    case "relayOpen":
      return {
        ...jump({ ...logic, sequence: { ...sequence, antennaClosed: false, phase: "receive" } }),
        events: [{ kind: "sequence", atNs: ns, step: "receive" }],
      };
  }
}

/** The next step of an intermittent fault's pattern; its time zero is the first instant it is there. */
export function onsetSteps(f: PlacedFault, ns: number): readonly Scheduled[] {
  const atNs = nextOnsetNs(f, ns);
  if (atNs === Infinity) return [];
  const { fault, part, placedNs } = f;
  return [{ atNs, step: { kind: "onset", fault, part, placedNs } }];
}

function comesOrGoes(
  logic: Logic,
  { fault, part, placedNs }: Extract<TimedStep, { kind: "onset" }>,
  ns: number,
): Change {
  const f = logic.faults.find((p) => p.fault === fault && p.part === part);
  if (f === undefined || f.placedNs !== placedNs) return unchanged(logic);
  const begins = !f.began && startsOwnRace(f) && presenceOf(f, ns) > 0;
  const faults = logic.faults.map((p) => (p === f && begins ? { ...f, began: true } : p));
  // an arc that comes again burns again
  const dcArcsOut = logic.dcArcsOut.filter((out) => out !== fault || presenceOf(f, ns) === 0);
  return {
    logic: begins ? { ...logic, faults, dcArcsOut } : { ...logic, dcArcsOut },
    later: onsetSteps(f, ns),
    events: begins ? [zeroEvent(fault, part, ns)] : [],
    jumps: true,
  };
}

/**
 * A gap waits for its strike, a latent fault for its call and a fault of the key's head for the drive; every other is electrical
 * once it is there.
 */
export function startsOwnRace({ fault, part }: PlacedFault): boolean {
  const { begins, latent } = FAULTS[fault];
  if (begins !== undefined) return begins === "atOnce";
  return !latent && arcPlaceOf(part) === null;
}

function beginsWithDrive(f: PlacedFault, logic: Logic): boolean {
  if (FAULTS[f.fault].begins !== "withDrive" || f.began) return false;
  // drive inside the hold time finds the relay closed
  const asksOpen = f.fault === "driveAhead" || f.fault === "relayStaysOpen";
  return !asksOpen || !logic.sequence.antennaClosed;
}

/** The antenna contact does not follow its coil. */
function staysOpen(logic: Logic, ns: number): boolean {
  return logic.faults.some((f) => f.fault === "relayStaysOpen" && presenceOf(f, ns) > 0);
}

function zeroEvent(fault: FaultName, part: PartName, atNs: number): BenchEvent {
  return { kind: "faultZero", atNs, fault, part, struck: null };
}

function jump(logic: Logic): Change {
  return { logic, later: [], events: [], jumps: true };
}

function actuate(project: Project, logic: Logic, step: ActuatorStep, ns: number): Change {
  const { actuator } = step;
  const event = (effect: "acted" | "failed"): readonly BenchEvent[] => [
    { kind: "actuator", atNs: ns, actuator, effect },
  ];
  if (!step.works) return { ...unchanged(logic), events: event("failed") };
  switch (actuator) {
    case "driveInhibit": {
      const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
      const from = envelopeAt(logic, edgeNs, ns);
      return {
        ...jump({
          ...logic,
          driveInhibited: true,
          envelope: { from, to: logic.envelope.to, startNs: ns },
        }),
        events: event("acted"),
      };
    }
    case "cathodeCutoff":
      return { ...jump({ ...logic, cathodeCut: true }), events: event("acted") };
    case "contactor":
      // an open contactor is no supply, however much its filter still holds
      return {
        ...jump({ ...logic, contactorOpen: true, supplyReadyAtNs: null }),
        events: event("acted"),
      };
    case "crowbar":
      return { ...jump({ ...logic, crowbarFired: true }), events: event("acted") };
    case "transmitReceive": {
      const { sequence } = logic;
      return {
        ...jump({
          ...logic,
          relayWaitSinceNs: null,
          sequence: {
            phase: "receive",
            antennaClosed: false,
            biasOn: false,
            turn: sequence.turn + 1,
          },
        }),
        events: event("acted"),
      };
    }
  }
}

/**
 * Puts back every actuator that no trip needs any more, and starts the sequence anew where the key is down.
 * `needed` are those still held.
 */
export function release(
  project: Project,
  logic: Logic,
  needed: readonly ActuatorName[],
  ns: number,
): Change {
  let next = logic;
  const events: BenchEvent[] = [];
  let jumps = false;
  const isFree = (actuator: ActuatorName, moved: boolean): boolean => {
    if (!moved || needed.includes(actuator)) return false;
    events.push({ kind: "actuator", atNs: ns, actuator, effect: "released" });
    return true;
  };
  if (isFree("contactor", next.contactorOpen)) {
    next = { ...next, contactorOpen: false };
    jumps = true;
  }
  // an open lid holds the crowbar too
  if (isFree("crowbar", next.crowbarFired && next.power.lidClosed)) {
    next = { ...next, crowbarFired: false };
    jumps = true;
  }
  if (isFree("cathodeCutoff", next.cathodeCut)) {
    next = { ...next, cathodeCut: false };
    jumps = true;
  }
  if (isFree("driveInhibit", next.driveInhibited)) {
    next = { ...next, driveInhibited: false, envelope: { from: 0, to: 0, startNs: ns } };
  }
  if (!needed.includes("transmitReceive")) next = { ...next, relayWaitSinceNs: null };
  if (!next.keyDown || !next.operate) return { logic: next, later: [], events, jumps };
  const again = startTransmit(project, next, ns);
  return { ...again, events: [...events, ...again.events], jumps };
}
