/**
 * The parts' way to damage, sample by sample: melting edges of the places that can arc (nominal, early
 * and late estimate side by side) and the clocks of all parts that heat.
 */

import { relativeAirDensity, standardPressurePa } from "../physics/airgap/airDensity";
import { beadBridges, beadDiameterM } from "../physics/heat/bead";
import {
  advanceClocks,
  CLOCK_COUNT,
  CLOCK_PARTS,
  type ClockPart,
  type Clocks,
  clockExhaustAirK,
  clockFraction,
  clockStress,
  clocksOf,
  clockTimeLeftS,
  hotSwitchJ,
  initClocks,
  wearRelay,
} from "../physics/heat/clocks";
import { METALS } from "../physics/heat/metals";
import {
  absorbedJ,
  advancePlateEdge,
  cellK,
  createPlateEdge,
  hottestK,
  initPlateEdge,
  moltenMassKg,
  onsetFraction,
  PLATE_EDGE_CELLS,
  type PlateEdge,
  peakMoltenKg,
} from "../physics/heat/plateEdge";
import { ARC_COUNT, ARC_PLACES } from "../physics/stage/layout";
import { LINE_OHM } from "../physics/stage/stationCircuit";
import type { ArcPlace, MetalName, Station } from "../project/station";
import type { DamagePart, Milestone } from "./benchEvent";
import { milestoneKey } from "./logic";
import { CLOCKS_AT, EDGE_VARIANTS, type EdgeVariant, edgeAt } from "./worldLayout";

const DAMAGE_KEYS = CLOCK_PARTS.map((part) => milestoneKey(part, "damage", "nominal"));

/** Molten mass of the second mark, kilograms. */
export const HALF_MILLIGRAM_KG = 0.5e-6;
/** A bead this wide can be seen without a glass. */
export const BEAD_M = 1e-3;

export type LogMilestone = (
  part: DamagePart,
  milestone: Milestone,
  edge: EdgeVariant,
  atNs: number,
) => void;

/** The plates when the operator opens the key, in the order of ARC_PLACES. */
export interface Found {
  readonly atNs: number;
  readonly moltenKg: readonly number[];
  readonly place: number;
  /** Temperatures of the worst place's cells, from the root outwards. */
  readonly cellsK: Float64Array;
}

export class Damage {
  private readonly edges: readonly (readonly PlateEdge[])[];
  private readonly clocks: Clocks;
  private readonly metal: readonly MetalName[];
  /** Scratch of one step. */
  private readonly before = new Float64Array(CLOCK_COUNT);

  constructor(station: Station, sampleS: number) {
    const { altitudeM, airK } = station.site;
    const density = relativeAirDensity(
      standardPressurePa(altitudeM),
      station.cooling.inletK ?? airK,
    );
    this.clocks = clocksOf(station, sampleS, density);
    this.metal = ARC_PLACES.map((place) => electrodeOf(station, place).metal);
    this.edges = ARC_PLACES.map((place) => {
      const { metal, thicknessM } = electrodeOf(station, place);
      return EDGE_VARIANTS.map((variant) =>
        createPlateEdge({
          thicknessM,
          metal: METALS[metal],
          startK: station.erosion.startK,
          spotAPerM2: station.erosion[variant].spotAPerM2,
          electrodeShare: station.erosion[variant].electrodeShare,
        }),
      );
    });
  }

  /** Everything cold, in a world's buffer. */
  init(f: Float64Array): void {
    for (let a = 0; a < ARC_COUNT; a++) {
      for (let v = 0; v < EDGE_VARIANTS.length; v++)
        initPlateEdge(this.edge(a, v), f, edgeAt(a, v));
    }
    initClocks(this.clocks, f, CLOCKS_AT);
  }

  private edge(place: number, variant: number): PlateEdge {
    return (this.edges[place] as readonly PlateEdge[])[variant] as PlateEdge;
  }

  /**
   * One sample of `dtS` ending at `endNs`. `arcJ` and `arcPeakA` per place: energy taken in the sample and
   * the mean peak current while it burned; `inputs` what heats the clocks, in the order of CLOCK_PARTS;
   * `airflow` the share of full airflow; `gapsM` the air a bead has to cross at each, `beadRemoved` where one has been taken off.
   */
  advance(
    f: Float64Array,
    endNs: number,
    dtS: number,
    arcJ: Float64Array,
    arcPeakA: Float64Array,
    inputs: Float64Array,
    airflow: number,
    gapsM: Float64Array,
    beadRemoved: readonly boolean[],
    seen: readonly string[],
    log: LogMilestone,
  ): void {
    const startNs = endNs - Math.round(dtS * 1e9);
    for (let a = 0; a < ARC_COUNT; a++) {
      const watts = (arcJ[a] as number) / dtS;
      if (watts <= 0 && absorbedJ(f, edgeAt(a, 0)) === 0) continue;
      const place = ARC_PLACES[a] as ArcPlace;
      for (let v = 0; v < EDGE_VARIANTS.length; v++) {
        const edge = this.edge(a, v);
        const at = edgeAt(a, v);
        const before = onsetFraction(edge, f, at);
        advancePlateEdge(edge, f, at, dtS, watts, arcPeakA[a] as number);
        if (watts <= 0) continue;
        const variant = EDGE_VARIANTS[v] as EdgeVariant;
        const after = onsetFraction(edge, f, at);
        if (after >= 1 && !seen.includes(milestoneKey(place, "meltOnset", variant))) {
          const part = before < 1 ? (1 - before) / (after - before) : 0;
          log(place, "meltOnset", variant, startNs + Math.round(part * dtS * 1e9));
        }
        const molten = peakMoltenKg(f, at);
        if (molten <= 0) continue;
        const metal = METALS[this.metal[a] as MetalName];
        const bead = beadDiameterM(metal, molten);
        const grown = beadRemoved[a] ? moltenMassKg(f, at) : molten;
        const bridges = beadBridges(metal, grown, gapsM[a] as number);
        this.mass(place, variant, molten >= HALF_MILLIGRAM_KG, "halfMilligram", endNs, seen, log);
        this.mass(place, variant, bead >= BEAD_M, "bead", endNs, seen, log);
        this.mass(place, variant, bridges, "bridged", endNs, seen, log);
      }
    }
    this.advanceClocks(f, startNs, dtS, inputs, airflow, seen, log);
  }

  private advanceClocks(
    f: Float64Array,
    startNs: number,
    dtS: number,
    inputs: Float64Array,
    airflow: number,
    seen: readonly string[],
    log: LogMilestone,
  ): void {
    const { clocks, before } = this;
    for (let k = 0; k < CLOCK_COUNT; k++) before[k] = f[CLOCKS_AT + k] as number;
    advanceClocks(clocks, f, CLOCKS_AT, inputs, airflow);
    for (let k = 0; k < CLOCK_COUNT; k++) {
      const after = f[CLOCKS_AT + k] as number;
      const limit = clocks.limits[k] as number;
      if (after < limit || seen.includes(DAMAGE_KEYS[k] as string)) continue;
      const was = before[k] as number;
      const share = was < limit ? (limit - was) / (after - was) : 0;
      const atNs = startNs + Math.round(share * dtS * 1e9);
      log(CLOCK_PARTS[k] as ClockPart, "damage", "nominal", atNs);
    }
  }

  /** The T/R relay moved while `rfPeakV` lay on the output: what that costs its contacts. */
  switchHot(f: Float64Array, rfPeakV: number): void {
    wearRelay(this.clocks, f, CLOCKS_AT, hotSwitchJ(rfPeakV, LINE_OHM));
  }

  private mass(
    place: ArcPlace,
    variant: EdgeVariant,
    reached: boolean,
    milestone: Milestone,
    atNs: number,
    seen: readonly string[],
    log: LogMilestone,
  ): void {
    if (reached && !seen.includes(milestoneKey(place, milestone, variant))) {
      log(place, milestone, variant, atNs);
    }
  }

  /** How far a clock, counted as in CLOCK_PARTS, has gone towards damage; 1 is damage. */
  clockFraction(f: Float64Array, k: number): number {
    return clockFraction(this.clocks, f, CLOCKS_AT, k);
  }

  /** Heat of the last sample over what the part carries for good; above 1 it is overloaded. */
  clockStress(f: Float64Array, k: number): number {
    return clockStress(f, CLOCKS_AT, k);
  }

  /** Seconds to damage if stress and airflow stay as in the last sample; Infinity for never. */
  clockTimeLeftS(f: Float64Array, k: number): number {
    return clockTimeLeftS(this.clocks, f, CLOCKS_AT, k);
  }

  /** Air that leaves the anode's cooler at the end of the last sample, kelvin. */
  exhaustAirK(f: Float64Array): number {
    return clockExhaustAirK(f, CLOCKS_AT);
  }

  /** Metal of the edges at a place, counted as in ARC_PLACES. */
  metalAt(place: number): MetalName {
    return this.metal[place] as MetalName;
  }

  /** Place whose nominal edge is furthest on its way; 0 when none has been heated. */
  worstPlace(f: Float64Array): number {
    let worst = 0;
    let most = -1;
    for (let a = 0; a < ARC_COUNT; a++) {
      if (absorbedJ(f, edgeAt(a, 0)) === 0) continue;
      const heat =
        onsetFraction(this.edge(a, 0), f, edgeAt(a, 0)) + 1e9 * peakMoltenKg(f, edgeAt(a, 0));
      if (heat > most) {
        most = heat;
        worst = a;
      }
    }
    return worst;
  }

  /** How far an edge has gone towards the onset of melting; 1 is onset. */
  edgeFraction(f: Float64Array, place: number, variant = 0): number {
    return onsetFraction(this.edge(place, variant), f, edgeAt(place, variant));
  }

  /** Hottest cell of an edge, kelvin. */
  edgeK(f: Float64Array, place: number, variant = 0): number {
    return hottestK(this.edge(place, variant), f, edgeAt(place, variant));
  }

  /** Mass that is molten now, kilograms. */
  moltenKg(f: Float64Array, place: number, variant = 0): number {
    return moltenMassKg(f, edgeAt(place, variant));
  }

  /** Greatest mass that has been molten at once, kilograms. */
  peakMoltenKg(f: Float64Array, place: number, variant = 0): number {
    return peakMoltenKg(f, edgeAt(place, variant));
  }

  /** The plates as somebody would find them who looked at `atNs`. */
  inspect(f: Float64Array, atNs: number): Found {
    const place = this.worstPlace(f);
    return {
      atNs,
      moltenKg: ARC_PLACES.map((_, a) => this.peakMoltenKg(f, a)),
      place,
      cellsK: this.cellsK(f, place),
    };
  }

  /** Temperatures of a place's cells, from the root outwards, for drawing. */
  cellsK(f: Float64Array, place: number, variant = 0): Float64Array {
    const edge = this.edge(place, variant);
    return Float64Array.from({ length: PLATE_EDGE_CELLS }, (_, i) =>
      cellK(edge, f, edgeAt(place, variant), i),
    );
  }
}

export function electrodeOf(
  station: Station,
  place: ArcPlace,
): { readonly metal: MetalName; readonly thicknessM: number } {
  switch (place) {
    case "tuningCapacitor":
      return {
        metal: station.tuningCapacitor.metal,
        thicknessM: station.tuningCapacitor.plateThicknessM,
      };
    case "loadingCapacitor":
      return {
        metal: station.loadingCapacitor.metal,
        thicknessM: station.loadingCapacitor.plateThicknessM,
      };
    case "coilTap":
      return station.bandSwitch;
    case "beyondCoupler":
      return station.outputContact;
  }
}
