/** Anode, seal and exhaust air against closed forms, a worked example and energy. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type AnodeCooler,
  advanceAnodeK,
  advanceSealK,
  anodeCooler,
  anodeStress,
  anodeTimeLeftS,
  coolingWPerK,
  exhaustAirK,
  sealStress,
  sealTimeLeftS,
} from "../../../src/physics/heat/anodeCooler";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const COOLER = anodeCooler({
  ratedW: 1500,
  ratedRiseK: 225,
  heatJPerK: 0.6 * 385,
  airflowM3PerS: 0.0165,
  inletK: 293.15,
  relativeDensity: 1,
  stillShare: 0.03,
  anodeLimitK: 630,
  sealTimeConstantS: 120,
  sealLimitK: 523.15,
});
const G = coolingWPerK(COOLER, 1);

interface Temperatures {
  readonly anodeK: number;
  readonly sealK: number;
}

function warmed(
  cooler: AnodeCooler,
  from: Temperatures,
  watts: number,
  airflow: number,
  s: number,
  steps: number,
): Temperatures {
  const g = coolingWPerK(cooler, airflow);
  let { anodeK, sealK } = from;
  for (let i = 0; i < steps; i++) {
    const next = advanceAnodeK(cooler, anodeK, watts, g, s / steps);
    sealK = advanceSealK(cooler, sealK, 0.5 * (anodeK + next), s / steps);
    anodeK = next;
  }
  return { anodeK, sealK };
}

const COLD: Temperatures = { anodeK: 293.15, sealK: 293.15 };

describe("anode in its air", () => {
  it("of 0.6 kg of copper has a time constant of 34.7 s", () => {
    // 0.6 kg x 385 J/(kg K) x 225 K / 1500 W = 34.65 s
    expectWithin(COOLER.heatJPerK / G, 34.65, 0.005, "worked by hand to four digits");
    const { anodeK } = warmed(COOLER, COLD, 1500, 1, 34.65, 35_000);
    expectWithin(anodeK - 293.15, 225 * (1 - Math.exp(-1)), 1e-3, "first-order step");
  });

  it("warms by P/C a second when the air is gone, but for the little that is left", () => {
    // adiabatic: 1000 W / 231 J/K = 4.33 K/s; 3 % of 6.67 W/K take 0.2 W/K of it back
    const { anodeK } = warmed(COOLER, COLD, 1000, 0, 1, 1000);
    expectWithin(anodeK - 293.15, 1000 / 231, 0.003, "0.2 W/K over 2 K on the mean");
  });

  it("cools in proportion to airflow and density", () => {
    expectWithin(coolingWPerK(COOLER, 0.5), G * (0.03 + 0.97 * 0.5), 1e-12, "by definition");
    const high = anodeCooler({ ...COOLER, airflowM3PerS: 0.0165, relativeDensity: 0.8 });
    expectWithin(coolingWPerK(high, 1), 0.8 * G, 1e-12, "by definition");
  });

  it("gives the air what it dissipates: 1500 W in 16.5 l/s are 75 K", () => {
    // 1500/(1.204 x 0.0165 x 1006) = 75.06 K; density and heat of air from tables
    const { anodeK } = warmed(COOLER, COLD, 1500, 1, 1000, 20_000);
    expectWithin(exhaustAirK(COOLER, anodeK, G, 1) - 293.15, 75.06, 0.02, "worked by hand");
  });

  it("balances energy: stored and carried away are what came in", () => {
    let anodeK = 293.15;
    let awayJ = 0;
    const dt = 0.01;
    for (let i = 0; i < 3000; i++) {
      const next = advanceAnodeK(COOLER, anodeK, 2200, G, dt);
      awayJ += G * (0.5 * (anodeK + next) - COOLER.inletK) * dt;
      anodeK = next;
    }
    const storedJ = 231 * (anodeK - 293.15);
    expectWithin(storedJ + awayJ, 2200 * 30, 1e-6 * 66_000, "rounding");
  });

  it("warms the exhaust more the less air there is, to the anode's own temperature at most", () => {
    let last = 0;
    for (const airflow of [1, 0.5, 0.1, 0.02, 0]) {
      const atK = exhaustAirK(COOLER, 450, coolingWPerK(COOLER, airflow), airflow);
      expect(atK).toBeGreaterThanOrEqual(last);
      expect(atK).toBeLessThanOrEqual(450);
      last = atK;
    }
    expectWithin(last, 450, 1e-9, "no air to spread it over");
  });

  it("has a time left that the clock run on confirms", () => {
    const leftS = anodeTimeLeftS(COOLER, 293.15, 3000, G);
    // 450 K in the end, 336.85 K to go: 34.65 ln(450/113.15) = 47.84 s
    expectWithin(leftS, 47.84, 0.01, "worked by hand");
    expectWithin(warmed(COOLER, COLD, 3000, 1, leftS, 20_000).anodeK, 630, 1e-3, "steps of 2 ms");
    expect(anodeTimeLeftS(COOLER, 293.15, 2200, G)).toBe(Infinity);
    expect(anodeTimeLeftS(COOLER, 640, 0, G)).toBe(0);
    expectWithin(anodeStress(COOLER, 3000, G), 2, 1e-12, "twice rated");
  });
});

describe("seal behind the anode", () => {
  it("follows as two bodies in a row do", () => {
    // step response 1 - (ta e^{-t/ta} - ts e^{-t/ts})/(ta - ts), 0.9 of the anode's 225 K
    const [ta, ts, t] = [34.65, 120, 60];
    const share = 1 - (ta * Math.exp(-t / ta) - ts * Math.exp(-t / ts)) / (ta - ts);
    const { sealK } = warmed(COOLER, COLD, 1500, 1, t, 6000);
    expectWithin(sealK - 293.15, 0.9 * 225 * share, 1e-3, "steps of 10 ms");
  });

  it("is safe for good at rated dissipation and lost with half of the air gone", () => {
    // 0.9 x 225 K is 222 degC under 250; at half airflow 0.9 x 225/0.515 = 393 K over the inlet
    expect(sealTimeLeftS(COOLER, 293.15, 293.15, 1500, G)).toBe(Infinity);
    expect(sealStress(COOLER, 1500, G)).toBeLessThan(1);
    const half = coolingWPerK(COOLER, 0.5);
    expect(sealStress(COOLER, 1500, half)).toBeGreaterThan(1);
    expect(sealTimeLeftS(COOLER, 293.15, 293.15, 1500, half)).toBeLessThan(600);
  });

  it("has a time left that the clock run on confirms, heat cut off included", () => {
    const kelvins = fc.double({ min: 293.15, max: 700, noNaN: true });
    fc.assert(
      fc.property(
        kelvins,
        fc.double({ min: 293.15, max: 523, noNaN: true }),
        fc.double({ min: 0, max: 6000, noNaN: true }),
        fc.constantFrom(1, 0.5, 0.2),
        (anodeK, sealK, watts, airflow) => {
          const g = coolingWPerK(COOLER, airflow);
          const leftS = sealTimeLeftS(COOLER, anodeK, sealK, watts, g);
          const spanS = Number.isFinite(leftS) ? leftS : 2000;
          const steps = 4000;
          let peak = sealK;
          let state: Temperatures = { anodeK, sealK };
          for (let i = 0; i < 4; i++) {
            state = warmed(COOLER, state, watts, airflow, spanS / 4, steps / 4);
            peak = Math.max(peak, state.sealK);
          }
          if (Number.isFinite(leftS)) expectWithin(state.sealK, 523.15, 0.01, "second order");
          else expect(peak).toBeLessThan(523.15 + 0.01);
        },
      ),
      fixedRuns(30),
    );
  });
});
