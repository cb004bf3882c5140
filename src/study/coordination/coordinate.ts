/**
 * A coordination sheet of one stress: at points along its axis, when every monitor operates and clears, and when every part
 * is hurt. Built point by point, so that a worker can do it in slices: first an even grid, coarse before fine, then points
 * between neighbours where a monitor begins or ceases to operate, or takes a step in time.
 */
import { exp, ln } from "../../math/elementary";
import type { StationParts } from "../../physics/stage/stationCircuit";
import { resolveStation } from "../../physics/stage/stationCircuit";
import type { Project } from "../../project/types";
import type { ProtectionSystem } from "../../protection/protectionState";
import { protectionOf } from "../../simulation/worldStart";
import { clearingDelay } from "./clearing";
import { type DamageTime, DamageTimes } from "./damageTime";
import {
  DOES_NOT_OPERATE,
  type OperateTimes,
  operateTimes,
  type Rested,
  restedOn,
} from "./operateTime";
import { SensedTrack, withoutNoise } from "./sensedTrack";
import { SettledStage } from "./settledStage";
import { axisOf, STRESS, type StressName } from "./stress";
import { Stresses, type StressFacts } from "./stressed";

/** How long a stress is followed: what comes later is no protection, and most damage has long been done. */
const LONGEST_S = 100;
/** Halvings of a gap in which a monitor begins to operate: 1 % of the axis' step. */
const REFINEMENTS = 4;
/** A step in time that is looked at closely. */
const STEP_RATIO = 1.6;
const LEAST_GAP = 1.004;

export interface MonitorPoint extends OperateTimes {
  /** Shortest, nominal and longest time to the end of the stress; null where it does not end it. Nominal and longest
   * hold at the worst phase of the scan. */
  readonly clearS: {
    readonly shortest: number;
    readonly nominal: number;
    readonly longest: number;
  } | null;
}

export interface StressPoint {
  readonly x: number;
  /** Null where this station cannot have the stress. */
  readonly facts: StressFacts | null;
  /** One a monitor, in the order of the project's. */
  readonly monitors: readonly MonitorPoint[];
  readonly damage: readonly DamageTime[];
}

export interface CoordinationSheet {
  readonly stress: StressName;
  /** Ends of the axis. */
  readonly axis: readonly [from: number, to: number];
  /** In the order of x. */
  readonly points: readonly StressPoint[];
}

export type CoordinationMade =
  | { readonly ok: true; readonly coordination: Coordination }
  | { readonly ok: false; readonly problem: string };

/** What all sheets of one project share. */
export class Coordination {
  private readonly stresses: Stresses;
  private readonly damage: DamageTimes;
  private readonly track: SensedTrack;
  private readonly rested: readonly Rested[];
  private readonly system: ProtectionSystem;

  private constructor(
    readonly project: Project,
    parts: StationParts,
    stresses: Stresses,
    healthy: NonNullable<ReturnType<Stresses["healthy"]>>,
  ) {
    const quiet = withoutNoise(project);
    this.stresses = stresses;
    this.damage = new DamageTimes(project.station, healthy, project.sampleNs / 1e9);
    const { hot, density } = this.damage;
    this.track = new SensedTrack(quiet, healthy, hot, density, LONGEST_S);
    this.system = protectionOf(quiet, parts, this.track.sensing);
    const { sensing, healthyRow } = this.track;
    this.rested = this.system.programs.map((program) =>
      restedOn(program, healthyRow, (sensor, smoothingS) => sensing.rowIndex(sensor, smoothingS)),
    );
  }

  /** A station without a design or a working point is a problem in words. */
  static of(project: Project): CoordinationMade {
    const resolved = resolveStation(project.station);
    if (!resolved.ok) return resolved;
    const { parts } = resolved;
    const stresses = new Stresses(withoutNoise(project), parts, new SettledStage(project, parts));
    const healthy = stresses.healthy();
    if (healthy === null)
      return { ok: false, problem: "no settled full carrier is found for this station" };
    return { ok: true, coordination: new Coordination(project, parts, stresses, healthy) };
  }

  /** What is true at one size of a stress. */
  pointAt(stress: StressName, x: number): StressPoint {
    const stressed = this.stresses.at(stress, x, (heat) => this.damage.harm(heat));
    if (stressed === null) return { x, facts: null, monitors: [], damage: [] };
    this.track.follow(stressed);
    const { comparators } = this.system;
    const monitors = this.rested.map((rested): MonitorPoint => {
      const { def } = rested.program;
      const slot = comparators.findIndex((c) => c.monitorId === def.id);
      const times =
        slot < 0 ? operateTimes(rested, this.track, LONGEST_S) : this.comparatorTimes(slot);
      const delay = clearingDelay(def, this.project.actuators, stress, stressed.filterDecayS);
      const { earliestS, latestS } = times;
      const clearS =
        // who trips on the healthy carrier keeps the station off the air and guards nothing
        delay === null || earliestS === null || latestS === null || latestS === 0
          ? null
          : {
              shortest: earliestS + delay.shortestS,
              nominal: latestS + delay.nominalS,
              longest: latestS + delay.longestS,
            };
      return { ...times, clearS };
    });
    const damage = this.damage.of(stressed).filter((d) => (d.nominalS ?? 0) <= LONGEST_S);
    return { x, facts: stressed.facts, monitors, damage };
  }

  private comparatorTimes(slot: number): OperateTimes {
    const { pickupA, dropOffA } = this.system.comparators[slot] as {
      pickupA: number;
      dropOffA: number;
    };
    const s = this.track.tapCrossingS(slot, pickupA, dropOffA);
    if (s === null) return DOES_NOT_OPERATE;
    return { pickupS: s, earliestS: s, latestS: s, criterion: 0 };
  }
}

/** Builds one sheet, a point a step. */
export class SheetBuilder {
  private readonly axis: CoordinationSheet["axis"];
  private readonly points: StressPoint[] = [];
  private readonly waiting: number[];
  private refined = 0;

  constructor(
    private readonly coordination: Coordination,
    readonly stress: StressName,
    /** Points that must be among them, such as a part's own voltage. */
    wanted: readonly number[] = [],
    steps = STRESS[stress].steps,
  ) {
    this.axis = axisOf(stress, coordination.project.station);
    const [fromX, toX] = this.axis;
    const ratio = ln(toX / fromX);
    const grid = Array.from({ length: steps + 1 }, (_, k) => fromX * exp((ratio * k) / steps));
    const inside = wanted.filter((x) => x > fromX && x < toX);
    this.waiting = coarseFirst([...new Set([...grid, ...inside])].sort((a, b) => a - b));
  }

  /** Points known to be left; closer looks may add some. */
  get left(): number {
    if (this.waiting.length === 0) this.refine();
    return this.waiting.length;
  }

  get done(): number {
    return this.points.length;
  }

  /** One point. */
  step(): void {
    if (this.left === 0) return;
    const x = this.waiting.shift() as number;
    this.points.push(this.coordination.pointAt(this.stress, x));
    this.points.sort((a, b) => a.x - b.x);
  }

  /** What is known so far. */
  sheet(): CoordinationSheet {
    return { stress: this.stress, axis: this.axis, points: this.points.slice() };
  }

  private refine(): void {
    if (this.refined >= REFINEMENTS) return;
    this.refined += 1;
    for (let k = 1; k < this.points.length; k++) {
      const a = this.points[k - 1] as StressPoint;
      const b = this.points[k] as StressPoint;
      if (b.x / a.x > LEAST_GAP && this.isStep(a, b)) this.waiting.push(Math.sqrt(a.x * b.x));
    }
  }

  /** Between two neighbours something begins, ends or jumps, of a monitor that is on and can end the stress. */
  private isStep(a: StressPoint, b: StressPoint): boolean {
    if (a.facts === null || b.facts === null) return a.facts !== b.facts;
    return a.monitors.some((one, i) => {
      const other = b.monitors[i];
      if (other === undefined || this.coordination.project.monitors[i]?.role === "off")
        return false;
      if (one.clearS === null || other.clearS === null) return one.clearS !== other.clearS;
      const [s, t] = [one.clearS.nominal, other.clearS.nominal];
      return Math.max(s, t) > STEP_RATIO * Math.min(s, t);
    });
  }
}

/** Every eighth, then what lies between, and so on: a sheet shows its shape early. */
function coarseFirst(xs: readonly number[]): number[] {
  const order: number[] = [];
  const seen = new Set<number>();
  for (const by of [8, 4, 2, 1]) {
    for (let k = 0; k < xs.length; k += by) {
      if (!seen.has(k)) order.push(xs[k] as number);
      seen.add(k);
    }
    const last = xs.length - 1;
    if (!seen.has(last)) order.push(xs[last] as number);
    seen.add(last);
  }
  return order;
}
