/** What one sample adds up from its pieces: means for the sensors, heat for the parts, the highest RF peak. Scratch space. */
import { ARC_COUNT } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import { CLOCK_PARTS } from "./damage";

export class SampleSums {
  /** Means of the piece last added, in the order of SENSOR_NAMES. */
  readonly means = new Float64Array(SENSOR_NAMES.length);
  /** Energy each arc took in the sample. */
  readonly arcJ = new Float64Array(ARC_COUNT);
  /** Until `finish` the integral of each arc's peak current, then its mean while it burned. */
  readonly arcPeakA = new Float64Array(ARC_COUNT);
  /** Until `finish` the integrals of what heats the clocks, then their means, in the order of CLOCK_PARTS. */
  readonly clockInputs = new Float64Array(CLOCK_PARTS.length);
  highestV = 0;
  private readonly arcBurnS = new Float64Array(ARC_COUNT);

  clear(): void {
    this.arcJ.fill(0);
    this.arcPeakA.fill(0);
    this.arcBurnS.fill(0);
    this.clockInputs.fill(0);
    this.highestV = 0;
  }

  /** One piece of `dtS`, straight between its ends. `energyJ` receives what each arc took, from `energyAt` on. */
  add(
    dtS: number,
    before: Float64Array,
    after: Float64Array,
    energyJ: Float64Array,
    energyAt: number,
  ): void {
    const m = this.means;
    m[0] = mean(before, after, READING.driveW);
    m[1] = mean(before, after, READING.driveReflectedW);
    m[2] = mean(before, after, READING.forwardW);
    m[3] = mean(before, after, READING.reflectedW);
    m[4] = mean(before, after, READING.plateCurrentA);
    m[5] = mean(before, after, READING.gridCurrentA);
    m[6] = mean(before, after, READING.plateV);
    m[7] = mean(before, after, READING.plateRfPeakV);
    const heat = this.clockInputs;
    heat[0] =
      (heat[0] as number) + dtS * Math.max(mean(before, after, READING.gridDissipationW), 0);
    heat[1] =
      (heat[1] as number) + dtS * Math.max(mean(before, after, READING.plateDissipationW), 0);
    heat[2] = (heat[2] as number) + dtS * mean(before, after, READING.tubeCurrentA);
    heat[3] = (heat[3] as number) + dtS * (m[1] as number);
    const peak = after[READING.plateRfPeakV] as number;
    if (peak > this.highestV) this.highestV = peak;
    if ((before[READING.arcW] as number) <= 0 && (after[READING.arcW] as number) <= 0) return;
    for (let a = 0; a < ARC_COUNT; a++) {
      const joules = dtS * mean(before, after, READING.arcPlaceW + a);
      if (joules <= 0) continue;
      this.arcJ[a] = (this.arcJ[a] as number) + joules;
      energyJ[energyAt + a] = (energyJ[energyAt + a] as number) + joules;
      this.arcPeakA[a] =
        (this.arcPeakA[a] as number) + dtS * mean(before, after, READING.arcPlacePeakA + a);
      this.arcBurnS[a] = (this.arcBurnS[a] as number) + dtS;
    }
  }

  /** Integrals become means over the sample, or over the time an arc burned. */
  finish(dtS: number): void {
    for (let a = 0; a < ARC_COUNT; a++) {
      const burned = this.arcBurnS[a] as number;
      if (burned > 0) this.arcPeakA[a] = (this.arcPeakA[a] as number) / burned;
    }
    for (let k = 0; k < CLOCK_PARTS.length; k++) {
      this.clockInputs[k] = (this.clockInputs[k] as number) / dtS;
    }
  }
}

function mean(before: Float64Array, after: Float64Array, reading: number): number {
  return 0.5 * ((before[reading] as number) + (after[reading] as number));
}
