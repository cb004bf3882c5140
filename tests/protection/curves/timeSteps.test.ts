/** The published times once more, by the interpreter in time steps: what a monitor does, not what a formula says. */
import { describe, expect, it } from "vitest";
import type { Timing } from "../../../src/project/protection";
import type { MonitorState } from "../../../src/protection/interpreter/monitorState";
import { compileMonitor, type MonitorProgram } from "../../../src/protection/interpreter/program";
import { startMonitor, stepMonitor } from "../../../src/protection/interpreter/stepMonitor";
import { expectWithin } from "../../support/expectWithin";
import { criterion, monitor } from "../monitorSamples";
import { ON_AIR } from "../rig";
import { MULTIPLES, OPERATE_S, RESET_S, RESET_SHARES, THERMAL_10_S } from "./publishedTimes";

const SCAN_S = 1e-3;
const PICKUP = 0.3;
/** Printed times are those of a multiplier of 1; a tenth is a tenth of the scans. */
const MULTIPLIER = 0.1;

function programOf(timing: Timing): MonitorProgram {
  const one = criterion({ pickup: PICKUP, dropOff: 0.95 * PICKUP, timing });
  return compileMonitor(monitor({ scanS: SCAN_S, criteria: [one] }), {
    sampleNs: 50_000,
    rowIndex: () => 0,
    expectedForwardGainDb: () => 0,
  });
}

/** Scans of a steady reading until `ends`; the first of them is scan `from`. */
function scansUntil(
  program: MonitorProgram,
  start: MonitorState,
  from: number,
  reading: number,
  ends: (state: MonitorState) => boolean,
): { readonly state: MonitorState; readonly scans: number } {
  const row = Float64Array.of(reading);
  let state = start;
  for (let scans = 1; scans < 200_000; scans++) {
    state = stepMonitor(program, state, row, from + scans - 1, ON_AIR);
    if (ends(state)) return { state, scans };
  }
  return { state, scans: Infinity };
}

const isOperated = (state: MonitorState): boolean => state.kind === "operate";
const travel = (state: MonitorState): number => state.criteria[0]?.memory ?? Number.NaN;

describe("inverse curves of IEC 60255-151 and IEEE C37.112, scan by scan", () => {
  for (const [curve, times] of Object.entries(OPERATE_S)) {
    it(`curve ${curve} operates at every printed multiple in the printed time`, () => {
      const program = programOf({
        kind: "inverse",
        curve: curve as keyof typeof OPERATE_S,
        timeMultiplier: MULTIPLIER,
      });
      for (const [i, seconds] of times.entries()) {
        const reading = PICKUP * (MULTIPLES[i] as number);
        const { scans } = scansUntil(program, startMonitor(program), 1, reading, isOperated);
        // the scan that picks up starts the clock and adds nothing to it
        expectWithin(
          (scans - 1) * SCAN_S,
          MULTIPLIER * seconds,
          SCAN_S + 1e-5,
          "rounded up to a scan, and half a unit of the last printed digit",
        );
      }
    });
  }

  it("at the pickup and under it none of them operates", () => {
    const program = programOf({ kind: "inverse", curve: "iecA", timeMultiplier: 0.05 });
    for (const reading of [0.5 * PICKUP, PICKUP]) {
      const { scans } = scansUntil(program, startMonitor(program), 1, reading, isOperated);
      expect(scans).toBe(Infinity);
    }
  });

  for (const [curve, times] of Object.entries(RESET_S)) {
    it(`curve ${curve} resets from all but full travel in the printed time`, () => {
      const program = programOf({
        kind: "inverse",
        curve: curve as keyof typeof RESET_S,
        timeMultiplier: MULTIPLIER,
      });
      // ten times the pickup, stopped one scan short of operation
      const full = scansUntil(program, startMonitor(program), 1, 10 * PICKUP, isOperated).scans;
      for (const [i, seconds] of times.entries()) {
        let scans = 0;
        const short = scansUntil(program, startMonitor(program), 1, 10 * PICKUP, () => {
          scans += 1;
          return scans === full - 1;
        });
        const gone = travel(short.state);
        expect(gone).toBeGreaterThan(0.98);
        const reading = PICKUP * (RESET_SHARES[i] as number);
        const reset = scansUntil(program, short.state, full, reading, (s) => travel(s) === 0);
        expectWithin(
          reset.scans * SCAN_S,
          gone * MULTIPLIER * seconds,
          SCAN_S + 1e-4,
          "rounded up to a scan; printed to three or four decimals",
        );
      }
    });
  }
});

describe("thermal replica of IEC 60255-149, scan by scan", () => {
  const program = programOf({ kind: "thermal", timeConstantS: 10 });

  it.each(THERMAL_10_S)(
    "at %d times the operating current, cold and hot",
    (current, coldS, hotS) => {
      // linear in the quantity: what heats is the square of the current
      const reading = PICKUP * current * current;
      const cold = scansUntil(program, startMonitor(program), 1, reading, isOperated);
      expectWithin(cold.scans * SCAN_S, coldS, SCAN_S + 1e-4, "a scan, and the last printed digit");

      const warmed = scansUntil(
        program,
        startMonitor(program),
        1,
        0.64 * PICKUP,
        (s) => travel(s) > 0.64 * PICKUP * (1 - 1e-6),
      );
      const hot = scansUntil(program, warmed.state, warmed.scans + 1, reading, isOperated);
      expectWithin(hot.scans * SCAN_S, hotS, SCAN_S + 1e-4, "a scan, and the last printed digit");
    },
  );

  it("at its operating level it never operates", () => {
    const { scans } = scansUntil(program, startMonitor(program), 1, 0.999 * PICKUP, isOperated);
    expect(scans).toBe(Infinity);
  });
});
