import { describe, it } from "vitest";
import { expectWithin } from "../../support/expectWithin";
import {
  discOnHalfSpaceK,
  e1,
  erfc,
  gaussianOnHalfSpaceK,
  halfDiscOnEdgeK,
  neumannRoot,
  rootOf,
  spotOnEdgeK,
  stefanRoot,
  stripOnEdgeK,
} from "../../support/heatReference";

const LAST_DIGIT = "one unit in the last printed digit";

describe("exact conduction solutions that the plate edge is compared with", () => {
  // aluminium at 300 K: k 237 W/(m K), alpha 237/(2702 x 903); Incropera and DeWitt, table A.1
  const aluminium = { conductivityWPerMK: 237, diffusivityM2PerS: 237 / (2702 * 903) };
  // worked numbers: quadrature of the same integrals with another program (scipy), Carslaw and Jaeger's forms from memory

  it("heats the centre of a disc as Carslaw and Jaeger say", () => {
    expectWithin(
      discOnHalfSpaceK(100, 0.25e-3, 1e-3, aluminium),
      418.824,
      0.01,
      "printed to 0.01 K",
    );
    // steady value P/(pi a k) = 537.232 K, approached as 1/sqrt(t): 0.4 % short at 1e2 s
    expectWithin(
      discOnHalfSpaceK(100, 0.25e-3, 1e4, aluminium),
      537.232,
      0.06,
      "2 q a^2/(4 k sqrt(pi alpha t)) left at 1e4 s: 0.04 K",
    );
  });

  it("heats the centre of a Gaussian spot", () => {
    expectWithin(
      gaussianOnHalfSpaceK(100, 0.25e-3, 10e-3, aluminium),
      437.871,
      0.01,
      "printed to 0.01 K",
    );
  });

  it("heats a full-thickness strip on an edge", () => {
    expectWithin(
      stripOnEdgeK(100, 0.4e-3, 0.8e-3, 0.1, aluminium),
      580.592,
      0.01,
      "printed to 0.01 K",
    );
  });

  it("heats a round spot on an edge face", () => {
    expectWithin(
      spotOnEdgeK(100, 0.2e-3, 0.8e-3, 10e-3, aluminium),
      755.08,
      0.05,
      "printed to 0.05 K",
    );
  });

  it("reaches the melting point in the tabulated times", () => {
    // k 230, rho 2650, cp 1050, rise 635.3 K; tabulated 2.24 ms (100 W, 0.2 mm) and 10.6 ms (150 W, 0.4 mm), sheet 0.8 mm
    const plate = { conductivityWPerMK: 230, diffusivityM2PerS: 230 / (2650 * 1050) };
    const timeS = (watts: number, radiusM: number) =>
      rootOf((t) => spotOnEdgeK(watts, radiusM, 0.8e-3, t, plate) - 635.32, 1e-6, 1);
    expectWithin(timeS(100, 0.2e-3), 2.24e-3, 0.01e-3, LAST_DIGIT);
    expectWithin(timeS(150, 0.4e-3), 10.6e-3, 0.1e-3, LAST_DIGIT);
  });

  it("has the tabulated exponential integral and error function", () => {
    // Abramowitz and Stegun, tables 5.1 and 7.1 (from memory)
    expectWithin(e1(0.1), 1.822924, 1e-6, LAST_DIGIT);
    expectWithin(e1(1), 0.2193839, 1e-7, LAST_DIGIT);
    expectWithin(e1(2), 0.0489005, 1e-7, LAST_DIGIT);
    expectWithin(erfc(0.5), 0.4795001, 1e-7, LAST_DIGIT);
    expectWithin(erfc(3.5), 7.431e-7, 1e-10, LAST_DIGIT);
  });

  it("has the known roots of the Stefan and Neumann melting problems", () => {
    // roots found by another program (Brent's method); equations from Carslaw and Jaeger, ch. 11, from memory
    expectWithin(stefanRoot(0.5), 0.464786, 1e-5, "printed to 1e-6");
    const neumann = {
      densityKgPerM3: 2500,
      liquidConductivity: 94,
      liquidHeat: 1177,
      solidConductivity: 218,
      solidHeat: 1100,
      fusion: 397e3,
      wallK: 1500,
      meltingK: 933.473,
      startK: 298.15,
    };
    expectWithin(neumannRoot(neumann), 0.338115, 1e-5, "printed to 1e-6");
  });

  it("spreads a half disc's heat like a line source once heat has gone far", () => {
    // E1(u) + 1 against E1(u) of a line: the textbook line source plus P/(2 pi k d), for u -> 0; derived by expanding (1 - exp(-u))/u
    const u = (0.4e-3 * 0.4e-3) / (4 * aluminium.diffusivityM2PerS * 10);
    const perLog = 100 / (2 * Math.PI * 237 * 0.8e-3);
    expectWithin(
      halfDiscOnEdgeK(100, 0.4e-3, 0.8e-3, 10, aluminium),
      perLog * (e1(u) + 1),
      perLog * u,
      "next term of the series is u/2",
    );
  });
});
