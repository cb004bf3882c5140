/**
 * Switches, keying, the T/R sequence and the actuators: what a command or a timed step does to the logic,
 * and which timed steps follow. Pure: takes a logic, gives the next one with the steps to schedule.
 *
 * Key down: antenna relay, input relay, bias, drive; key up: drive at once, relays after the hold time,
 * bias before contacts. A trip opens in the actuators' own order; what it released is closed again by the
 * same sequence after a reset.
 */
import type { ActuatorName, Project } from "../project/types";
import type { ActuatorStep } from "../protection/actuators/schedule";
import type { BenchEvent } from "./benchEvent";
import { envelopeAt } from "./faultEffects";
import type { Logic } from "./logic";

export type TimedStep =
  | { readonly kind: "relayClosed"; readonly turn: number }
  | { readonly kind: "biasOn"; readonly turn: number }
  | { readonly kind: "driveOn"; readonly turn: number }
  | { readonly kind: "holdOver"; readonly turn: number }
  | { readonly kind: "relayOpen"; readonly turn: number }
  | { readonly kind: "actuate"; readonly step: ActuatorStep };

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

export function unchanged(logic: Logic): Change {
  return { logic, later: [], events: [], jumps: false };
}

export function nanoseconds(seconds: number): number {
  return Math.round(seconds * 1e9);
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
  const drive = bias + nanoseconds(tr.driveS);
  return {
    ...unchanged({ ...logic, sequence: { ...logic.sequence, phase: "closing", turn } }),
    later: [
      { atNs: relay, step: { kind: "relayClosed", turn } },
      { atNs: bias, step: { kind: "biasOn", turn } },
      { atNs: drive, step: { kind: "driveOn", turn } },
    ],
  };
}

export function keyDown(project: Project, logic: Logic, ns: number): Change {
  if (logic.keyDown) return unchanged(logic);
  const next: Logic = { ...logic, keyDown: true, keyDownAtNs: ns };
  return logic.operate ? startTransmit(project, next, ns) : unchanged(next);
}

export function keyUp(project: Project, logic: Logic, ns: number): Change {
  if (!logic.keyDown) return unchanged(logic);
  const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
  const off = ramped({ ...logic, keyDown: false }, edgeNs, ns, 0);
  const turn = off.sequence.turn + 1;
  const later: Scheduled[] = [];
  if (off.sequence.phase === "transmit" || off.sequence.phase === "closing") {
    const hold =
      off.sequence.phase === "transmit"
        ? edgeNs + nanoseconds(project.station.transmitReceive.holdS)
        : 0;
    later.push({ atNs: ns + hold, step: { kind: "holdOver", turn } });
  }
  return {
    logic: { ...off, sequence: { ...off.sequence, turn } },
    later,
    events: [{ kind: "sequence", atNs: ns, step: "driveOff" }],
    jumps: false,
  };
}

export function setOperate(project: Project, logic: Logic, operate: boolean, ns: number): Change {
  if (logic.operate === operate) return unchanged(logic);
  if (operate) {
    const next = { ...logic, operate };
    return logic.keyDown ? startTransmit(project, next, ns) : unchanged(next);
  }
  const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
  const off = ramped({ ...logic, operate }, edgeNs, ns, 0);
  const turn = off.sequence.turn + 1;
  return {
    logic: { ...off, sequence: { ...off.sequence, turn } },
    later: [{ atNs: ns + edgeNs, step: { kind: "holdOver", turn } }],
    events: [{ kind: "sequence", atNs: ns, step: "driveOff" }],
    jumps: false,
  };
}

/** One timed step of sequence or actuators, at its instant. */
export function takeStep(project: Project, logic: Logic, step: TimedStep, ns: number): Change {
  if (step.kind === "actuate") return actuate(project, logic, step.step, ns);
  if (step.turn !== logic.sequence.turn) return unchanged(logic);
  const { sequence } = logic;
  switch (step.kind) {
    case "relayClosed":
      return jump({ ...logic, sequence: { ...sequence, antennaClosed: true } });
    case "biasOn":
      return {
        ...jump({ ...logic, sequence: { ...sequence, biasOn: true, phase: "transmit" } }),
        events: [{ kind: "sequence", atNs: ns, step: "transmit" }],
      };
    case "driveOn": {
      const edgeNs = nanoseconds(project.station.exciter.keyEdgeS);
      return {
        ...unchanged(ramped(logic, edgeNs, ns, 1)),
        events: [{ kind: "sequence", atNs: ns, step: "driveOn" }],
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
      return { ...jump({ ...logic, contactorOpen: true }), events: event("acted") };
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

/** What a reset lets go of: actuators close again, and the sequence starts anew where the key is down. */
export function release(
  project: Project,
  logic: Logic,
  actions: readonly ActuatorName[],
  ns: number,
): Change {
  let next = logic;
  const events: BenchEvent[] = [];
  const released = (actuator: ActuatorName): void => {
    events.push({ kind: "actuator", atNs: ns, actuator, effect: "released" });
  };
  let jumps = false;
  // with the contactor wired alone, every action has opened it
  if (next.contactorOpen && (actions.includes("contactor") || next.failures.contactorOnly)) {
    next = { ...next, contactorOpen: false };
    released("contactor");
    jumps = true;
  }
  if (actions.includes("cathodeCutoff") && next.cathodeCut) {
    next = { ...next, cathodeCut: false };
    released("cathodeCutoff");
    jumps = true;
  }
  if (actions.includes("driveInhibit") && next.driveInhibited) {
    next = { ...next, driveInhibited: false, envelope: { from: 0, to: 0, startNs: ns } };
    released("driveInhibit");
  }
  if (actions.includes("transmitReceive")) next = { ...next, relayWaitSinceNs: null };
  if (!next.keyDown || !next.operate) return { logic: next, later: [], events, jumps };
  const again = startTransmit(project, next, ns);
  return { ...again, events: [...events, ...again.events], jumps };
}
