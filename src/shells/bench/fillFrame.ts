/** Writes one instant of a world into a frame. */

import { CLOCK_COUNT } from "../../physics/heat/clocks";
import { PLATE_EDGE_CELLS } from "../../physics/heat/plateEdge";
import { ARC_COUNT, ARC_PLACES } from "../../physics/stage/layout";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import type { Bench } from "../../simulation/bench";
import { gapStrains } from "../../simulation/gapStrain";
import { type Logic, rampAt } from "../../simulation/logic";
import { keyDownS } from "../../simulation/tripMemory";
import { EDGE_VARIANTS, sensedRowAt } from "../../simulation/worldLayout";
import { CONTROL_NAMES, edgeFractionAt, FRAME, METER_CHANNELS } from "./frameLayout";

const strains = new Float64Array(ARC_COUNT);

/** Knobs, sensors, needles, stresses and edges of a world at a sample's end; `frame` holds the row already. */
export function fillWorld(
  frame: Float64Array,
  bench: Bench,
  world: { readonly buffer: Float64Array; readonly logic: Logic; readonly meters: Float64Array },
  playNs: number,
): void {
  const { buffer, logic, meters } = world;
  const { damage } = bench;
  for (let i = 0; i < CONTROL_NAMES.length; i++) {
    const name = CONTROL_NAMES[i] as (typeof CONTROL_NAMES)[number];
    frame[FRAME.controls + i] = rampAt(logic.controls[name], playNs);
  }
  const sensedAt = sensedRowAt(bench.sensing.stateLength);
  for (let i = 0; i < SENSOR_NAMES.length; i++)
    frame[FRAME.sensed + i] = buffer[sensedAt + i] as number;
  for (let i = 0; i < METER_CHANNELS.length; i++) frame[FRAME.meters + i] = meters[i] as number;
  frame[FRAME.pep] = meters[METER_CHANNELS.length] as number;
  for (let k = 0; k < CLOCK_COUNT; k++) {
    frame[FRAME.stress + k] = damage.clockStress(buffer, k);
    frame[FRAME.clockFractions + k] = damage.clockFraction(buffer, k);
    frame[FRAME.timeLeft + k] = damage.clockTimeLeftS(buffer, k);
  }
  for (let a = 0; a < ARC_COUNT; a++) {
    for (let v = 0; v < EDGE_VARIANTS.length; v++)
      frame[edgeFractionAt(a, v)] = damage.edgeFraction(buffer, a, v);
    frame[FRAME.edgeK + a] = damage.edgeK(buffer, a);
    frame[FRAME.moltenKg + a] = damage.peakMoltenKg(buffer, a);
  }
  gapStrains(bench.project, logic, playNs, buffer, strains);
  frame.set(strains, FRAME.gapStrain);
  frame[FRAME.keyDownS] = keyDownS(buffer);
  const struck = logic.zero?.struck ?? null;
  const place = struck === null ? -1 : ARC_PLACES.indexOf(struck);
  frame[FRAME.place] = place;
  frame[FRAME.zeroNs] = logic.zero?.atNs ?? -1;
  if (place < 0) return;
  const cells = damage.cellsK(buffer, place);
  for (let i = 0; i < PLATE_EDGE_CELLS; i++) frame[FRAME.cells + i] = cells[i] as number;
}
