/** What one sample adds up from its pieces: means for the sensors, heat for the parts, the highest RF peak. Scratch space. */
import { CLOCK, CLOCK_COUNT, chokeHeatA2 } from "../physics/heat/clocks";
import type { StageCircuit } from "../physics/stage/circuit";
import { ARC_COUNT } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import { SENSOR_NAMES } from "../protection/sensing/sensing";

export class SampleSums {
  /** Means of the piece last added, in the order of SENSOR_NAMES. */
  readonly means = new Float64Array(SENSOR_NAMES.length);
  /** Energy each arc took in the sample. */
  readonly arcJ = new Float64Array(ARC_COUNT);
  /** Until `finish` the integral of each arc's peak current, then its mean while it burned. */
  readonly arcPeakA = new Float64Array(ARC_COUNT);
  /** Until `finish` the integrals of what heats the clocks, then their means, in the order of CLOCK_PARTS. */
  readonly clockInputs = new Float64Array(CLOCK_COUNT);
  highestV = 0;
  private readonly arcBurnS = new Float64Array(ARC_COUNT);

  clear(): void {
    // short arrays: a loop is quicker than fill
    for (let a = 0; a < ARC_COUNT; a++) {
      this.arcJ[a] = 0;
      this.arcPeakA[a] = 0;
      this.arcBurnS[a] = 0;
    }
    for (let k = 0; k < CLOCK_COUNT; k++) this.clockInputs[k] = 0;
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
    const gridW = Math.max(mean(before, after, READING.gridDissipationW), 0);
    const plateW = Math.max(mean(before, after, READING.plateDissipationW), 0);
    heat[CLOCK.grid] = (heat[CLOCK.grid] as number) + dtS * gridW;
    heat[CLOCK.anode] = (heat[CLOCK.anode] as number) + dtS * plateW;
    heat[CLOCK.cathode] =
      (heat[CLOCK.cathode] as number) + dtS * mean(before, after, READING.tubeCurrentA);
    heat[CLOCK.exciter] = (heat[CLOCK.exciter] as number) + dtS * (m[1] as number);
    this.square(CLOCK.switchContact, dtS, before, after, READING.coilPeakA);
    this.square(CLOCK.tuningWiper, dtS, before, after, READING.plateRfPeakV);
    this.square(CLOCK.loadingWiper, dtS, before, after, READING.loadingRfPeakV);
    this.square(CLOCK.plateChoke, dtS, before, after, READING.tubeCurrentA);
    this.square(CLOCK.surgeResistor, dtS, before, after, READING.plateCurrentA);
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

  /** Adds the integral of a reading's square, straight between the piece's ends. */
  private square(
    k: number,
    dtS: number,
    before: Float64Array,
    after: Float64Array,
    reading: number,
  ): void {
    const a = before[reading] as number;
    const b = after[reading] as number;
    const heat = this.clockInputs;
    heat[k] = (heat[k] as number) + (dtS / 3) * (a * a + a * b + b * b);
  }

  /**
   * Integrals become means over the sample, or over the time an arc burned; voltages and peaks what they send
   * through the network as it stands at the sample's end. `strayF` is the part of the plate's capacitance that
   * is not the tuning capacitor, `surgeOhm` the surge resistor.
   */
  finish(dtS: number, c: StageCircuit, strayF: number, surgeOhm: number): void {
    for (let a = 0; a < ARC_COUNT; a++) {
      const burned = this.arcBurnS[a] as number;
      if (burned > 0) this.arcPeakA[a] = (this.arcPeakA[a] as number) / burned;
    }
    const heat = this.clockInputs;
    const perS = 1 / dtS;
    heat[CLOCK.grid] = (heat[CLOCK.grid] as number) * perS;
    heat[CLOCK.anode] = (heat[CLOCK.anode] as number) * perS;
    heat[CLOCK.cathode] = (heat[CLOCK.cathode] as number) * perS;
    heat[CLOCK.exciter] = (heat[CLOCK.exciter] as number) * perS;
    const halfPerS = 0.5 * perS; // mean square from the square of the peak
    const plateV2 = (heat[CLOCK.tuningWiper] as number) * halfPerS;
    const tuningS = c.omega * (c.plateF - strayF);
    const loadingS = c.omega * c.loadingF;
    const chokeOhm = c.omega * c.chokeH;
    heat[CLOCK.switchContact] = (heat[CLOCK.switchContact] as number) * halfPerS;
    heat[CLOCK.tuningWiper] = plateV2 * tuningS * tuningS;
    heat[CLOCK.loadingWiper] =
      (heat[CLOCK.loadingWiper] as number) * halfPerS * loadingS * loadingS;
    heat[CLOCK.plateChoke] = chokeHeatA2(
      plateV2 / (chokeOhm * chokeOhm),
      (heat[CLOCK.plateChoke] as number) * perS,
    );
    heat[CLOCK.surgeResistor] = (heat[CLOCK.surgeResistor] as number) * perS * surgeOhm;
  }
}

function mean(before: Float64Array, after: Float64Array, reading: number): number {
  return 0.5 * ((before[reading] as number) + (after[reading] as number));
}
