/** A race and everything a picture of it is drawn from, as plain data. */
import { CLOCK_PARTS } from "../../physics/heat/clocks";
import type { Bench, FaultStart } from "../../simulation/bench";
import { BURST_GRID_NS } from "../../simulation/burst";
import { CHANNEL_COUNT } from "../../simulation/channels";
import { faultResult } from "../../simulation/simulate";
import type { RaceReport, TrackPoints } from "./protocol";
import { recordedRow } from "./runner";
import type { UnprotectedRun } from "./unprotectedRun";

function trackOf(bench: Bench, zeroNs: number): TrackPoints {
  const track = bench.recorder.tracks.find((t) => t.kind === "fault" && t.atNs === zeroNs);
  if (track === undefined) return { sinceNs: [], rows: new Float64Array(0) };
  return {
    sinceNs: BURST_GRID_NS.slice(0, track.count),
    rows: track.data.slice(0, track.count * CHANNEL_COUNT),
  };
}

/** The race of `start` as it stands, `acting` being the protected run. */
export function raceReport(acting: Bench, start: FaultStart, alone: UnprotectedRun): RaceReport {
  const { twin } = alone;
  const { zero } = start;
  const next = acting.zeros.find((z) => z.zero.atNs > zero.atNs);
  const result = faultResult(acting, start, next?.zero.atNs ?? Infinity, twin);
  return {
    zero,
    race: result.race,
    supply: result.supply,
    before: recordedRow(start.snapshot.buffer, CHANNEL_COUNT).slice(),
    acting: trackOf(acting, zero.atNs),
    alone: trackOf(twin, zero.atNs),
    aloneEdge: {
      atNs: alone.edge.atNs.slice(),
      fractions: alone.edge.fractions.map((f) => f.slice()),
    },
    aloneEvents: twin.events.slice(),
    aloneReachedNs: alone.reachedNs,
    aloneDone: alone.isDone,
    aloneClocks: CLOCK_PARTS.map((_, k) => ({
      stress: twin.damage.clockStress(twin.buffer, k),
      fraction: twin.damage.clockFraction(twin.buffer, k),
      leftS: twin.damage.clockTimeLeftS(twin.buffer, k),
    })),
    found: twin.found,
    moltenKg: result.moltenKg,
  };
}
