/** Sensor, smoothing, scan and confirmation together: the low-gain monitor on a sudden loss of output. */
import { describe, expect, it } from "vitest";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import { DEFAULT_SENSORS } from "../../src/project/presets/sensors";
import type { ProtectionEvent } from "../../src/protection/events";
import { smoothingsOf } from "../../src/protection/interpreter/program";
import { compileProtection, startProtection } from "../../src/protection/protectionState";
import { createSensing } from "../../src/protection/sensing/sensing";
import { stepProtection } from "../../src/protection/supervisor";
import { expectWithin } from "../support/expectWithin";
import { EXPECTED_GAIN_DB, ON_AIR, SAMPLE_NS } from "./rig";

/** Time from the loss of output at `lossNs` (1453 W to 14.8 W at 62 W of drive) to the low-gain operation, s. */
function lowGainOperateS(lossNs: number): number {
  const monitors = DEFAULT_MONITORS.filter((m) => m.id === "lowGain");
  const sensing = createSensing(
    { sensors: DEFAULT_SENSORS, sampleNs: SAMPLE_NS },
    smoothingsOf(monitors),
  );
  const system = compileProtection(monitors, {
    sampleNs: SAMPLE_NS,
    rowIndex: sensing.rowIndex,
    expectedForwardGainDb: () => EXPECTED_GAIN_DB,
  });
  const detectors = new Float64Array(sensing.stateLength);
  const row = new Float64Array(sensing.rowLength);
  sensing.init(detectors, 0, 11);
  const normal = Float64Array.from([62, 0, 1453, 0, 0.82, 0.065, 3020, 2420, 340, 0]);
  const lost = Float64Array.from([62, 0, 14.8, 0, 0.86, 0.05, 3010, 250, 340, 0]);
  let state = startProtection(system);
  const operates: ProtectionEvent[] = [];
  for (let n = 0; n * SAMPLE_NS < lossNs + 20e6; n++) {
    const beforeNs = Math.min(Math.max(lossNs - n * SAMPLE_NS, 0), SAMPLE_NS);
    if (beforeNs > 0) sensing.advanceSegment(detectors, 0, beforeNs / 1e9, normal);
    if (beforeNs < SAMPLE_NS)
      sensing.advanceSegment(detectors, 0, (SAMPLE_NS - beforeNs) / 1e9, lost);
    sensing.endSample(detectors, 0, row);
    state = stepProtection(system, state, row, n, ON_AIR, (event) => {
      if (event.kind === "operate") operates.push(event);
    });
  }
  return ((operates[0]?.atNs ?? Number.NaN) - lossNs) / 1e9;
}

describe("low gain from strike to operation", () => {
  // Detector 0.2 ms and smoothing 2 ms in a row fall to f of a step after t: f = (2 e^(-t/2) - 0.2 e^(-t/0.2))/1.8.
  // 2 dB under 13.7 dB at 62 W is 916.9 W: f = (916.9 - 14.8)/(1453 - 14.8) = 0.6273, t = 1.142 ms. Three scans
  // seen, so operation lies 2 ms after the first scan past 1.142 ms, anywhere from 3.14 to 4.14 ms.
  it("takes 3.63 ms for a strike 0.37 ms after a scan", () => {
    // Scans at 0.63, 1.63, 2.63, 3.63 ms after the strike; the second is the first past 1.142 ms
    expectWithin(lowGainOperateS(40_370_000), 3.63e-3, 1e-9, "operations lie on scans");
  });

  it("lies between 3.14 and 4.14 ms over all scan phases", () => {
    for (let k = 0; k < 10; k++) {
      const operateS = lowGainOperateS(40_000_000 + k * 100_000 + 7_000);
      expect(operateS).toBeGreaterThan(3.08e-3); // smoothing reads samples of 50 us and noise moves the crossing a little
      expect(operateS).toBeLessThan(4.2e-3);
    }
  });
});
