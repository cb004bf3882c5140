/**
 * The parts' way to damage, sample by sample: melting edges of the places that can arc (nominal, early
 * and late estimate side by side) and the clocks of grid, anode, cathode and exciter.
 */
import { beadBridges, beadDiameterM } from "../physics/heat/bead";
import {
  advanceClock,
  type ClockDef,
  type ClockPart,
  damageClocks,
  damageFraction,
  stressOf,
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
import type { ArcPlace, MetalName, Station } from "../project/station";
import type { DamagePart, Milestone } from "./benchEvent";
import { milestoneKey } from "./logic";
import { CLOCKS_AT, EDGE_VARIANTS, type EdgeVariant, edgeAt } from "./worldLayout";

export const CLOCK_PARTS: readonly ClockPart[] = ["grid", "anode", "cathode", "exciter"];

/** Molten mass of the second mark, kilograms. */
export const HALF_MILLIGRAM_KG = 0.5e-6;
/** A bead this wide can be seen without a glass. */
export const BEAD_M = 1e-3;

/** Means over one sample that heat the parts, in the order of CLOCK_PARTS. */
export type ClockInputs = Float64Array;

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
  readonly clocks: readonly ClockDef[];
  private readonly metal: readonly MetalName[];

  constructor(station: Station) {
    const clocks = damageClocks(station.ratings);
    this.clocks = CLOCK_PARTS.map((part) => clocks[part]);
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
    f.fill(0, CLOCKS_AT, CLOCKS_AT + CLOCK_PARTS.length);
  }

  private edge(place: number, variant: number): PlateEdge {
    return (this.edges[place] as readonly PlateEdge[])[variant] as PlateEdge;
  }

  /**
   * One sample of `dtS` ending at `endNs`. `arcJ` and `arcPeakA` per place: energy taken in the sample and
   * the mean peak current while it burned; `gapsM` the clear air each has, which a bead may bridge.
   */
  advance(
    f: Float64Array,
    endNs: number,
    dtS: number,
    arcJ: Float64Array,
    arcPeakA: Float64Array,
    inputs: ClockInputs,
    gapsM: Float64Array,
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
        const bridges = beadBridges(metal, molten, gapsM[a] as number);
        this.mass(place, variant, molten >= HALF_MILLIGRAM_KG, "halfMilligram", endNs, seen, log);
        this.mass(place, variant, bead >= BEAD_M, "bead", endNs, seen, log);
        this.mass(place, variant, bridges, "bridged", endNs, seen, log);
      }
    }
    for (let k = 0; k < CLOCK_PARTS.length; k++) {
      const clock = this.clocks[k] as ClockDef;
      const before = f[CLOCKS_AT + k] as number;
      const after = advanceClock(clock, before, stressOf(clock, inputs[k] as number), dtS);
      f[CLOCKS_AT + k] = after;
      const part = CLOCK_PARTS[k] as ClockPart;
      if (after >= clock.damageRatio && !seen.includes(milestoneKey(part, "damage", "nominal"))) {
        const share =
          before < clock.damageRatio ? (clock.damageRatio - before) / (after - before) : 0;
        log(part, "damage", "nominal", startNs + Math.round(share * dtS * 1e9));
      }
    }
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
    return damageFraction(this.clocks[k] as ClockDef, f[CLOCKS_AT + k] as number);
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

function electrodeOf(
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
