/**
 * An arc that conducts as a resistor keeps the voltage across itself at its maintaining value. It can only lower the
 * voltage that stood there before it lit; so it burns on exactly where that voltage was higher, and goes out elsewhere.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SETTLED } from "../../../src/physics/stage/coldStart";
import {
  ARC_COUNT,
  AT_TAP,
  arcNodes,
  LNG,
  STRIDE,
  V1,
  V2,
} from "../../../src/physics/stage/layout";
import { READING } from "../../../src/physics/stage/readings";
import { HARMONICS } from "../../../src/physics/tube/triode";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";
import { circuitOf, settleFromNothing } from "../../support/waveformCases";
import { anyInput, between } from "../../support/waveformStations";

/** Root of the sum of squared peaks at an arc's place, harmonics together; a tap divides the coil's voltage. */
function voltageAt(y: Float64Array, place: number, tapFraction: number): number {
  let square = 0;
  for (let h = 0; h < HARMONICS; h++) {
    const o = h * STRIDE;
    for (let p = 0; p < 2; p++) {
      const out = y[o + V2 + p] as number;
      const at =
        place === AT_TAP
          ? out + tapFraction * ((y[o + V1 + p] as number) - out)
          : (y[o + (arcNodes(false)[place] as number) + p] as number);
      square += at * at;
    }
  }
  return Math.sqrt(square);
}

const anyPlace = fc.integer({ min: 0, max: ARC_COUNT - 1 });

describe("arc at any place of any station", () => {
  it("burns at its maintaining voltage where the voltage before it was higher", () => {
    fc.assert(
      fc.property(
        anyInput,
        anyPlace,
        between(0.1, 0.9),
        between(0.3, 0.85),
        (input, place, tap, part) => {
          const before = voltageAt(settleFromNothing(circuitOf(input), -1).y, place, tap);
          const c = circuitOf(input);
          c.tapFraction = tap;
          c.maintainingV[place] = part * before;
          c.arcTimeConstantS.fill(1e-6);
          const stage = settleFromNothing(c, place);
          expectWithin(stage.residual, 0, SETTLED, "the solver's own mark of convergence");
          const held = part * before;
          const square = (stage.row[READING.arcPlacePeakA + place] as number) ** 2;
          const siemens = Math.exp(stage.y[LNG + place] as number);
          expectWithin(
            Math.sqrt(square) / siemens,
            held,
            1e-5 * held,
            "peak current over conductance is the maintaining voltage, settled to 1e-6",
          );
          expectWithin(
            stage.row[READING.arcW] as number,
            0.5 * siemens * held * held,
            2e-5 * (stage.row[READING.arcW] as number),
            "power in a conductance, settled to 1e-6",
          );
        },
      ),
      fixedRuns(40),
    );
  });

  it("does not burn where the voltage before it was lower", () => {
    fc.assert(
      fc.property(
        anyInput,
        anyPlace,
        between(0.1, 0.9),
        between(1.05, 2),
        (input, place, tap, part) => {
          const before = voltageAt(settleFromNothing(circuitOf(input), -1).y, place, tap);
          const c = circuitOf(input);
          c.tapFraction = tap;
          c.maintainingV[place] = part * before;
          c.arcTimeConstantS.fill(1e-6);
          expect(settleFromNothing(c, place).residual).toBeGreaterThan(SETTLED);
        },
      ),
      fixedRuns(30),
    );
  });
});
