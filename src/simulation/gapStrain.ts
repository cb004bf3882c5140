/** How hard each gap is strained at an instant: RF peak across it over what it withstands, 0 to 1. For reading only. */
import { ARC_COUNT, V1, V2 } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import type { Project } from "../project/types";
import { gapAir, withstandAt } from "./gaps";
import type { Logic } from "./logic";
import { ROW_AT, STAGE_AT } from "./worldLayout";

const withstandV = new Float64Array(ARC_COUNT);

/** Strains of all places at `ns`, in the order of ARC_PLACES; 0 where an arc burns or metal bridges. */
export function gapStrains(
  project: Project,
  logic: Logic,
  ns: number,
  buffer: Float64Array,
  out: Float64Array,
): void {
  const { station, seed } = project;
  withstandAt(station, seed, gapAir(station), logic, ns, withstandV);
  const t = station.bandSwitch.tapFraction;
  const tapR = (1 - t) * (buffer[STAGE_AT + V2] as number) + t * (buffer[STAGE_AT + V1] as number);
  const tapI =
    (1 - t) * (buffer[STAGE_AT + V2 + 1] as number) + t * (buffer[STAGE_AT + V1 + 1] as number);
  out[0] = buffer[ROW_AT + READING.plateRfPeakV] as number;
  out[1] = Math.sqrt(tapR * tapR + tapI * tapI);
  out[2] = buffer[ROW_AT + READING.loadingRfPeakV] as number;
  out[3] = buffer[ROW_AT + READING.outputRfPeakV] as number;
  for (let a = 0; a < ARC_COUNT; a++) {
    const burning = (logic.arcSinceNs[a] as number) >= 0;
    out[a] = burning ? 0 : (out[a] as number) / (withstandV[a] as number);
  }
}
