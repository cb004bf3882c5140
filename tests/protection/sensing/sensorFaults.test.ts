import { describe, expect, it } from "vitest";
import { DEFAULT_SENSORS } from "../../../src/project/presets/sensors";
import {
  createSensing,
  SENSOR_NAMES,
  type SensorFaults,
} from "../../../src/protection/sensing/sensing";
import { expectWithin } from "../../support/expectWithin";

const SAMPLE_S = 50e-6;
const PLATE_A = SENSOR_NAMES.indexOf("plateCurrentA");
const GRID_A = SENSOR_NAMES.indexOf("gridCurrentA");
const FORWARD_W = SENSOR_NAMES.indexOf("outputForwardW");

/** One tenth of a second of steady values, then one sample with `faults` and other values. */
function readAfter(spoil: (faults: SensorFaults) => void): Float64Array {
  const sensing = createSensing({ sensors: DEFAULT_SENSORS, sampleNs: 50_000 }, []);
  const state = new Float64Array(sensing.stateLength);
  const row = new Float64Array(sensing.rowLength);
  sensing.init(state, 0, 3);
  const feed = (plateA: number, count: number, faults: SensorFaults | null) => {
    const means = new Float64Array(SENSOR_NAMES.length);
    means[PLATE_A] = plateA;
    means[GRID_A] = 0.1;
    means[FORWARD_W] = 1000;
    for (let i = 0; i < count; i++) {
      sensing.advanceSegment(state, 0, SAMPLE_S, means);
      sensing.endSample(state, 0, row, faults);
    }
  };
  feed(1, 2000, null);
  const faults: SensorFaults = {
    share: new Float64Array(SENSOR_NAMES.length).fill(1),
    stuck: new Uint8Array(SENSOR_NAMES.length),
  };
  spoil(faults);
  feed(2, 2000, faults);
  return row;
}

describe("a faulty sensor", () => {
  const step = 2.5 / 4095; // 12 bits on 2.5 A

  it("reads exactly nothing when it is open, noise included", () => {
    const row = readAfter(({ share }) => {
      share[FORWARD_W] = 0;
    });
    expect(row[FORWARD_W]).toBe(0);
    expectWithin(row[PLATE_A] as number, 2, step, "its neighbours are healthy");
  });

  it("goes on reading what it read last when it is stuck", () => {
    const row = readAfter(({ stuck }) => {
      stuck[PLATE_A] = 1;
    });
    expectWithin(row[PLATE_A] as number, 1, step, "the reading before the fault");
  });

  it("reads its share when its gain has moved", () => {
    const row = readAfter(({ share }) => {
      share[PLATE_A] = 0.7;
    });
    expectWithin(row[PLATE_A] as number, 1.4, step, "0.7 of 2 A");
    expectWithin(
      row[GRID_A] as number,
      0.1,
      1 / 4095,
      "another sensor, one step of 12 bits on 1 A",
    );
  });
});
