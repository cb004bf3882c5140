/**
 * How much the scan's phase matters: the earliest and the latest a monitor can operate on the same fault.
 *
 *   s' = (u - s)/tau     each sensor behind its own low-pass, then the monitor's common smoothing
 *
 * The instant at which the sensed quantity passes the pickup does not depend on the scan. The next scan sees it, at once
 * or a whole scan later, and the confirmation follows: best = crossing + confirmation, worst = best + one scan.
 * Noise and converter steps are left out. Estimate, good to the grid of the track (a tenth of the time).
 */
import type { MonitorDef, SensorName, Sensors } from "../../../../project/protection";
import { createReader, sensorsOf } from "../../../../protection/derived";
import type { TrackPoints } from "../../../../shells/bench/protocol";
import { CHANNEL_COUNT } from "../../../../simulation/channels";
import type { ExpectedGain } from "../../../../simulation/gainTable";
import { quantityOf } from "../../../../simulation/quantityOf";

export interface ScanPhaseInput {
  readonly def: MonitorDef;
  readonly criterion: number;
  readonly pickupS: number;
  readonly operateS: number;
  readonly sensors: Sensors;
  readonly before: Float64Array;
  readonly track: TrackPoints;
  readonly expectedGain: ExpectedGain | null;
}

export interface ScanPhases {
  readonly bestS: number;
  readonly worstS: number;
}

/** Earliest and latest operate time over all scan phases; null where no scan is involved or nothing can be said. */
export function scanPhases(input: ScanPhaseInput): ScanPhases | null {
  const { def, pickupS, operateS } = input;
  const timing = def.criteria[input.criterion]?.timing.kind;
  if (def.path !== "scanned" || (timing !== "definite" && timing !== "instantaneous")) return null;
  const crossing = crossingS(input);
  if (crossing === null) return null;
  // The scan that saw it was the first one after the crossing.
  const held = Math.min(Math.max(crossing, pickupS - def.scanS), pickupS);
  const bestS = held + (operateS - pickupS);
  return { bestS, worstS: bestS + def.scanS };
}

function crossingS(input: ScanPhaseInput): number | null {
  const { def, sensors, before, track, expectedGain } = input;
  const criterion = def.criteria[input.criterion];
  if (criterion === undefined) return null;
  const { quantity, pickup, side } = criterion;
  if (quantity === "gainDeviationDb" && expectedGain === null) return null;
  const names = sensorsOf(quantity);
  const read = createReader(
    quantity,
    (name) => names.indexOf(name),
    expectedGain ?? (() => Number.NaN),
  );
  const raw = (name: SensorName, row: Float64Array, at: number): number =>
    quantityOf(name, row, at) ?? 0;
  const sensed = Float64Array.from(names, (name) => raw(name, before, 0));
  const smooth = sensed.slice();
  const input0 = sensed.slice();
  let lastS = 0;
  let lastValue = read(smooth);
  for (const [k, ns] of track.sinceNs.entries()) {
    const atS = ns / 1e9;
    const dtS = atS - lastS;
    for (const [i, name] of names.entries()) {
      const u = raw(name, track.rows, k * CHANNEL_COUNT);
      const mean = k === 0 ? u : 0.5 * (u + (input0[i] as number));
      const was = sensed[i] as number;
      const is = follow(was, mean, dtS, sensors[name].timeConstantS);
      sensed[i] = is;
      smooth[i] = follow(smooth[i] as number, 0.5 * (was + is), dtS, def.smoothingS);
      input0[i] = u;
    }
    const value = read(smooth);
    if (side === "over" ? value > pickup : value < pickup) {
      const part = (pickup - lastValue) / (value - lastValue);
      return Number.isFinite(part) ? lastS + Math.min(Math.max(part, 0), 1) * dtS : atS;
    }
    lastS = atS;
    lastValue = value;
  }
  return null;
}

/** First-order low-pass over an interval of constant input. */
function follow(state: number, input: number, dtS: number, tauS: number): number {
  return tauS <= 0 ? input : input + (state - input) * Math.exp(-dtS / tauS);
}
