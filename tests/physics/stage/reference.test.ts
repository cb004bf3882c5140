/**
 * The solver against full-waveform transient analyses of the same circuits (ngspice 39, stored in
 * tests/reference/fullWaveformStage.json; limits and their reasons in tests/support/waveformCases.ts).
 */
import { describe, expect, it } from "vitest";
import { AT_PLATE, LNG, V1 } from "../../../src/physics/stage/layout";
import { READING } from "../../../src/physics/stage/readings";
import { expectWithin } from "../../support/expectWithin";
import {
  circuitOf,
  errorsOf,
  figuresOf,
  lightArc,
  limitsOf,
  outsideLimits,
  placeOf,
  STEADY_CASES,
  settleFromNothing,
  TRANSIENT_CASES,
  type TransientCase,
} from "../../support/waveformCases";
import { followStage, fundamentalAround } from "../../support/waveformTransient";

const modelled = STEADY_CASES.filter((k) => k.input.arc?.model !== "clamp");

function transientCase(name: string): TransientCase {
  const found = TRANSIENT_CASES.find((k) => k.name === name);
  if (found === undefined) throw new Error(`no transient case ${name}`);
  return found;
}

describe("settled stage against the full waveform", () => {
  it("is compared on every stored circuit whose arc obeys the modelled law", () => {
    expect(STEADY_CASES.length).toBe(23);
    expect(modelled.length).toBe(21);
  });

  it.each(modelled)(
    "agrees in powers, voltages and currents: $name",
    ({ name, input, ngspice }) => {
      const stage = settleFromNothing(circuitOf(input), placeOf(input));
      expectWithin(stage.residual, 0, 1e-6, "an update this small is the solver's own mark");
      const errors = errorsOf(figuresOf(stage.row, input.Pd), ngspice);
      expect(outsideLimits(name, errors, limitsOf(name))).toEqual([]);
    },
  );

  it.each(modelled)("agrees at the coupler and at the input: $name", ({ name, input, ngspice }) => {
    const { row } = settleFromNothing(circuitOf(input), placeOf(input));
    const limits = limitsOf(name);
    const scale = Math.max(ngspice.Pfwd, 15.1); // 1 % of the matched stage's 1511 W
    expectWithin(
      (row[READING.forwardW] as number) / scale,
      ngspice.Pfwd / scale,
      limits.Pout,
      "forward power goes as output does",
    );
    expectWithin(
      (row[READING.reflectedW] as number) / scale,
      ngspice.Prev / scale,
      limits.Pout,
      "reflected power against the larger forward one",
    );
    expectWithin(
      (row[READING.cathodeRfPeakV] as number) / ngspice.Vk,
      1,
      0.01,
      "the cathode voltage is stiff: errors of the grid current enter by a tenth",
    );
    expectWithin(
      row[READING.driveReflectedW] as number,
      ngspice.PdrvRefl,
      0.01 * input.Pd,
      "1 % of the drive, a return loss of 20 dB",
    );
  });

  const arcs = modelled.filter((k) => k.input.arc !== null);
  it.each(arcs)("gives the arc its power: $name", ({ input, ngspice }) => {
    const { row } = settleFromNothing(circuitOf(input), placeOf(input));
    expectWithin(
      (row[READING.arcW] as number) / (ngspice.Parc as number),
      1,
      0.014,
      "the arc takes plate current at a held voltage: the limit of the plate current",
    );
  });

  /**
   * A clamp i = Gc (|v| - V) sign(v) is another arc. Its voltage has a fundamental between that of a sine of peak V and
   * that of a square wave, 4/pi V, with the drop I/Gc of its own slope added; the plasma is the sine. So the clamped
   * voltage may exceed ours by 4/pi + I/(Gc V) at most, delivered power by the square, the arc's own power by no
   * more than the voltage. A derivation, not a limit on the solver: the laws differ.
   */
  it.each(STEADY_CASES.filter((k) => k.input.arc?.model === "clamp"))(
    "lies where the laws say beside an arc that clamps: $name",
    ({ input, ngspice }) => {
      const place = placeOf(input);
      const { row } = settleFromNothing(circuitOf(input), place);
      const peakA = row[READING.arcPlacePeakA + place] as number;
      const most = 4 / Math.PI + peakA / ((input.arc?.Gc as number) * (input.arc?.V as number));
      const outputRatio = ngspice.Pout / (row[READING.outputW] as number);
      expect(outputRatio).toBeGreaterThan(1);
      expect(outputRatio).toBeLessThan(most * most);
      const arcRatio = (ngspice.Parc as number) / (row[READING.arcW] as number);
      expect(arcRatio).toBeGreaterThan(1);
      expect(arcRatio).toBeLessThan(most);
    },
  );
});

describe("transient of the stage against the full waveform", () => {
  it("overshoots as the reference does when the load opens", () => {
    const { input, ngspice } = transientCase("tr_open_14.2");
    if (input.event === undefined) throw new Error("the case names no load");
    const stage = settleFromNothing(circuitOf(input), -1);
    stage.circuit.loadSiemens = input.event.load.G;
    const trace = followStage(stage.solver, stage.circuit, stage.y, 30e-6);
    const peak = Math.max(
      ...trace.states.map((y) => Math.hypot(y[V1] as number, y[V1 + 1] as number)),
    );
    const envMax = ngspice.envMax as number;
    expectWithin(peak, envMax, 0.04 * envMax, "the third harmonic is left out at the open load");
    const last = trace.states[trace.states.length - 1] as Float64Array;
    const final = ngspice.final as number;
    expectWithin(
      Math.hypot(last[V1] as number, last[V1 + 1] as number),
      final,
      0.025 * final,
      "the settled limit of an open load",
    );
  });

  it.each([
    ["tr_open_14.2", 0.02],
    ["tr_strikeC1_250_14.2", 0.02],
  ])("keeps to the envelope of %s, rms within %d of its start", (name, limit) => {
    const { input, ngspice } = transientCase(name);
    const stage = settleFromNothing(circuitOf(input), -1);
    const start = Math.hypot(stage.y[V1] as number, stage.y[V1 + 1] as number);
    const place = placeOf(input);
    if (place >= 0) lightArc(stage, AT_PLATE, Math.log(input.arc?.g0 as number), LNG + place);
    else stage.circuit.loadSiemens = input.event?.load.G as number;
    const lastCycle = (ngspice.env[ngspice.env.length - 1] as readonly [number, number])[0];
    const trace = followStage(stage.solver, stage.circuit, stage.y, (lastCycle + 1) / input.f);
    let square = 0;
    let count = 0;
    for (const [cycle, volts] of ngspice.env) {
      if (cycle < 0) continue;
      const got = fundamentalAround(trace, stage.circuit.omega, V1, cycle / input.f);
      square += ((got - volts) / start) ** 2;
      count++;
    }
    expect(count).toBeGreaterThan(300);
    expectWithin(
      Math.sqrt(square / count),
      0,
      limit,
      "two harmonics, and the phase of the carrier at the event",
    );
  });
});
