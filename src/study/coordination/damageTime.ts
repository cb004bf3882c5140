/**
 * How long the parts stand a stress: melting edges by stepping the edge itself, clocks by their own time left, from the
 * heat that a long healthy full carrier has put into them.
 */
import { relativeAirDensity, standardPressurePa } from "../../physics/airgap/airDensity";
import {
  advanceClocks,
  CLOCK_PARTS,
  CLOCK_STATE_LENGTH,
  type ClockPart,
  type Clocks,
  clockFraction,
  clocksOf,
  clockTimeLeftS,
  initClocks,
} from "../../physics/heat/clocks";
import { METALS } from "../../physics/heat/metals";
import {
  advancePlateEdge,
  createPlateEdge,
  initPlateEdge,
  onsetFraction,
  PLATE_EDGE_STATE_LENGTH,
  type PlateEdge,
  peakMoltenKg,
} from "../../physics/heat/plateEdge";
import { testWireA2s } from "../../physics/supply/copperWire";
import type { ArcPlace, Station } from "../../project/station";
import { electrodeOf, HALF_MILLIGRAM_KG } from "../../simulation/damage";
import type { EdgeVariant } from "../../simulation/worldLayout";
import { isHeated, type Stressed } from "./stressed";

/** What is hurt: a melting edge, a part with a clock, or the test wire across the supply. */
export type HurtPart = ArcPlace | ClockPart | "testWire";

export interface DamageTime {
  readonly part: HurtPart;
  /** `onset`: begins to melt; `halfMilligram`: so much is molten; `damage`: a clock is at its end. */
  readonly milestone: "onset" | "halfMilligram" | "damage";
  /** Seconds from the first instant; null for not within the time looked at, or never. */
  readonly nominalS: number | null;
  /** The band of an estimate; both equal to the nominal where there is none. */
  readonly earlyS: number | null;
  readonly lateS: number | null;
}

/** Edges are followed for this long: twice what an operator takes. */
export const LONGEST_MELT_S = 5;
const FIRST_STEP_S = 5e-6;
/** Step of a melting edge over the time gone. */
const STEP_SHARE = 0.02;
/** Long against every time constant of the station's parts. */
const HOT_STEPS = 4000;
const HOT_STEP_S = 1;

export function airDensityOf(station: Station): number {
  const { altitudeM, airK } = station.site;
  return relativeAirDensity(standardPressurePa(altitudeM), station.cooling.inletK ?? airK);
}

export class DamageTimes {
  /** Clocks after a long healthy full carrier. */
  readonly hot = new Float64Array(CLOCK_STATE_LENGTH);
  readonly density: number;
  private readonly clocks: Clocks;

  constructor(
    private readonly station: Station,
    healthy: Stressed,
    private readonly sampleS: number,
  ) {
    this.density = airDensityOf(station);
    this.clocks = clocksOf(station, sampleS, this.density);
    const slow = clocksOf(station, HOT_STEP_S, this.density);
    initClocks(slow, this.hot, 0);
    const heat = healthy.heats[0] as Float64Array;
    for (let k = 0; k < HOT_STEPS; k++) advanceClocks(slow, this.hot, 0, heat, 1);
  }

  /** Everything this stress hurts within reach, and edges that it heats in vain. */
  of(stressed: Stressed): readonly DamageTime[] {
    const { arc } = stressed;
    return [
      ...(arc === null ? [] : this.edge(arc.place, arc.watts, arc.peakA)),
      ...this.clockTimes(stressed),
      ...this.wire(stressed),
    ];
  }

  /** Most urgent clock of a constant heat: the less time it leaves, the more; below zero where none ever ends. */
  harm(heat: Float64Array): number {
    const state = this.hot.slice();
    advanceClocks(this.clocks, state, 0, heat, 1);
    let shortest = Infinity;
    let nearest = 0;
    for (let k = 0; k < CLOCK_PARTS.length; k++) {
      if (!isHeated(k)) continue;
      shortest = Math.min(shortest, clockTimeLeftS(this.clocks, state, 0, k));
      const input = heat[k] as number;
      nearest = Math.max(nearest, input / (this.clocks.perStress[k] as number));
    }
    return shortest < Infinity ? 1e9 - shortest : nearest - 1e9;
  }

  private clockTimes({ heats }: Stressed): readonly DamageTime[] {
    const { clocks, sampleS } = this;
    const state = this.hot.slice();
    const at = new Float64Array(CLOCK_PARTS.length).fill(Infinity);
    for (const [i, heat] of heats.entries()) {
      for (let k = 0; k < at.length; k++) {
        if (at[k] === Infinity && clockFraction(clocks, state, 0, k) >= 1) at[k] = i * sampleS;
      }
      advanceClocks(clocks, state, 0, heat, 1);
    }
    const goneS = heats.length * sampleS;
    return CLOCK_PARTS.flatMap((part, k): DamageTime[] => {
      if (!isHeated(k)) return [];
      const seconds = Math.min(at[k] as number, goneS + clockTimeLeftS(clocks, state, 0, k));
      return seconds === Infinity ? [] : [sharp(part, seconds)];
    });
  }

  /** A fine wire in the place of a short, the usual test of what a supply lets through. */
  private wire({ heats, means }: Stressed): readonly DamageTime[] {
    if (heats.length === 1) return []; // no short: its current has no course
    let sum = 0;
    const limit = testWireA2s();
    for (const [i, seen] of means.entries()) {
      const a2 = (seen[PLATE_CURRENT] as number) * (seen[PLATE_CURRENT] as number);
      if (sum + a2 * this.sampleS >= limit)
        return [sharp("testWire", (i + (limit - sum) / (a2 * this.sampleS)) * this.sampleS)];
      sum += a2 * this.sampleS;
    }
    const lastA = (means.at(-1) as Float64Array)[PLATE_CURRENT] as number;
    return [sharp("testWire", means.length * this.sampleS + (limit - sum) / (lastA * lastA))];
  }

  private edge(place: ArcPlace, watts: number, peakA: number): readonly DamageTime[] {
    const times = (variant: EdgeVariant): MeltTimes =>
      meltTimes(this.edgeOf(place, variant), watts, peakA, variant === "nominal");
    // an estimate that melts later than one that does not melt in this time need not be followed
    const early = times("early");
    const nominal = early.onsetS === null ? early : times("nominal");
    const late = nominal.onsetS === null ? nominal : times("late");
    const halfS = nominal.halfMilligramS;
    return [
      {
        part: place,
        milestone: "onset",
        nominalS: nominal.onsetS,
        earlyS: early.onsetS,
        lateS: late.onsetS,
      },
      { part: place, milestone: "halfMilligram", nominalS: halfS, earlyS: halfS, lateS: halfS },
    ];
  }

  private edgeOf(place: ArcPlace, variant: EdgeVariant): PlateEdge {
    const { metal, thicknessM } = electrodeOf(this.station, place);
    const { erosion } = this.station;
    return createPlateEdge({
      thicknessM,
      metal: METALS[metal],
      startK: erosion.startK,
      ...erosion[variant],
    });
  }
}

const PLATE_CURRENT = 4; // in the order of SENSOR_NAMES

function sharp(part: HurtPart, seconds: number): DamageTime {
  return { part, milestone: "damage", nominalS: seconds, earlyS: seconds, lateS: seconds };
}

export interface MeltTimes {
  readonly onsetS: number | null;
  readonly halfMilligramS: number | null;
}

/** Steps an edge under a steady arc to its onset, or on to half a milligram; null for not within LONGEST_MELT_S. */
export function meltTimes(
  edge: PlateEdge,
  watts: number,
  peakA: number,
  isToMass: boolean,
): MeltTimes {
  const state = new Float64Array(PLATE_EDGE_STATE_LENGTH);
  initPlateEdge(edge, state, 0);
  let goneS = 0;
  let onsetS: number | null = null;
  while (goneS < LONGEST_MELT_S) {
    const dtS = Math.max(FIRST_STEP_S, STEP_SHARE * goneS);
    const [before, beforeKg] = [onsetFraction(edge, state, 0), peakMoltenKg(state, 0)];
    advancePlateEdge(edge, state, 0, dtS, watts, peakA);
    const [after, afterKg] = [onsetFraction(edge, state, 0), peakMoltenKg(state, 0)];
    if (onsetS === null && after >= 1) {
      onsetS = goneS + share(before, after, 1) * dtS;
      if (!isToMass) break;
    }
    if (afterKg >= HALF_MILLIGRAM_KG) {
      const halfMilligramS = goneS + share(beforeKg, afterKg, HALF_MILLIGRAM_KG) * dtS;
      return { onsetS, halfMilligramS };
    }
    goneS += dtS;
  }
  return { onsetS, halfMilligramS: null };
}

/** How far into a step a straight line from `before` to `after` comes to `level`. */
function share(before: number, after: number, level: number): number {
  return before < level && after > before ? (level - before) / (after - before) : 0;
}
