/**
 * Do the reference checks notice? Each entry makes one mistake in a circuit, of the size a slip of the pen makes, and
 * the comparison with the reference has to fail on the case named. Without the mistake it holds.
 */
import { describe, expect, it } from "vitest";
import type { StageCircuit } from "../../../src/physics/stage/circuit";
import { ARC_COUNT } from "../../../src/physics/stage/layout";
import {
  circuitOf,
  errorsOf,
  figuresOf,
  limitsOf,
  outsideLimits,
  placeOf,
  settleFromNothing,
  steadyCase,
} from "../../support/waveformCases";

type Change = (c: StageCircuit) => Partial<StageCircuit>;

function broken(name: string, spoil: Change): string[] {
  const { input, ngspice } = steadyCase(name);
  const sound = circuitOf(input);
  const c = { ...sound, ...spoil(sound) };
  const { row } = settleFromNothing(c, placeOf(input));
  return outsideLimits(name, errorsOf(figuresOf(row, input.Pd), ngspice), limitsOf(name));
}

/** Every arc held at this voltage. */
function held(volts: number): Float64Array {
  return new Float64Array(ARC_COUNT).fill(volts);
}

const MATCHED = "normal_14.2";
const IDLE = "idle_0.5W_14.2";
const PLATE_ARC = "arcC1_cassie_250_14.2";
const TAP_ARC = "arcCoil0.3_cassie_250_14.2";

const MISTAKES: readonly (readonly [string, string, Change])[] = [
  [
    "both tubes counted twice",
    MATCHED,
    (c) => ({ tube: { ...c.tube, perveance: c.tube.perveance * 2 } }),
  ],
  [
    "perveance a tenth too high",
    IDLE,
    (c) => ({ tube: { ...c.tube, perveance: c.tube.perveance * 1.1 } }),
  ],
  ["mu of 190 for 200", IDLE, (c) => ({ tube: { ...c.tube, mu: 190 } })],
  ["current division 2.8 for 3", MATCHED, (c) => ({ tube: { ...c.tube, divisionRatio: 2.8 } })],
  ["no cathode bias", MATCHED, () => ({ biasV: 0 })],
  ["cathode bias the wrong way round", MATCHED, () => ({ biasV: -9 })],
  ["transformer the wrong way round", MATCHED, (c) => ({ turnsRatio: 1 / c.turnsRatio })],
  ["effective for peak drive voltage", MATCHED, (c) => ({ sourceA: c.sourceA / Math.SQRT2 })],
  ["no input loss", MATCHED, () => ({ cathodeLossSiemens: 0 })],
  ["no coil loss", MATCHED, () => ({ coilOhm: 0 })],
  ["no plate choke", "normal_3.6", () => ({ chokeH: 1 })],
  ["plate capacitance 3 % too large", MATCHED, (c) => ({ plateF: c.plateF * 1.03 })],
  ["loading capacitor 4 % too large", MATCHED, (c) => ({ loadingF: c.loadingF * 1.04 })],
  ["coil 2 % too small", MATCHED, (c) => ({ coilH: c.coilH * 0.98 })],
  [
    "load reactance of the wrong sign",
    "vswr3_ph225_14.2",
    (c) => ({ loadSusceptanceSiemens: -c.loadSusceptanceSiemens }),
  ],
  ["load of a 75 ohm line", MATCHED, () => ({ loadSiemens: 1 / 75 })],
  ["4 % less plate voltage", MATCHED, (c) => ({ noLoadV: c.noLoadV * 0.96 })],
  ["arc voltage 1 % low", PLATE_ARC, () => ({ maintainingV: held(247.5) })],
  ["arc held at 4/pi of its voltage", PLATE_ARC, () => ({ maintainingV: held(318.3) })],
  ["tap counted from the plate", TAP_ARC, () => ({ tapFraction: 0.7 })],
  ["tap 2 % of the coil off", TAP_ARC, () => ({ tapFraction: 0.32 })],
];

describe("comparison with the full waveform", () => {
  it.each(MISTAKES)("notices: %s", (_, name, spoil) => {
    expect(broken(name, () => ({}))).toEqual([]);
    expect(broken(name, spoil)).not.toEqual([]);
  });

  it("counts a figure that is not a number as outside", () => {
    const { ngspice } = steadyCase("normal_14.2");
    const errors = errorsOf({ ...ngspice, Ip: Number.NaN }, ngspice);
    expect(outsideLimits("x", errors, limitsOf("x"))).toHaveLength(1);
  });
});
