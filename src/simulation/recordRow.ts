/** One row of the record from a world's buffer: the stage's readings, heat, and the gain as it is sensed. */
import { CLOCK } from "../physics/heat/clocks";
import { ARC_COUNT } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import { forwardGainDb } from "../protection/derived";
import { CH, NO_GAIN_DB, STAGE_CHANNELS } from "./channels";
import type { Damage } from "./damage";
import { ROW_AT } from "./worldLayout";

/** Fills `row`, in the order of CHANNEL_NAMES. */
export function fillRecordRow(
  row: Float64Array,
  buffer: Float64Array,
  damage: Damage,
  sensedRow: Float64Array,
  highestV: number,
): void {
  for (let i = 0; i < STAGE_CHANNELS; i++) row[i] = buffer[ROW_AT + i] as number;
  let peakA = 0;
  for (let a = 0; a < ARC_COUNT; a++) {
    peakA = Math.max(peakA, buffer[ROW_AT + READING.arcPlacePeakA + a] as number);
  }
  row[CH.arcPeakA] = peakA;
  row[CH.plateRfHighestV] = highestV;
  const place = damage.worstPlace(buffer);
  row[CH.edgeK] = damage.edgeK(buffer, place);
  row[CH.edgeFraction] = damage.edgeFraction(buffer, place);
  row[CH.moltenKg] = damage.moltenKg(buffer, place);
  row[CH.gridFraction] = damage.clockFraction(buffer, CLOCK.grid);
  row[CH.anodeFraction] = damage.clockFraction(buffer, CLOCK.anode);
  row[CH.cathodeFraction] = damage.clockFraction(buffer, CLOCK.cathode);
  row[CH.exciterFraction] = damage.clockFraction(buffer, CLOCK.exciter);
  const gain = forwardGainDb(sensedRow[0] as number, sensedRow[2] as number);
  row[CH.sensedForwardGainDb] = Number.isNaN(gain) ? NO_GAIN_DB : gain;
}
