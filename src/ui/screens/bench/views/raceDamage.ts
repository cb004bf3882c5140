/**
 * Way-to-damage lanes of the race: the struck edge from its tracks and its milestones, the clocks of grid, anode,
 * cathode and exciter from the run left alone. Times in seconds from the fault's time zero.
 */
import { METALS } from "../../../../physics/heat/metals";
import type { ArcPlace } from "../../../../project/station";
import type { RaceReport } from "../../../../shells/bench/protocol";
import { CH } from "../../../../simulation/channels";
import type { DamageLane as RaceDamage } from "../../../../simulation/race";
import { formatCelsius, formatPercent, formatTime } from "../../../../units/format";
import type { DamageLane, DamageStage, RacePoint } from "../../../instruments/race/raceView";
import {
  channelPoints,
  clockLanes,
  type DamageSource,
  emptyLane,
  isClock,
  spanOf,
} from "./clockLanes";
import type { Clearing } from "./laneState";
import { electrodeOf, METAL_WORDS, PLACE_WORDS, STEP_WORDS, spanWords, upperFirst } from "./words";

/** Left end of the axis. */
const AXIS_FROM_S = 1e-6;
/** Lanes of a fault: the struck part first and tall, then other parts that burned, then the clocks nearest to damage. */
export function damageLanesOf(source: DamageSource): readonly DamageLane[] {
  const edges = source.report.race.damage.filter((lane) => !isClock(lane.part));
  return [
    ...edges.map((lane) =>
      lane.struck ? struckLane(source, lane, lane.part as ArcPlace) : otherLane(lane),
    ),
    ...clockLanes(source),
  ];
}

// ------------------------------------------------------------------ struck edge

function struckLane(source: DamageSource, lane: RaceDamage, place: ArcPlace): DamageLane {
  const { report, nowS, clearing, arcOut, station } = source;
  const { metal } = electrodeOf(station, place);
  const isPlate = place === "tuningCapacitor" || place === "loadingCapacitor";
  const now = nowS ?? 0;
  const outS = arcOut?.happened === true ? arcOut.atS : null;
  const burnedTo = nowS === null ? 0 : Math.min(now, outS ?? now);
  const acting = channelPoints(report.acting, CH.edgeFraction);
  const onsetS = lane.onsetUnprotectedS;
  return {
    ...emptyLane(place, isPlate ? "Plate edge" : upperFirst(PLACE_WORDS[place])),
    notes: [
      isPlate ? `${PLACE_WORDS[place]}, ${METAL_WORDS[metal]}` : METAL_WORDS[metal],
      "way to melt onset",
    ],
    tall: true,
    burning: acting.filter((p) => p.atS <= burnedTo),
    cooling: outS === null ? [] : acting.filter((p) => p.atS >= outS && p.atS <= now),
    leftAlone: toOnset(
      edgePoints(report, 0).filter((p) => p.atS >= burnedTo),
      onsetS,
    ),
    slowEdge: toOnset(edgePoints(report, 2), lane.onsetUnprotectedLateS),
    onsetEarlyS: lane.onsetUnprotectedEarlyS,
    onsetS,
    onsetLateS: lane.onsetUnprotectedLateS,
    stages: stagesOf(source, lane, place),
    limitWord: `melt onset, ${formatCelsius(METALS[metal].meltingK)}`,
    reachedWord: reachedWord(source, lane, clearing),
    head: onsetS === null ? (report.aloneDone ? "no melting" : "not yet") : formatTime(onsetS),
    headNotes: headNotes(report, lane),
  };
}

function headNotes(report: RaceReport, lane: RaceDamage): readonly string[] {
  const { onsetUnprotectedEarlyS: early, onsetUnprotectedLateS: late, onsetUnprotectedS } = lane;
  const span = spanOf(report);
  if (onsetUnprotectedS === null) {
    const within = report.aloneDone ? `within ${span}` : `after ${span}`;
    return early === null ? [within] : [within, `early edge ${formatTime(early)}`];
  }
  if (early === null) return ["melt onset"];
  return [
    "melt onset",
    late === null ? `from ${formatTime(early)} on` : spanWords(formatTime(early), formatTime(late)),
  ];
}

/** How far the edge had come, or would have come, when the arc went out. */
function reachedWord(
  { report, nowS }: DamageSource,
  lane: RaceDamage,
  clearing: Clearing | null,
): string {
  if (clearing === null) return "";
  if (clearing.happened && nowS !== null)
    return lane.greatestFraction >= 1
      ? "melted before the arc went out"
      : `peak ${formatPercent(lane.greatestFraction)}, when the arc went out`;
  const fraction = fractionAt(edgePoints(report, 0), clearing.atS);
  if (fraction === null) return "";
  if (clearing.due !== null) {
    const due = `the ${STEP_WORDS[clearing.due]} is due`;
    return fraction >= 1 ? `melts before ${due}` : `${formatPercent(fraction)} when ${due}`;
  }
  return fraction >= 1
    ? "melts before the arc goes out"
    : `peak ${formatPercent(fraction)}, when the arc goes out`;
}

function fractionAt(points: readonly RacePoint[], atS: number): number | null {
  let before: RacePoint | null = null;
  for (const point of points) {
    if (point.atS >= atS) {
      if (before === null) return point.fraction;
      const part = (atS - before.atS) / (point.atS - before.atS);
      return before.fraction + part * (point.fraction - before.fraction);
    }
    before = point;
  }
  return null;
}

/** Molten, bead, bridged: as far as the run left alone goes, and what of it happened in this run. */
function stagesOf(source: DamageSource, lane: RaceDamage, place: ArcPlace): readonly DamageStage[] {
  const { onsetUnprotectedS: melt, bridgedS: bridged } = lane;
  // A narrow gap is bridged before the bead is one to be seen.
  const bead =
    lane.beadS !== null && (bridged === null || lane.beadS < bridged) ? lane.beadS : null;
  const { zero } = source.report;
  const happened = (milestone: string): boolean =>
    source.nowS !== null &&
    source.protectedEvents.some(
      (e) =>
        e.kind === "milestone" &&
        e.part === place &&
        e.edge === "nominal" &&
        e.milestone === milestone &&
        e.atNs >= zero.atNs &&
        (e.atNs - zero.atNs) / 1e9 <= (source.nowS ?? 0),
    );
  const stages: DamageStage[] = [];
  if (melt !== null)
    stages.push({
      word: "melt",
      fromS: melt,
      toS: bead ?? bridged,
      happened: happened("meltOnset"),
    });
  if (bead !== null)
    stages.push({ word: "bead", fromS: bead, toS: bridged, happened: happened("bead") });
  if (bridged !== null)
    stages.push({ word: "bridged", fromS: bridged, toS: null, happened: happened("bridged") });
  return stages;
}

/** Points of an edge's way, from the left end of the axis on: before the first sample's end it goes as the root of time. */
function edgePoints({ aloneEdge }: RaceReport, variant: number): readonly RacePoint[] {
  const fractions = aloneEdge.fractions[variant] ?? [];
  const points = aloneEdge.atNs.map((ns, i) => ({ atS: ns / 1e9, fraction: fractions[i] ?? 0 }));
  const first = points[0];
  if (first === undefined || first.atS <= AXIS_FROM_S) return points;
  const early = [1e-6, 3e-6, 1e-5, 3e-5]
    .filter((atS) => atS < first.atS)
    .map((atS) => ({ atS, fraction: first.fraction * Math.sqrt(atS / first.atS) }));
  return [...early, ...points];
}

/** Up to the onset, which ends the curve at 1. */
function toOnset(points: readonly RacePoint[], onsetS: number | null): readonly RacePoint[] {
  if (onsetS === null) return points;
  const before = points.filter((p) => p.atS < onsetS);
  return [...before, { atS: onsetS, fraction: 1 }];
}

/** A part that burned as well without being the one that was struck first. */
function otherLane(lane: RaceDamage): DamageLane {
  const onsetS = lane.onsetUnprotectedS;
  const name = upperFirst(PLACE_WORDS[lane.part as ArcPlace]);
  return {
    ...emptyLane(lane.part, name),
    onsetEarlyS: lane.onsetUnprotectedEarlyS,
    onsetS,
    onsetLateS: lane.onsetUnprotectedLateS,
    why: "an arc burned here as well",
    head: onsetS === null ? "no melting" : formatTime(onsetS),
  };
}
