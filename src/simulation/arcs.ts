/**
 * Arcs as they begin and end: what a strike, or the end of an arc, does to circuit, buffer and logic, and the
 * event it is logged as. The gaps' own law is in `gaps`, the arc's in `physics/arc`; what to do about the
 * change (log, record, start a race) is the world's.
 */
import type { StageCircuit } from "../physics/stage/circuit";
import { strikeArc } from "../physics/stage/coldStart";
import { ARC_COUNT, ARC_PLACES, LNG, STATE_LENGTH, STRIKE_LNG } from "../physics/stage/layout";
import type { ArcPlace } from "../project/station";
import type { BenchEvent } from "./benchEvent";
import { faultAtPlace } from "./gaps";
import { type FaultZero, type Logic, withEntry } from "./logic";
import { nodePeakV } from "./stageRun";
import { ARC_ENERGY_AT, STAGE_AT } from "./worldLayout";

/** What an arc that began or ended has changed. */
export interface ArcChange {
  readonly logic: Logic;
  readonly event: BenchEvent;
  /** The fault that has its time zero in this strike; null for none. */
  readonly zero: FaultZero | null;
}

/** The gap at `place` breaks down at `atNs` into an arc that keeps `keepsV`; the fault at that place is blamed, once until it is cleared. */
export function beginArc(
  c: StageCircuit,
  buffer: Float64Array,
  logic: Logic,
  place: number,
  atNs: number,
  keepsV: number,
): ArcChange {
  const y = buffer.subarray(STAGE_AT, STAGE_AT + STATE_LENGTH);
  const struck = ARC_PLACES[place] as ArcPlace;
  const peakV = nodePeakV(c, y, place);
  c.maintainingV[place] = keepsV;
  strikeArc(c, y, place);
  buffer[ARC_ENERGY_AT + place] = 0;
  const blamed = faultAtPlace(logic, struck);
  const already = logic.zero !== null && logic.zero.struck === struck && !logic.cleared;
  return {
    logic: {
      ...logic,
      arcSinceNs: withEntry(logic.arcSinceNs, place, atNs),
      strikes: withEntry(logic.strikes, place, (logic.strikes[place] as number) + 1),
    },
    event: { kind: "strike", atNs, place: struck, peakV },
    zero:
      blamed === null || already ? null : { fault: blamed.fault, part: blamed.part, atNs, struck },
  };
}

/** The arc at `place` goes out at `atNs`: the gap is open again and begins to regain its strength. */
export function endArc(
  c: StageCircuit,
  buffer: Float64Array,
  logic: Logic,
  place: number,
  atNs: number,
): ArcChange {
  c.burning[place] = 0;
  buffer[STAGE_AT + LNG + place] = STRIKE_LNG;
  return {
    logic: {
      ...logic,
      arcSinceNs: withEntry(logic.arcSinceNs, place, -1),
      arcOutAtNs: withEntry(logic.arcOutAtNs, place, atNs),
    },
    event: {
      kind: "arcOut",
      atNs,
      place: ARC_PLACES[place] as ArcPlace,
      energyJ: buffer[ARC_ENERGY_AT + place] as number,
      burnedNs: atNs - (logic.arcSinceNs[place] as number),
    },
    zero: null,
  };
}

/** Metal reaches across the gap at `place`: a dead short from now on, which an arc burning there does not outlive. */
export function bridgeGap(
  c: StageCircuit,
  buffer: Float64Array,
  logic: Logic,
  place: number,
  atNs: number,
): ArcChange | { readonly logic: Logic; readonly event: null } {
  const bridged = { ...logic, bridgedSinceNs: withEntry(logic.bridgedSinceNs, place, atNs) };
  return c.burning[place]
    ? endArc(c, buffer, bridged, place, atNs)
    : { logic: bridged, event: null };
}

/** Energy that arcs still burning have taken so far, joules. */
export function burningJ(c: StageCircuit, buffer: Float64Array): number {
  let joules = 0;
  for (let a = 0; a < ARC_COUNT; a++) {
    if (c.burning[a]) joules += buffer[ARC_ENERGY_AT + a] as number;
  }
  return joules;
}
