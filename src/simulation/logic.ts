/**
 * Everything about a world that is not a number in its buffer: positions of switches, ramps, the T/R
 * sequence, faults in place, the race under way. A plain immutable value, replaced on change, so that a
 * snapshot is a reference.
 */

import type { ControlName, FaultName, Onset, PartName, Signal } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import type { Project } from "../project/types";
import type { ActuatorFailures } from "../protection/actuators/schedule";
import { NO_FAILURES } from "../protection/actuators/schedule";
import type { DamagePart, Milestone } from "./benchEvent";
import { EMPTY_MEMORY, type TripMemory } from "./tripMemory";
import type { EdgeVariant } from "./worldLayout";

/** A knob on its way: linear from one value to the next in 50 ms. */
export interface Ramp {
  readonly from: number;
  readonly to: number;
  readonly startNs: number;
}

export const RAMP_NS = 50_000_000;

export interface PlacedFault {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
  readonly onset: Onset;
  /** Of the pattern in which it comes and goes, or moves. */
  readonly seed: number;
  readonly placedNs: number;
  /** It has been there at some instant: its time zero is past. */
  readonly began: boolean;
}

/** Where the T/R sequence stands. Relays are confirmed closed in `transmit`. */
export interface Sequence {
  readonly phase: "receive" | "closing" | "transmit" | "opening";
  readonly antennaClosed: boolean;
  readonly biasOn: boolean;
  /** Steps scheduled under an older number are void. */
  readonly turn: number;
}

/** Mains switch, heater timer, interlocks and what they let the plate supply do. */
export interface Power {
  readonly on: boolean;
  /** End of the warm-up; it may lie ahead. */
  readonly warmAtNs: number;
  readonly fanOn: boolean;
  readonly lidClosed: boolean;
  readonly airflowClosed: boolean;
  /** The contactor is closed as far as switch and interlocks go; a trip opens it besides. */
  readonly plateOn: boolean;
  /** The step-start resistor is not bridged yet. */
  readonly stepIn: boolean;
  /** Steps scheduled under an older number are void. */
  readonly turn: number;
}

/** Whether switch and interlocks let the plate supply be there; a contactor needs its time to obey. */
export function isPlateAllowed({ on, plateOn, lidClosed, airflowClosed }: Power): boolean {
  return on && plateOn && lidClosed && airflowClosed;
}

/** Warm, closed and up: as a run begins. */
const POWER_UP: Power = {
  on: true,
  warmAtNs: -1e15,
  fanOn: true,
  lidClosed: true,
  airflowClosed: true,
  plateOn: true,
  stepIn: false,
  turn: 0,
};

/** The exciter's shaped envelope, 0 to 1 in voltage. */
export interface Envelope {
  readonly from: number;
  readonly to: number;
  readonly startNs: number;
}

export interface FaultZero {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly atNs: number;
  readonly struck: ArcPlace | null;
}

/** The same without what else an event may carry. */
export function zeroOf({ fault, part, atNs, struck }: FaultZero): FaultZero {
  return { fault, part, atNs, struck };
}

export interface Logic {
  readonly operate: boolean;
  readonly mode: "operate" | "tune";
  readonly keyDown: boolean;
  readonly keyDownAtNs: number;
  readonly controls: Readonly<Record<ControlName, Ramp>>;
  readonly envelope: Envelope;
  /** The last shaped edge upwards began here: the exciter's overshoot counts from it. */
  readonly driveOnNs: number;
  readonly signal: Signal;
  readonly signalFromNs: number;
  readonly sequence: Sequence;
  /** A trip holds its actuators: the key starts nothing. */
  readonly tripHeld: boolean;
  readonly driveInhibited: boolean;
  readonly cathodeCut: boolean;
  readonly contactorOpen: boolean;
  readonly crowbarFired: boolean;
  readonly power: Power;
  readonly fuseOpen: boolean;
  /** Direct-current arcs that have gone out: such a fault is one arc, and gone with it. */
  readonly dcArcsOut: readonly FaultName[];
  /** The T/R relay has been told to open by a trip and waits for the output to fall. */
  readonly relayWaitSinceNs: number | null;
  readonly faults: readonly PlacedFault[];
  readonly failures: ActuatorFailures;
  readonly supplyReadyAtNs: number | null;
  readonly zero: FaultZero | null;
  /** Arc and output have stayed gone since the fault. */
  readonly cleared: boolean;
  /** Per arc place, in the order of ARC_PLACES: burning since, -1 for not burning. */
  readonly arcSinceNs: readonly number[];
  readonly arcOutAtNs: readonly number[];
  /** Metal across the gap since, -1 for none. */
  readonly bridgedSinceNs: readonly number[];
  /** A bead that bridged has been taken off: only what melts anew counts from then on. */
  readonly beadRemoved: readonly boolean[];
  /** Strikes so far; each draws a strike voltage of its own. */
  readonly strikes: readonly number[];
  /** What damage has been logged already. */
  readonly milestones: readonly string[];
  readonly memory: TripMemory;
}

/** Why the station cannot go on the air, in words; empty when it can. */
export function whyNotReady(
  { power: p, fuseOpen }: Pick<Logic, "power" | "fuseOpen">,
  ns: number,
): string {
  if (!p.on) return "the power is off";
  if (!p.lidClosed) return "the lid is open";
  if (!p.airflowClosed) return "no airflow";
  if (ns < p.warmAtNs) return `warming up, ${Math.ceil((p.warmAtNs - ns) / 1e9)} s to go`;
  if (!p.plateOn || p.stepIn) return "the plate supply is coming up";
  return fuseOpen ? "the high-voltage fuse has melted; switch off to replace it" : "";
}

/** Under what a mark of damage is remembered, so that it is logged once. */
export function milestoneKey(part: DamagePart, milestone: Milestone, edge: EdgeVariant): string {
  return `${part} ${milestone} ${edge}`;
}

/** State of a run at t = 0: supply settled at no load, interlocks closed, operate, key open. */
export function initialLogic(
  project: Project,
  load: { readonly swr: number; readonly phaseRad: number },
): Logic {
  const still = (value: number): Ramp => ({ from: value, to: value, startNs: -RAMP_NS });
  return {
    operate: true,
    mode: "operate",
    keyDown: false,
    keyDownAtNs: 0,
    controls: {
      driveW: still(project.station.exciter.availableW),
      tuningRatio: still(1),
      loadingRatio: still(1),
      // the station's own load; a knob that was never turned leaves it exactly as the file has it
      loadSwr: still(load.swr),
      loadPhaseRad: still(load.phaseRad),
    },
    envelope: { from: 0, to: 0, startNs: 0 },
    driveOnNs: -1e15,
    signal: { signal: "carrier" },
    signalFromNs: 0,
    sequence: { phase: "receive", antennaClosed: false, biasOn: false, turn: 0 },
    tripHeld: false,
    driveInhibited: false,
    cathodeCut: false,
    contactorOpen: false,
    crowbarFired: false,
    power: POWER_UP,
    fuseOpen: false,
    dcArcsOut: [],
    relayWaitSinceNs: null,
    faults: [],
    failures: NO_FAILURES,
    // ready long ago: supervision timers are done at t = 0
    supplyReadyAtNs: -1e12,
    zero: null,
    cleared: false,
    arcSinceNs: [-1, -1, -1, -1],
    arcOutAtNs: [-1e15, -1e15, -1e15, -1e15],
    bridgedSinceNs: [-1, -1, -1, -1],
    beadRemoved: [false, false, false, false],
    strikes: [0, 0, 0, 0],
    milestones: [],
    memory: EMPTY_MEMORY,
  };
}

/** Whether the antenna contact of the T/R relay moves from one to the other; stuck contacts do not. */
export function relayMoves(before: Logic, after: Logic): boolean {
  const moved = before.sequence.antennaClosed !== after.sequence.antennaClosed;
  return moved && !after.failures.relayStuck;
}

/** The same list with one entry changed. */
export function withEntry<T>(values: readonly T[], index: number, value: T): readonly T[] {
  return values.map((v, i) => (i === index ? value : v));
}

/** Value of a ramp at `ns`. */
export function rampAt(ramp: Ramp, ns: number): number {
  const part = (ns - ramp.startNs) / RAMP_NS;
  if (part >= 1) return ramp.to;
  return part <= 0 ? ramp.from : ramp.from + (ramp.to - ramp.from) * part;
}
