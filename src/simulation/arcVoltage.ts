/**
 * The voltage an arc keeps while it burns, where it is more than the part's own value: by the law of gap, current, metal
 * and density, and lower once the edge melts. Both are chosen in the station and off unless chosen.
 *
 *   V' = (target - V)/T        T 0.2 ms: the column follows its current within the time its gas warms, an estimate;
 *                              stepped once a sample, so the law's falling slope cannot make the circuit hunt
 */
import { exp } from "../math/elementary";
import {
  type CathodeMetal,
  glowShareOf,
  isCurrentInRange,
  lowerFallV,
  maintainingVoltageV,
} from "../physics/arc/maintainingVoltage";
import type { StageCircuit } from "../physics/stage/circuit";
import { ARC_COUNT, ARC_PLACES } from "../physics/stage/layout";
import { arcPlaceOf } from "../project/arcPlaceOf";
import type { ArcPlace, MetalName, Station } from "../project/station";
import type { Damage } from "./damage";
import { maintainingV } from "./gaps";
import type { Logic } from "./logic";

const FOLLOWS_S = 0.2e-3;
/** Current the law is asked for at the strike, before any has flown: amid its range. */
const STRIKE_A = 0.5;
/** No lowering takes an arc under the arc falls of both electrodes. */
const LEAST_V = 30;
/** Not judged by its current before it has burned for this long. */
const SETTLED_NS = 1_000_000;

/** What the bench has at hand of one place. */
interface ArcState {
  readonly gapM: number;
  readonly relativeDensity: number;
  readonly metal: MetalName;
  readonly moltenKg: number;
}

/** Metal whose fall stands for an alloy's: the main part of it. */
function cathodeMetal(metal: MetalName): CathodeMetal {
  if (metal === "alloy5052") return "aluminium";
  return metal === "brass" ? "copper" : metal;
}

/** True where the voltage of an arc at place `a` moves while it burns. A forced arc keeps the voltage it was given. */
function arcVoltageMoves(station: Station, logic: Logic, a: number): boolean {
  const { arcVoltage, moltenEdgeLowers } = station.airGaps;
  return moltenEdgeLowers || followsLaw(logic, arcVoltage[ARC_PLACES[a] as ArcPlace], a);
}

function followsLaw(logic: Logic, kind: "value" | "law", a: number): boolean {
  return (
    kind === "law" &&
    !logic.faults.some((f) => f.fault === "arc" && arcPlaceOf(f.part) === ARC_PLACES[a])
  );
}

/** Voltage towards which an arc at place `a` tends, peak volts. */
function arcTargetV(
  station: Station,
  logic: Logic,
  a: number,
  state: ArcState,
  peakA: number,
): number {
  const { arcVoltage, moltenEdgeLowers } = station.airGaps;
  const place = ARC_PLACES[a] as ArcPlace;
  const metal = cathodeMetal(state.metal);
  const glowShare = glowShareOf(moltenEdgeLowers ? state.moltenKg : 0);
  if (!followsLaw(logic, arcVoltage[place], a)) {
    const ownV = maintainingV(station, logic, place);
    return Math.max(ownV - lowerFallV(metal, glowShare), Math.min(ownV, LEAST_V));
  }
  const { gapM, relativeDensity } = state;
  return maintainingVoltageV({ gapM, relativeDensity, metal, glowShare }, peakA);
}

/** What the arcs of a world are judged by. */
export interface ArcSurroundings {
  readonly station: Station;
  readonly relativeDensity: number;
  readonly damage: Damage;
  readonly buffer: Float64Array;
  /** Air an arc has to cross, in the order of ARC_PLACES. */
  readonly gapsM: Float64Array;
}

function stateAt({ relativeDensity, damage, buffer, gapsM }: ArcSurroundings, a: number): ArcState {
  return {
    gapM: gapsM[a] as number,
    relativeDensity,
    metal: damage.metalAt(a),
    moltenKg: damage.moltenKg(buffer, a),
  };
}

/** Voltage an arc at place `a` begins with, peak volts. */
export function strikeTargetV(around: ArcSurroundings, logic: Logic, a: number): number {
  const { station } = around;
  if (!arcVoltageMoves(station, logic, a))
    return maintainingV(station, logic, ARC_PLACES[a] as ArcPlace);
  return arcTargetV(station, logic, a, stateAt(around, a), STRIKE_A);
}

/**
 * One sample of `dtS` that ends at `endNs`: arcs whose voltage moves follow it in `c`. Answers the place of an arc
 * that has burned outside the range of its law, -1 for none.
 */
export function followArcs(
  around: ArcSurroundings,
  c: StageCircuit,
  logic: Logic,
  peakA: Float64Array,
  endNs: number,
  dtS: number,
): number {
  const { station } = around;
  let outside = -1;
  for (let a = 0; a < ARC_COUNT; a++) {
    if (!c.burning[a] || !arcVoltageMoves(station, logic, a)) continue;
    const targetV = arcTargetV(station, logic, a, stateAt(around, a), peakA[a] as number);
    const nowV = c.maintainingV[a] as number;
    c.maintainingV[a] = targetV + (nowV - targetV) * exp(-dtS / FOLLOWS_S);
    if (isOutsideLaw(station, logic, a, peakA[a] as number, endNs)) outside = a;
  }
  return outside;
}

/** Whether an arc that follows the law has to be reported: it burns steadily outside 0.1 to 2 A. */
function isOutsideLaw(
  station: Station,
  logic: Logic,
  a: number,
  peakA: number,
  ns: number,
): boolean {
  const place = ARC_PLACES[a] as ArcPlace;
  if (!followsLaw(logic, station.airGaps.arcVoltage[place], a)) return false;
  if (isCurrentInRange(peakA) || logic.milestones.includes(outsideLawKey(place))) return false;
  return ns - (logic.arcSinceNs[a] as number) >= SETTLED_NS;
}

/** Under what an arc outside its law is remembered, so that it is logged once. */
export function outsideLawKey(place: ArcPlace): string {
  return `${place} outsideArcLaw`;
}
