/**
 * Heat of a bench whose stage stands still, in steps longer than its samples: the clocks of all parts, and the edges of the
 * places where an arc burns. Same laws and same state as the bench's own; the late estimate of an edge is left
 * behind, the early one too once it has begun to melt, and an edge without an arc only cools and is left as it is.
 */
import { relativeAirDensity, standardPressurePa } from "../../physics/airgap/airDensity";
import { beadBridges } from "../../physics/heat/bead";
import { advanceClocks, CLOCK_PARTS, type Clocks, clocksOf } from "../../physics/heat/clocks";
import { METALS } from "../../physics/heat/metals";
import { advancePlateEdge, createPlateEdge, type PlateEdge } from "../../physics/heat/plateEdge";
import { ARC_COUNT, ARC_PLACES } from "../../physics/stage/layout";
import type { ArcPlace, Station } from "../../project/station";
import type { Bench } from "../../simulation/bench";
import { electrodeOf, HALF_MILLIGRAM_KG } from "../../simulation/damage";
import { airflowAt } from "../../simulation/faultEffects";
import { cleanGapM } from "../../simulation/gaps";
import { milestoneKey } from "../../simulation/logic";
import { ARC_ENERGY_AT, CLOCKS_AT, EDGE_VARIANTS, edgeAt } from "../../simulation/worldLayout";

const NOMINAL = EDGE_VARIANTS.indexOf("nominal");
const EARLY = EDGE_VARIANTS.indexOf("early");
const FOLLOWED = [NOMINAL, EARLY];

interface Laws {
  /** Of steps of each length, by its nanoseconds. */
  readonly clocks: Map<number, Clocks>;
  /** By place and variant. */
  readonly edges: Map<string, PlateEdge>;
}

/** Laws keep nothing between two calls: one set serves every bench of a station. */
const lawsOf = new WeakMap<Station, Laws>();

/** Moves the heat in `buffer` on by one step; true when a mark of damage falls into it. */
export type HeatStep = (buffer: Float64Array, stepNs: number) => boolean;

/** Heat at the stress of the sample a bench has just made. */
export function heatOf(bench: Bench): HeatStep {
  const { project, logic, sums, timeNs, sampleNs, damage } = bench;
  const { station } = project;
  const laws = lawsOf.get(station) ?? { clocks: new Map(), edges: new Map() };
  lawsOf.set(station, laws);
  const arcW = sums.arcJ.map((joules) => joules / (sampleNs * 1e-9));
  const arcPeakA = sums.arcPeakA.slice();
  const inputs = sums.clockInputs.slice();
  const airflow = airflowAt(logic, timeNs);
  const isSeen = (key: string): boolean => logic.milestones.includes(key);
  const newClocks = CLOCK_PARTS.flatMap((part, k) =>
    isSeen(milestoneKey(part, "damage", "nominal")) ? [] : [k],
  );

  const heatEdge = (buffer: Float64Array, a: number, variant: number, dtS: number): boolean => {
    const place = ARC_PLACES[a] as ArcPlace;
    const name = variant === NOMINAL ? "nominal" : "early";
    const onsetSeen = isSeen(milestoneKey(place, "meltOnset", name));
    if (variant === EARLY && onsetSeen) return false;
    const edge = edgeOf(laws, station, place, variant);
    const at = edgeAt(a, variant);
    advancePlateEdge(edge, buffer, at, dtS, arcW[a] as number, arcPeakA[a] as number);
    if (!onsetSeen && damage.edgeFraction(buffer, a, variant) >= 1) return true;
    if (variant !== NOMINAL) return false;
    const melted = damage.peakMoltenKg(buffer, a);
    if (melted >= HALF_MILLIGRAM_KG && !isSeen(milestoneKey(place, "halfMilligram", name)))
      return true;
    const grown = logic.beadRemoved[a] ? damage.moltenKg(buffer, a) : melted;
    return (
      beadBridges(METALS[damage.metalAt(a)], grown, cleanGapM(station, place)) &&
      !isSeen(milestoneKey(place, "bridged", name))
    );
  };

  return (buffer, stepNs) => {
    const dtS = stepNs * 1e-9;
    advanceClocks(clocksFor(laws, station, stepNs), buffer, CLOCKS_AT, inputs, airflow);
    let isMarked = newClocks.some((k) => damage.clockFraction(buffer, k) >= 1);
    for (let a = 0; a < ARC_COUNT; a++) {
      const watts = arcW[a] as number;
      if (watts <= 0) continue;
      buffer[ARC_ENERGY_AT + a] = (buffer[ARC_ENERGY_AT + a] as number) + watts * dtS;
      for (const variant of FOLLOWED) isMarked = heatEdge(buffer, a, variant, dtS) || isMarked;
    }
    return isMarked;
  };
}

function clocksFor(laws: Laws, station: Station, stepNs: number): Clocks {
  const known = laws.clocks.get(stepNs);
  if (known !== undefined) return known;
  const { altitudeM, airK } = station.site;
  const inletK = station.cooling.inletK ?? airK;
  const density = relativeAirDensity(standardPressurePa(altitudeM), inletK);
  const made = clocksOf(station, stepNs * 1e-9, density);
  laws.clocks.set(stepNs, made);
  return made;
}

function edgeOf(laws: Laws, station: Station, place: ArcPlace, variant: number): PlateEdge {
  const key = `${place} ${variant}`;
  const known = laws.edges.get(key);
  if (known !== undefined) return known;
  const { metal, thicknessM } = electrodeOf(station, place);
  const { startK } = station.erosion;
  const estimate = station.erosion[variant === NOMINAL ? "nominal" : "early"];
  const made = createPlateEdge({ thicknessM, metal: METALS[metal], startK, ...estimate });
  laws.edges.set(key, made);
  return made;
}
