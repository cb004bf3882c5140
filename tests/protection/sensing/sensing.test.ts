import { describe, expect, it } from "vitest";
import { DEFAULT_SENSORS } from "../../../src/project/presets/sensors";
import type { Sensors } from "../../../src/project/protection";
import { noiseUnit, sampleBits } from "../../../src/protection/sensing/noise";
import { createSensing, SENSOR_NAMES } from "../../../src/protection/sensing/sensing";
import { expectWithin } from "../../support/expectWithin";

const SAMPLE_NS = 50_000;
const SAMPLE_S = 50e-6;

/** The default sensors without noise, so that closed forms can be compared. */
const QUIET: Sensors = {
  ...DEFAULT_SENSORS,
  driveForwardW: { ...DEFAULT_SENSORS.driveForwardW, noiseFraction: 0 },
  driveReflectedW: { ...DEFAULT_SENSORS.driveReflectedW, noiseFraction: 0 },
  outputForwardW: { ...DEFAULT_SENSORS.outputForwardW, noiseFraction: 0 },
  outputReflectedW: { ...DEFAULT_SENSORS.outputReflectedW, noiseFraction: 0 },
};
const PLATE_A = SENSOR_NAMES.indexOf("plateCurrentA");
const FORWARD_W = SENSOR_NAMES.indexOf("outputForwardW");
const REFLECTED_W = SENSOR_NAMES.indexOf("outputReflectedW");

function start(sensors: Sensors, seed = 7, smoothings: Parameters<typeof createSensing>[1] = []) {
  const sensing = createSensing({ sensors, sampleNs: SAMPLE_NS }, smoothings);
  const state = new Float64Array(sensing.stateLength);
  sensing.init(state, 0, seed);
  return { sensing, state, row: new Float64Array(sensing.rowLength) };
}

const means = (values: Readonly<Record<number, number>>): Float64Array =>
  Float64Array.from(SENSOR_NAMES, (_, i) => values[i] ?? 0);

describe("a detector's lag", () => {
  it("has risen by 1 - 1/e after one time constant of a step", () => {
    const { sensing, state, row } = start(QUIET);
    for (let i = 0; i < 6; i++) sensing.advanceSegment(state, 0, SAMPLE_S, means({ [PLATE_A]: 2 }));
    sensing.endSample(state, 0, row);
    // 0.3 ms = 6 samples; 2 (1 - e^-1) = 1.264241118 by hand
    expectWithin(
      row[PLATE_A] as number,
      1.264241118,
      2.5 / 4095 / 2,
      "half a step of 12 bits on 2.5 A",
    );
  });

  it("does not depend on how a sample is cut into segments", () => {
    const whole = start(QUIET);
    const cut = start(QUIET);
    const input = means({ [PLATE_A]: 1.7, [FORWARD_W]: 903 });
    whole.sensing.advanceSegment(whole.state, 0, SAMPLE_S, input);
    for (const dtS of [3e-9, 11.997e-6, 30e-6, 8e-6])
      cut.sensing.advanceSegment(cut.state, 0, dtS, input);
    for (const i of [PLATE_A, FORWARD_W])
      expectWithin(
        cut.state[i] as number,
        whole.state[i] as number,
        1e-12 * (whole.state[i] as number),
        "four roundings of a factor near one",
      );
  });
});

describe("a directional coupler", () => {
  it("shows a thousandth of the forward power as reflected at 30 dB of directivity", () => {
    const { sensing, state, row } = start(QUIET);
    for (let i = 0; i < 400; i++) {
      sensing.advanceSegment(state, 0, SAMPLE_S, means({ [FORWARD_W]: 1453 }));
      sensing.endSample(state, 0, row);
    }
    // 1453 W / 10^3 = 1.453 W
    expectWithin(
      row[REFLECTED_W] as number,
      1.453,
      1000 / 4095 / 2,
      "half a step of 12 bits on 1 kW",
    );
  });

  it("is ideal when its directivity is null", () => {
    const ideal = {
      ...QUIET,
      outputReflectedW: { ...QUIET.outputReflectedW, directivityDb: null },
    };
    const { sensing, state, row } = start(ideal);
    for (let i = 0; i < 400; i++)
      sensing.advanceSegment(state, 0, SAMPLE_S, means({ [FORWARD_W]: 1453 }));
    sensing.endSample(state, 0, row);
    expect(row[REFLECTED_W]).toBe(0);
  });
});

describe("a converter", () => {
  it("stops at full scale and at zero", () => {
    const { sensing, state, row } = start({
      ...QUIET,
      gridCurrentA: { ...QUIET.gridCurrentA, offset: -0.2 },
    });
    for (let i = 0; i < 400; i++)
      sensing.advanceSegment(state, 0, SAMPLE_S, means({ [PLATE_A]: 204 }));
    sensing.endSample(state, 0, row);
    expect(row[PLATE_A]).toBe(2.5); // full scale of the plate-current channel
    expect(row[SENSOR_NAMES.indexOf("gridCurrentA")]).toBe(0);
  });

  it("reads whole steps, each within half a step of the truth", () => {
    const { sensing, state, row } = start(QUIET);
    const stepA = 2.5 / 4095; // 12 bits
    for (let i = 0; i < 400; i++)
      sensing.advanceSegment(state, 0, SAMPLE_S, means({ [PLATE_A]: 0.8341 }));
    sensing.endSample(state, 0, row);
    expectWithin(row[PLATE_A] as number, 0.8341, stepA / 2, "half a step");
    const steps = (row[PLATE_A] as number) / stepA;
    expectWithin(steps, Math.round(steps), 1e-9, "rounding of one division");
  });

  it("applies gain error before offset", () => {
    const def = { ...QUIET.plateCurrentA, gainError: 0.1, offset: 0.03 };
    const { sensing, state, row } = start({ ...QUIET, plateCurrentA: def });
    for (let i = 0; i < 400; i++)
      sensing.advanceSegment(state, 0, SAMPLE_S, means({ [PLATE_A]: 1.3 }));
    sensing.endSample(state, 0, row);
    // 1.3 * 1.1 + 0.03 = 1.46
    expectWithin(row[PLATE_A] as number, 1.46, 2.5 / 4095 / 2, "half a step of 12 bits");
  });
});

describe("sensor noise", () => {
  it("has mean 0 and standard deviation 1 before scaling", () => {
    let sum = 0;
    let squares = 0;
    const n = 40_000;
    for (let k = 0; k < n; k++) {
      const x = noiseUnit(sampleBits(12345, k), 2);
      sum += x;
      squares += x * x;
    }
    // standard error of a mean is 1/sqrt(n) = 0.005, of a variance sqrt(1.7/n) = 0.0065 (kurtosis 2.7)
    expectWithin(sum / n, 0, 0.02, "four standard errors");
    expectWithin(squares / n, 1, 0.026, "four standard errors");
  });

  it("is uncorrelated from sensor to sensor and from sample to sample", () => {
    let lanes = 0;
    let samples = 0;
    const n = 40_000;
    for (let k = 0; k < n; k++) {
      const x = noiseUnit(sampleBits(99, k), 0);
      lanes += x * noiseUnit(sampleBits(99, k), 1);
      samples += x * noiseUnit(sampleBits(99, k + 1), 0);
    }
    expectWithin(lanes / n, 0, 0.02, "four standard errors of 1/sqrt(n)");
    expectWithin(samples / n, 0, 0.02, "four standard errors of 1/sqrt(n)");
  });

  it("is the same for the same seed and another for another", () => {
    const rows = [7, 7, 8].map((seed) => {
      const { sensing, state, row } = start(DEFAULT_SENSORS, seed);
      for (let i = 0; i < 50; i++) {
        sensing.advanceSegment(state, 0, SAMPLE_S, means({ [FORWARD_W]: 1453 }));
        sensing.endSample(state, 0, row);
      }
      return [...row];
    });
    expect(rows[1]).toEqual(rows[0]);
    expect(rows[2]).not.toEqual(rows[0]);
  });

  it("goes on the same from a copy of the state", () => {
    const a = start(DEFAULT_SENSORS);
    const advance = (s: typeof a, state: Float64Array) => {
      s.sensing.advanceSegment(state, 0, SAMPLE_S, means({ [FORWARD_W]: 1453, [PLATE_A]: 0.8 }));
      s.sensing.endSample(state, 0, s.row);
      return [...s.row];
    };
    for (let i = 0; i < 9; i++) advance(a, a.state);
    const copy = a.state.slice();
    const onward = [0, 1, 2].map(() => advance(a, a.state));
    expect([0, 1, 2].map(() => advance(a, copy))).toEqual(onward);
  });
});

describe("digital smoothing", () => {
  it("lags the reading by its own time constant", () => {
    const { sensing, state, row } = start(QUIET, 7, [
      { sensor: "plateV", smoothingS: 2e-3 },
      { sensor: "plateV", smoothingS: 2e-3 },
    ]);
    const at = sensing.rowIndex("plateV", 2e-3);
    expect(sensing.rowLength).toBe(11); // ten readings and one copy, asked for twice
    state[SENSOR_NAMES.indexOf("plateV")] = 5000; // detector already settled at full scale
    for (let i = 0; i < 40; i++) {
      sensing.advanceSegment(state, 0, SAMPLE_S, means({ [SENSOR_NAMES.indexOf("plateV")]: 5000 }));
      sensing.endSample(state, 0, row);
    }
    // 40 samples = 2 ms: 5000 (1 - 1/e) = 3160.60279 by hand
    expectWithin(row[at] as number, 3160.60279, 1e-4, "eight digits written down");
  });

  it("refuses a copy that nobody asked for", () => {
    const { sensing } = start(QUIET);
    expect(() => sensing.rowIndex("plateV", 2e-3)).toThrow("plateV");
  });
});

describe("sensing that has been at rest for long", () => {
  it("is where a second of the same means brings it, copies, leak and errors included", () => {
    const sensors: Sensors = {
      ...QUIET,
      outputReflectedW: { ...QUIET.outputReflectedW, gainError: 0.03, offset: 2 },
    };
    const copies = [
      { sensor: "outputForwardW", smoothingS: 2e-3 },
      { sensor: "gridCurrentA", smoothingS: 5e-3 },
    ] as const;
    const input = means({ [FORWARD_W]: 1453, [REFLECTED_W]: 87, [PLATE_A]: 0.82, 5: 0.069 });
    const run = start(sensors, 7, copies);
    for (let k = 0; k < 20_000; k++) {
      run.sensing.advanceSegment(run.state, 0, SAMPLE_S, input);
      run.sensing.endSample(run.state, 0, run.row);
    }
    const rest = start(sensors, 7, copies);
    rest.sensing.restOn(rest.state, 0, rest.row, input, 20_000);
    // the same converter step everywhere, and the copies within 200 time constants of it
    for (let i = 0; i < run.row.length; i++)
      expectWithin(rest.row[i] as number, run.row[i] as number, 1e-9, "exp(-200), and rounding");
    // the noise goes on where it would be
    expect([...rest.state].map((x) => x.toFixed(6))).toEqual(
      [...run.state].map((x) => x.toFixed(6)),
    );
  });
});
