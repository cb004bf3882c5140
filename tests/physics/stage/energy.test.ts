/**
 * Where the power goes. Multiplying each node equation by its own conjugate phasor and each branch equation by its
 * current gives, harmonic by harmonic and without approximation,
 *
 *   Eb Ip0 + (Pd - Prefl) = plate + grid dissipation + Ek Ik0
 *                         + sum_h [ G |Vo|^2 + r2 |IL2|^2 + r |IL|^2 + g |Varc|^2 + gl |Vk|^2 ]/2 + |Vk_2|^2/(2 n^2 Rs)
 *
 * (capacitors and inductors keep nothing on average; Ek Ik0 goes into the bias supply; the exciter's own resistance
 * takes the second harmonic of the cathode). The supply's side adds its source, surge and bleeder resistors.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { emptyCircuit, hasOutputCoil } from "../../../src/physics/stage/circuit";
import {
  ARC_COUNT,
  AT_TAP,
  arcNodes,
  EB,
  EK,
  ILA,
  ILB,
  ILC,
  STATE_LENGTH,
  STRIDE,
  V2,
  V3,
  VC,
  VK,
} from "../../../src/physics/stage/layout";
import { READING } from "../../../src/physics/stage/readings";
import { StageSolver } from "../../../src/physics/stage/stageSolver";
import { HARMONICS } from "../../../src/physics/tube/triode";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import {
  circuitOf,
  placeOf,
  readingsOf,
  type SettledStage,
  STEADY_CASES,
  settleFromNothing,
  steadyCase,
} from "../../support/waveformCases";
import { anyInput } from "../../support/waveformStations";

function square(y: Float64Array, at: number): number {
  return (y[at] as number) ** 2 + (y[at + 1] as number) ** 2;
}

/** Power in less power out over power in. */
function imbalance({ circuit: c, solver, y, row }: SettledStage): number {
  const at = (i: number): number => row[i] as number;
  const inW =
    at(READING.plateV) * at(READING.tubeCurrentA) +
    at(READING.driveW) -
    at(READING.driveReflectedW);
  const cathodeDcA = at(READING.tubeCurrentA) + at(READING.gridCurrentA);
  const piL = hasOutputCoil(c);
  let outW =
    at(READING.plateDissipationW) +
    at(READING.gridDissipationW) +
    at(READING.cathodeV) * cathodeDcA;
  for (let h = 0; h < HARMONICS; h++) {
    const o = h * STRIDE;
    const split = c.burning[AT_TAP] === 1;
    const far = split ? c.tapFraction : 0;
    outW += 0.5 * c.loadSiemens * square(y, o + (piL ? V3 : V2));
    if (piL) outW += 0.5 * c.outputCoilOhm * square(y, o + ILC);
    outW += 0.5 * c.coilOhm * (1 - far) * square(y, o + ILA);
    if (split) outW += 0.5 * c.coilOhm * far * square(y, o + ILB);
    outW += 0.5 * c.cathodeLossSiemens * square(y, o + VK);
    if (h > 0) outW += (0.5 * square(y, o + VK)) / (c.turnsRatio ** 2 * c.driveOhm);
    for (let a = 0; a < ARC_COUNT; a++) {
      const g = solver.system.arcSiemens[a] as number;
      outW += 0.5 * g * square(y, o + (arcNodes(piL)[a] as number));
    }
  }
  return (inW - outW) / inW;
}

const CLOSED = "an identity at the settled state; what is left is the solver's last update";

describe("energy balance of the settled stage", () => {
  it.each(STEADY_CASES)("closes on a reference circuit: $name", ({ input }) => {
    expectWithin(imbalance(settleFromNothing(circuitOf(input), placeOf(input))), 0, 1e-6, CLOSED);
  });

  it("closes on any station, and no part gives power back", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const stage = settleFromNothing(circuitOf(input), -1);
        expectWithin(imbalance(stage), 0, 1e-6, CLOSED);
        expect(stage.row[READING.plateDissipationW]).toBeGreaterThan(0);
        expect(stage.row[READING.gridDissipationW]).toBeGreaterThan(-1e-3);
        expect(stage.row[READING.outputW]).toBeGreaterThanOrEqual(0);
      }),
      fixedRuns(30),
    );
  });

  it("closes on a pi-L, where the load is behind the output coil", () => {
    for (const input of [
      steadyCase("normal_14.2").input,
      steadyCase("arcC1_cassie_250_14.2").input,
    ]) {
      const circuit = circuitOf(input);
      // 50 ohm seen through 1.25 uH and 0.6 ohm at 14.2 MHz; the pi before it is left as it was, so not matched
      circuit.outputCoilH = 1.25e-6;
      circuit.outputCoilOhm = 0.6;
      const stage = settleFromNothing(circuit, placeOf(input));
      expectWithin(imbalance(stage), 0, 1e-6, CLOSED);
      expect(stage.row[READING.outputW]).toBeGreaterThan(1);
    }
  });

  it("counts what the arcs take, as the readings report it", () => {
    for (const name of ["arcC1_cassie_250_14.2", "arcCoil0.3_cassie_250_14.2"]) {
      const { input } = steadyCase(name);
      const { circuit: c, solver, y, row } = settleFromNothing(circuitOf(input), placeOf(input));
      const place = placeOf(input);
      let watts = 0;
      for (let h = 0; h < HARMONICS; h++) {
        watts +=
          0.5 *
          (solver.system.arcSiemens[place] as number) *
          square(y, h * STRIDE + (arcNodes(false)[place] as number));
      }
      expectWithin(row[READING.arcW] as number, watts, 1e-9 * watts, "the same sum, rounding");
      // held at its maintaining voltage, all harmonics together: P = g V^2/2
      const held = c.maintainingV[place] as number;
      expectWithin(
        row[READING.arcW] as number,
        0.5 * (solver.system.arcSiemens[place] as number) * held * held,
        1e-4 * watts,
        "the arc's own equation, settled to 1e-6 in ln g",
      );
    }
  });

  it("includes the supply's own resistors", () => {
    const c = circuitOf(steadyCase("normal_14.2").input);
    c.stiffSupply = false;
    c.noLoadV = 3180;
    c.sourceSiemens = 1 / 150;
    c.surgeSiemens = 1 / 10;
    c.bleederSiemens = 1 / 40e3;
    c.filterF = 40e-6;
    const stage = settleFromNothing(c, -1);
    expectWithin(imbalance(stage), 0, 1e-6, CLOSED);
    const vc = stage.y[VC] as number;
    const eb = stage.y[EB] as number;
    const mainsA = (3180 - vc) / 150;
    const plateA = stage.row[READING.plateCurrentA] as number;
    const lostW = mainsA ** 2 * 150 + (vc * vc) / 40e3 + plateA ** 2 * 10;
    const fedW = eb * (stage.row[READING.tubeCurrentA] as number);
    expectWithin(3180 * mainsA, lostW + fedW, 1e-6 * 3180 * mainsA, CLOSED);
    expectWithin(stage.y[EK] as number, 9, 2e-3, "1 mohm of bias supply at 0.9 A");
  });
});

describe("power at the coupler", () => {
  it("splits into waves whose difference is delivered, and a passive load never returns more than it gets", () => {
    const volt = fc.double({ min: -900, max: 900, noNaN: true });
    const solver = new StageSolver();
    fc.assert(
      fc.property(
        volt,
        volt,
        fc.double({ min: 0, max: 1000, noNaN: true }),
        fc.double({ min: -10, max: 10, noNaN: true }),
        (re, im, g, b) => {
          const c = emptyCircuit();
          c.loadSiemens = g;
          c.loadSusceptanceSiemens = b;
          const y = new Float64Array(STATE_LENGTH);
          y[V2] = re;
          y[V2 + 1] = im;
          const row = readingsOf(solver, c, y);
          const forward = row[READING.forwardW] as number;
          const reflected = row[READING.reflectedW] as number;
          expectWithin(
            forward - reflected,
            0.5 * g * (re * re + im * im), // power into a conductance
            1e-12 * forward,
            "rounding of the larger wave",
          );
          expect(reflected).toBeLessThanOrEqual(forward);
        },
      ),
      fixedRuns(200),
    );
  });

  it("shows VSWR 3 as a quarter of the forward power coming back", () => {
    // |gamma| = 1/2 (definition); 150 ohm resistive
    const c = emptyCircuit();
    c.loadSiemens = 1 / 150;
    const y = new Float64Array(STATE_LENGTH);
    y[V2] = 300;
    const row = readingsOf(new StageSolver(), c, y);
    expectWithin(
      (row[READING.reflectedW] as number) / (row[READING.forwardW] as number),
      0.25,
      1e-12,
      "rounding",
    );
    expectWithin(row[READING.outputW] as number, 300, 1e-9, "300^2/(2 x 150), rounding");
  });
});
