/**
 * The settled solver and the transient solver describe one stage: what the one calls rest the other must leave alone,
 * from any station, and a run handed from one to the other must show no step.
 */
import * as fc from "fast-check";
import { describe, it } from "vitest";
import { sourceCurrentA } from "../../../src/physics/stage/circuit";
import { coldStart, initialState } from "../../../src/physics/stage/coldStart";
import { LNG, STATE_LENGTH } from "../../../src/physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../../src/physics/stage/readings";
import { StageSolver } from "../../../src/physics/stage/stageSolver";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import {
  circuitOf,
  lightArc,
  placeOf,
  readingsOf,
  type SettledStage,
  settleFromNothing,
  steadyCase,
} from "../../support/waveformCases";
import { anyInput } from "../../support/waveformStations";
import { followStage } from "../../support/waveformTransient";

/** Full scale of each reading: what a legal-limit stage reaches, rounded up. */
const FULL_SCALE = new Float64Array(READING_COUNT).fill(2000); // watts unless said
FULL_SCALE[READING.driveW] = FULL_SCALE[READING.driveReflectedW] = 100;
FULL_SCALE[READING.cathodeRfPeakV] = 100;
FULL_SCALE[READING.plateCurrentA] = FULL_SCALE[READING.tubeCurrentA] = 1.5;
FULL_SCALE[READING.gridCurrentA] = 0.5;
FULL_SCALE[READING.cathodeV] = 100;
FULL_SCALE[READING.plateV] = FULL_SCALE[READING.filterV] = 4000;
FULL_SCALE[READING.plateRfPeakV] = 4000;
FULL_SCALE[READING.coilPeakA] = 30;
FULL_SCALE[READING.outputRfPeakV] = 1000;
FULL_SCALE[READING.gridDissipationW] = 50;
FULL_SCALE.fill(20, READING.arcPlacePeakA);
FULL_SCALE[READING.loadingRfPeakV] = 1000;

/** Largest difference of two rows against full scale. */
function difference(a: Float64Array, b: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < READING_COUNT; i++) {
    const miss = Math.abs((a[i] as number) - (b[i] as number)) / (FULL_SCALE[i] as number);
    if (!(miss <= worst)) worst = miss;
  }
  return worst;
}

/** Largest excursion from the settled readings while the transient solver takes over for `spanS`. */
function excursion(stage: SettledStage, spanS: number): number {
  const trace = followStage(stage.solver, stage.circuit, stage.y.slice(), spanS);
  let worst = 0;
  for (const y of trace.states) {
    worst = Math.max(worst, difference(readingsOf(stage.solver, stage.circuit, y), stage.row));
  }
  return worst;
}

describe("hand-over from the settled to the transient solver", () => {
  it("leaves every reading where it was, from any station", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const stage = settleFromNothing(circuitOf(input), -1);
        expectWithin(stage.residual, 0, 1e-6, "converged by the solver's own mark");
        expectWithin(excursion(stage, 1e-4), 0, 1e-4, "the resolution a meter could show");
      }),
      fixedRuns(30),
    );
  });

  it.each([
    "arcC1_cassie_150_14.2",
    "arcC2_cassie_250_3.6",
    "arcCoil0.3_cassie_250_14.2",
    "open_load_14.2",
    "gamma0.9_ph240_14.2",
  ])("leaves every reading where it was: %s", (name) => {
    const { input } = steadyCase(name);
    const stage = settleFromNothing(circuitOf(input), placeOf(input));
    expectWithin(excursion(stage, 1e-4), 0, 1e-4, "the resolution a meter could show");
  });

  it.each(["normal_14.2", "vswr3_ph225_14.2", "arcC1_cassie_250_14.2", "arcC2_cassie_150_14.2"])(
    "reaches by 2000 cycles of transient what Newton finds: %s",
    (name) => {
      const { input } = steadyCase(name);
      const place = placeOf(input);
      const c = circuitOf(input);
      const solver = new StageSolver();
      const y = new Float64Array(STATE_LENGTH);
      initialState(c, y);
      followStage(solver, c, y, 500 / input.f);
      if (place >= 0) {
        const stage = { circuit: c, solver, y, residual: 0, row: new Float64Array() };
        lightArc(stage, place, Math.log(input.arc?.g0 as number), LNG + place);
      }
      followStage(solver, c, y, 2000 / input.f);
      const rung = readingsOf(solver, c, y);
      const found = new Float64Array(STATE_LENGTH);
      coldStart(solver, circuitOf(input), found, place);
      expectWithin(
        difference(rung, readingsOf(solver, c, found)),
        0,
        1e-5,
        "many of the longest time constants: 2 us of choke and load, 1 us of arc",
      );
    },
  );

  it("agrees while the supply sags after a step of drive", () => {
    // source, surge, filter: 150 ohm x 40 uF, 6 ms; RF is at rest after 20 us
    const c = circuitOf(steadyCase("normal_14.2").input);
    c.stiffSupply = false;
    c.noLoadV = 3180;
    c.sourceSiemens = 1 / 150;
    c.surgeSiemens = 1 / 10;
    c.bleederSiemens = 1 / 100e3;
    c.filterF = 40e-6;
    const stage = settleFromNothing(c, -1);
    c.sourceA = sourceCurrentA(20, c.driveOhm, c.turnsRatio);
    const settled = stage.y.slice();
    const moving = stage.y.slice();
    const samples = 60;
    const a = new Float64Array(READING_COUNT);
    for (let i = 0; i < samples; i++) {
      stage.solver.settle(c, settled, 50e-6);
      stage.solver.open(c, settled);
      readStage(c, stage.solver.system, settled, c.sourceA, a);
      followStage(stage.solver, c, moving, 50e-6);
      expectWithin(
        difference(a, readingsOf(stage.solver, c, moving)),
        0,
        1e-4,
        "trapezoidal rule at 50 us of 6 ms, and the transient's tolerance",
      );
    }
    // the supply was on its way: 0.4 A less through 150 ohm in the end, 1 - exp(-3 ms/6 ms) = 0.39 of it by now
    const recoveredV = (a[READING.filterV] as number) - (stage.row[READING.filterV] as number);
    expectWithin(recoveredV, 24, 8, "the current goes from 0.85 A at 65 W to 0.4 or 0.5 A at 20 W");
  });
});
