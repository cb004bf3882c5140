/** The clocks of a station together: what each counts, how they agree with one another, and what they may never do. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  advanceClocks,
  CLOCK,
  CLOCK_COUNT,
  CLOCK_PARTS,
  CLOCK_STATE_LENGTH,
  type ClockPart,
  type Clocks,
  chokeHeatA2,
  clockExhaustAirK,
  clockFraction,
  clockStress,
  clocksOf,
  clockTimeLeftS,
  hotSwitchJ,
  initClocks,
  wearRelay,
} from "../../../src/physics/heat/clocks";
import { DEFAULT_STATION } from "../../../src/project/defaults";
import type { Station } from "../../../src/project/station";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const SAMPLE_S = 1e-3;
const CLOCKS = clocksOf(DEFAULT_STATION, SAMPLE_S);
/** Inputs at which every part has stress 1, from the ratings of the demonstration station. */
const RATED: Readonly<Record<ClockPart, number>> = {
  grid: 25,
  anode: 1500,
  cathode: 1,
  exciter: 30,
  seal: 0,
  switchContact: 20 * 20,
  tuningWiper: 15 * 15,
  loadingWiper: 15 * 15,
  plateChoke: 1,
  surgeResistor: 500 / 20,
  relayContact: 0,
};

function inputsOf(given: Partial<Record<ClockPart, number>>): Float64Array {
  return Float64Array.from(CLOCK_PARTS, (part) => given[part] ?? 0);
}

function cold(clocks: Clocks = CLOCKS): Float64Array {
  const state = new Float64Array(CLOCK_STATE_LENGTH);
  initClocks(clocks, state, 0);
  return state;
}

function run(
  inputs: Float64Array,
  s: number,
  airflow = 1,
  clocks: Clocks = CLOCKS,
  from = cold(clocks),
): Float64Array {
  const state = from.slice();
  for (let i = 0; i < Math.round(s / clocks.sampleS); i++)
    advanceClocks(clocks, state, 0, inputs, airflow);
  return state;
}

function fractions(state: Float64Array, clocks: Clocks = CLOCKS): readonly number[] {
  return CLOCK_PARTS.map((_, k) => clockFraction(clocks, state, 0, k));
}

describe("clocks of a station", () => {
  it("begin cold, with no stress and all the time there is", () => {
    expect(fractions(cold())).toEqual(CLOCK_PARTS.map(() => 0));
    for (let k = 0; k < CLOCK_COUNT; k++)
      expect(clockTimeLeftS(CLOCKS, cold(), 0, k)).toBe(Infinity);
  });

  it("read stress 1 at their ratings and come to no damage there, however long", () => {
    const state = run(inputsOf(RATED), 1000, 1, clocksOf(DEFAULT_STATION, 0.1));
    for (const part of CLOCK_PARTS) {
      const k = CLOCK[part];
      if (part === "seal" || part === "relayContact") continue;
      // air of the site is 0.36 % thinner than at sea level, which the anode feels
      expectWithin(clockStress(state, 0, k), 1, 0.006, "density at 30 m, identity for the rest");
      if (part === "surgeResistor") continue; // its rating is the energy that destroys it
      expect(clockFraction(CLOCKS, state, 0, k)).toBeLessThan(1);
      expect(clockTimeLeftS(CLOCKS, state, 0, k)).toBe(Infinity);
    }
  });

  it("let an oxide coating go where thoriated tungsten lasts", () => {
    const tungsten = clocksOf(
      {
        ...DEFAULT_STATION,
        clocks: { ...DEFAULT_STATION.clocks, emitter: "thoriatedTungsten" },
      },
      SAMPLE_S,
    );
    const inputs = inputsOf({ cathode: 1.6 });
    // 20 s ln(1.6/(1.6 - 1.4)) = 41.6 s
    const leftS = clockTimeLeftS(CLOCKS, run(inputs, SAMPLE_S), 0, CLOCK.cathode);
    expectWithin(leftS, 41.59, 0.01, "worked by hand");
    const other = run(inputs, SAMPLE_S, 1, tungsten);
    expect(clockTimeLeftS(tungsten, other, 0, CLOCK.cathode)).toBe(Infinity);
  });

  it("give the surge resistor all of the energy of a short and let it cool afterwards", () => {
    // E = C V^2/2 = 40 uF x (3180 V)^2/2 = 202.2 J of 500 J
    const joules = 0.5 * 40e-6 * 3180 * 3180;
    const short = run(inputsOf({ surgeResistor: joules / SAMPLE_S }), SAMPLE_S);
    const k = CLOCK.surgeResistor;
    expectWithin(clockFraction(CLOCKS, short, 0, k), 202.2 / 500, 1e-4, "1 ms of 20 s is cooling");
    const later = run(inputsOf({}), 20, 1, CLOCKS, short);
    const left = clockFraction(CLOCKS, later, 0, k) / clockFraction(CLOCKS, short, 0, k);
    expectWithin(left, Math.exp(-1), 1e-9, "one time constant");
  });

  it("count a choke's direct current a quarter of its RF current, squared", () => {
    // share of direct-current resistance: estimate of the module's header
    expectWithin(chokeHeatA2(0.36, 0.64), 0.36 + 0.25 * 0.64, 1e-12, "rounding");
  });

  it("wear the relay by what its contacts take, once for each hot switching, and never back", () => {
    // 20 V x 381 V/(sqrt 2 x 50 ohm) x 2 ms = 0.2155 J, of 20 J
    const joules = hotSwitchJ(381, 50);
    expectWithin(joules, 0.2155, 1e-4, "worked by hand");
    const state = cold();
    for (let i = 0; i < 3; i++) wearRelay(CLOCKS, state, 0, joules);
    const worn = (3 * 0.2155) / 20;
    expectWithin(clockFraction(CLOCKS, state, 0, CLOCK.relayContact), worn, 1e-5, "by hand");
    const later = run(inputsOf({}), 5, 1, CLOCKS, state);
    expect(clockFraction(CLOCKS, later, 0, CLOCK.relayContact)).toBe(
      clockFraction(CLOCKS, state, 0, CLOCK.relayContact),
    );
  });

  it("tell the exhaust's temperature, and that it rises when the air is lost", () => {
    // 900 W in 16.5 l/s: 45 K over the site's 20 degC, at 30 m a little more
    const coarse = clocksOf(DEFAULT_STATION, 0.1);
    const on = run(inputsOf({ anode: 900 }), 600, 1, coarse);
    expectWithin(clockExhaustAirK(on, 0), 293.15 + 45.04, 0.3, "density at 30 m");
    const off = run(inputsOf({ anode: 900 }), 10, 0, coarse, on);
    expect(clockExhaustAirK(off, 0)).toBeGreaterThan(clockExhaustAirK(on, 0) + 60);
  });

  it("lose the seal within a minute or two once the air is gone at full output", () => {
    // 900 W on 231 J/K is 3.9 K/s: from 135 K over the air to 255 K in half a minute, the seal some 100 s behind
    const coarse = clocksOf(DEFAULT_STATION, 0.1);
    const on = run(inputsOf({ anode: 900 }), 600, 1, coarse);
    const off = run(inputsOf({ anode: 900 }), 0.1, 0, coarse, on);
    const anodeS = clockTimeLeftS(coarse, off, 0, CLOCK.anode);
    // 231/0.2 x ln((4500 - 135)/(4500 - 337)) = 54.7 s
    expectWithin(anodeS, 54.7, 1, "worked by hand at sea level");
    const sealS = clockTimeLeftS(coarse, off, 0, CLOCK.seal);
    expect(sealS).toBeGreaterThan(30);
    expect(sealS).toBeLessThan(150);
  });

  it("work on the air that comes in, not on the site's where the station says otherwise", () => {
    const warm: Station = {
      ...DEFAULT_STATION,
      cooling: { ...DEFAULT_STATION.cooling, inletK: 313.15 },
    };
    const state = cold(clocksOf(warm, SAMPLE_S));
    expect(state[CLOCK.anode]).toBe(313.15);
    expect(clockExhaustAirK(state, 0)).toBe(313.15);
  });
});

describe("every clock", () => {
  const anyInputs = fc
    .tuple(...CLOCK_PARTS.map(() => fc.double({ min: 0, max: 8, noNaN: true })))
    .map((factors) => Float64Array.from(CLOCK_PARTS, (p, k) => RATED[p] * (factors[k] as number)));
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  const coarse = clocksOf(DEFAULT_STATION, 0.05);

  it("is never negative, never over 1, always finite, and never lower for more stress or less air", () => {
    fc.assert(
      fc.property(anyInputs, anyInputs, share, share, (before, now, airflow, less) => {
        const start = run(before, 2, airflow, coarse);
        const a = fractions(run(now, 1, airflow, coarse, start), coarse);
        const harder = now.map((v) => v * 1.5);
        const b = fractions(run(harder, 1, airflow * less, coarse, start), coarse);
        for (let k = 0; k < CLOCK_COUNT; k++) {
          expect(a[k]).toBeGreaterThanOrEqual(0);
          expect(a[k]).toBeLessThanOrEqual(1);
          expect(b[k] as number).toBeGreaterThanOrEqual((a[k] as number) - 1e-12);
        }
      }),
      fixedRuns(30),
    );
  });

  it("comes to damage when its time left has passed", () => {
    fc.assert(
      fc.property(
        anyInputs,
        anyInputs,
        share,
        fc.nat(CLOCK_COUNT - 2),
        (before, now, airflow, k) => {
          const start = run(now, 0.05, airflow, coarse, run(before, 1, airflow, coarse));
          const leftS = clockTimeLeftS(coarse, start, 0, k);
          fc.pre(leftS > 0.5 && leftS < 200);
          const early = run(now, leftS * 0.98 - 0.05, airflow, coarse, start);
          const late = run(now, leftS * 1.02 + 0.05, airflow, coarse, start);
          expect(clockFraction(coarse, early, 0, k)).toBeLessThan(1);
          expect(clockFraction(coarse, late, 0, k)).toBe(1);
        },
      ),
      fixedRuns(30),
    );
  });
});
