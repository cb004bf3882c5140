/**
 * Do the checks notice? Each entry makes one mistake in a station's clocks, of the size a slip of the pen makes, and the
 * figures worked by hand have to be missed. Without the mistake they are met.
 */
import { describe, expect, it } from "vitest";
import {
  advanceClocks,
  CLOCK,
  CLOCK_PARTS,
  CLOCK_STATE_LENGTH,
  type ClockPart,
  type Clocks,
  clockFraction,
  clocksOf,
  initClocks,
} from "../../../src/physics/heat/clocks";
import { DEFAULT_STATION } from "../../../src/project/defaults";

const STEP_S = 0.01;
const SOUND = clocksOf(
  { ...DEFAULT_STATION, site: { altitudeM: 0, airK: 293.15, relativeHumidity: 0.5 } },
  STEP_S,
);

/** Way to damage after `s` of these inputs, closed forms worked by hand: first order unless said. */
const FIGURES: readonly {
  readonly part: ClockPart;
  readonly input: number;
  readonly s: number;
  readonly fraction: number;
}[] = [
  // 2.25 kW: 337.5 K (1 - e^{-1}) over 336.85 K
  { part: "anode", input: 2250, s: 34.65, fraction: 0.6333 },
  // two bodies in a row, 303.75 K x 0.2149 over 230 K
  { part: "seal", input: 2250, s: 60, fraction: 0.2852 },
  // adiabatic: 4 x 25 W x 1050^3/(1050^4 - 600^4) x 0.3 s = 0.03198 J/K; 2.5 J are 78.2 of 737.3 K
  { part: "grid", input: 250, s: 0.01, fraction: 0.106 },
  // 2 x (1 - e^{-1}) of 1.4
  { part: "cathode", input: 2, s: 20, fraction: 0.903 },
  // 3 x (1 - e^{-1}) of 2
  { part: "exciter", input: 90, s: 5, fraction: 0.9482 },
  // (30 A/20 A)^2 (1 - e^{-1}) of 2
  { part: "switchContact", input: 900, s: 10, fraction: 0.7111 },
  // (20 A/15 A)^2 (1 - e^{-1}) of 2.5
  { part: "tuningWiper", input: 400, s: 30, fraction: 0.4495 },
  { part: "loadingWiper", input: 400, s: 30, fraction: 0.4495 },
  // 1.5 A: 2.25 (1 - e^{-1}) of 2
  { part: "plateChoke", input: 2.25, s: 20, fraction: 0.7111 },
  // 20 W for 20 s: 400 J (1 - e^{-1}) of 500 J
  { part: "surgeResistor", input: 20, s: 20, fraction: 0.5057 },
];

function missed(clocks: Clocks): readonly ClockPart[] {
  return FIGURES.filter(({ part, input, s, fraction }) => {
    const state = new Float64Array(CLOCK_STATE_LENGTH);
    initClocks(clocks, state, 0);
    const inputs = Float64Array.from(CLOCK_PARTS, (p) =>
      p === part || (part === "seal" && p === "anode") ? input : 0,
    );
    for (let i = 0; i < Math.round(s / STEP_S); i++) advanceClocks(clocks, state, 0, inputs, 1);
    const off = clockFraction(clocks, state, 0, CLOCK[part]) / fraction - 1;
    return !(Math.abs(off) < 0.015); // figures of three to four digits, air at sea level within 0.1 %
  }).map(({ part }) => part);
}

function scaled(values: Float64Array, part: ClockPart, factor: number): Float64Array {
  return values.map((v, k) => (k === CLOCK[part] ? v * factor : v));
}

const { grid, cooler } = SOUND;
const MISTAKES: readonly (readonly [string, readonly ClockPart[], Partial<Clocks>])[] = [
  [
    "heat capacity twice",
    ["anode", "seal"],
    { cooler: { ...cooler, heatJPerK: 2 * cooler.heatJPerK } },
  ],
  [
    "conductance of the wrong sign",
    ["anode", "seal"],
    { cooler: { ...cooler, fullWPerK: -cooler.fullWPerK } },
  ],
  ["conductance half", ["anode"], { cooler: { ...cooler, fullWPerK: 0.5 * cooler.fullWPerK } }],
  ["seal twice as slow", ["seal"], { cooler: { ...cooler, sealTimeConstantS: 240 } }],
  ["grid's heat capacity half", ["grid"], { grid: { ...grid, heatJPerK: 0.5 * grid.heatJPerK } }],
  [
    "steps of the wrong sign",
    ["cathode", "exciter", "plateChoke"],
    { steps: SOUND.steps.map((v) => -v) },
  ],
  ...CLOCK_PARTS.slice(CLOCK.switchContact, CLOCK.relayContact).map(
    (part): readonly [string, readonly ClockPart[], Partial<Clocks>] => [
      `${part}: peak for effective current`,
      [part],
      { perStress: scaled(SOUND.perStress, part, 0.5) },
    ],
  ),
  ["cathode's rating twice", ["cathode"], { perStress: scaled(SOUND.perStress, "cathode", 2) }],
  ["exciter's limit half", ["exciter"], { limits: scaled(SOUND.limits, "exciter", 0.5) }],
];

describe("figures of the clocks worked by hand", () => {
  it("are met without a mistake", () => {
    expect(missed(SOUND)).toEqual([]);
  });

  it.each(MISTAKES)("notice: %s", (_, parts, spoil) => {
    expect(missed({ ...SOUND, ...spoil })).toEqual(expect.arrayContaining([...parts]));
  });
});
