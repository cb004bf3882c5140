/**
 * Closed forms of the settled solver over one sample, and of the load at the second harmonic, with a tube that draws
 * nothing. Per sample: filter voltage by the trapezoidal rule, plate and cathode voltage by the backward rule.
 */
import { describe, it } from "vitest";
import { emptyCircuit, type StageCircuit } from "../../../src/physics/stage/circuit";
import { EB, EK, STATE_LENGTH, STRIDE, V2, VC } from "../../../src/physics/stage/layout";
import { StageSolver } from "../../../src/physics/stage/stageSolver";
import { expectWithin } from "../../support/expectWithin";

const DT = 50e-6;
const NEWTON = "one Newton step of a linear equation, rounding";

function settled(c: StageCircuit, at: number, from: number): number {
  const y = new Float64Array(STATE_LENGTH);
  y[at] = from;
  c.omega = 3; // off the resonance of the empty circuit's tanks, which have no loss
  expectWithin(new StageSolver().settle(c, y, DT), 0, 1e-6, "the solver's own mark");
  return y[at] as number;
}

describe("settled solver over one sample", () => {
  it("discharges the bypass of the plate supply by the backward rule", () => {
    // Cb (E1 - E0)/dt = -E1/Rs: E1 = E0/(1 + dt/(Rs Cb)) = 3000/(1 + 50/40)
    const c = emptyCircuit();
    c.surgeSiemens = 1 / 10;
    c.bypassF = 4e-6;
    expectWithin(settled(c, EB, 3000), 3000 / 2.25, 1e-8, NEWTON);
  });

  it("discharges the cathode return by the backward rule", () => {
    // E1 = E0/(1 + dt G/C) = 40/(1 + 50e-6 x 1e-4/10e-9)
    const c = emptyCircuit();
    c.biasSiemens = 0;
    c.cutoffSiemens = 1e-4;
    c.returnF = 10e-9;
    expectWithin(settled(c, EK, 40), 40 / 1.5, 1e-9, NEWTON);
  });

  it("discharges the filter through its bleeder by the trapezoidal rule", () => {
    // C (V1 - V0)/dt = -G (V1 + V0)/2: V1 = V0 (1 - a/2)/(1 + a/2), a = dt G/C = 0.2; no plate side
    const c = emptyCircuit();
    c.stiffSupply = false;
    c.surgeSiemens = 0;
    c.filterF = 1e-6;
    c.bleederSiemens = 4e-3;
    c.shortSiemens = 1; // gives the plate side a place to rest
    expectWithin(settled(c, VC, 2700), (2700 * 0.9) / 1.1, 1e-8, NEWTON);
  });

  it("leaves the filter of a stiff supply where it is", () => {
    const c = emptyCircuit();
    c.noLoadV = 2700;
    expectWithin(settled(c, VC, 2700), 2700, 0, "its voltage is given");
  });
});

describe("load at the second harmonic", () => {
  it.each([
    ["a capacitor's susceptance doubles", 0.016, 0.032],
    ["an inductor's halves", -0.016, -0.008],
  ])("%s", (_, atCarrier, atSecond) => {
    // C2 V2' = -(G + j B_h + j 2 w C2) V2 with 1 V at the output and nothing else
    const c = emptyCircuit();
    c.omega = 2 * Math.PI * 14.2e6;
    c.loadingF = 390e-12;
    c.loadSiemens = 0.011;
    c.loadSusceptanceSiemens = atCarrier;
    const y = new Float64Array(STATE_LENGTH);
    y[STRIDE + V2] = 1;
    const solver = new StageSolver();
    const slope = new Float64Array(STATE_LENGTH);
    solver.open(c, y);
    solver.slope(c, slope);
    expectWithin((slope[STRIDE + V2] as number) * 390e-12, -0.011, 1e-15, "rounding");
    const capacitor = 2 * c.omega * 390e-12;
    expectWithin(
      (slope[STRIDE + V2 + 1] as number) * 390e-12,
      -(atSecond + capacitor),
      1e-15,
      "rounding",
    );
  });
});
