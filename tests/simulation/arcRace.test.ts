/**
 * The race the product is about: an insect in the tuning capacitor at full drive, low gain against the melting edge.
 *
 * Limits are the product's own acceptance limits. Figures of an "independent model" come from an unpublished program with the
 * same model at 65 W of drive; they have no other source.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { beadDiameterM } from "../../src/physics/heat/bead";
import { METALS } from "../../src/physics/heat/metals";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { CH } from "../../src/simulation/channels";
import { operatingPoint } from "../../src/simulation/operatingPoint";
import { faultResult } from "../../src/simulation/simulate";
import { actuatorLog, operateS, reading } from "../support/benchLog";
import { benchOf, FAULT_S, faultScenario } from "../support/cases";
import { expectWithin } from "../support/expectWithin";
import { ROOT } from "../support/root";

const STRIKE_NS = 1_000_370_000;
/** The unprotected run as far as a person opens the key, and a little more. */
const FOLLOW_NS = 2_600_000_000;

function demonstration(name: string) {
  const read = readProject(readFileSync(resolve(ROOT, "public/projects", `${name}.json`), "utf8"));
  if (!read.ok) throw new Error(`${name} cannot be read`);
  const bench = benchOf(read.project);
  bench.advanceTo(STRIKE_NS - 1_000_000);
  const before = bench.recorder.row.slice();
  bench.advanceTo(STRIKE_NS + 100_000_000);
  const start = bench.zeros[0];
  if (start === undefined) throw new Error(`nothing struck in ${name}`);
  const twin = bench.fork(start);
  twin.advanceTo(STRIKE_NS + 20_000_000);
  const burning = twin.recorder.row.slice();
  twin.advanceTo(STRIKE_NS + FOLLOW_NS);
  return { bench, twin, before, burning, ...faultResult(bench, start, Infinity, twin) };
}

const run = demonstration("skerry-light-insect");
const struck = run.race.damage.find((d) => d.struck);
const lowGain = run.race.monitors.find((m) => m.id === "lowGain");

describe("an insect in the tuning capacitor", () => {
  it("strikes as soon as it is placed, off the scan edge", () => {
    expect(run.race.zero).toEqual({
      fault: "insect",
      part: "tuningCapacitor",
      struck: "tuningCapacitor",
      atNs: STRIKE_NS,
    });
  });

  it("is seen by low gain 3.6 ms after the strike and cleared by the cathode cut-off", () => {
    // Scans lie 0.63, 1.63, ... ms after the strike; pickup at the second, then two more. Independent model, unpublished: 3.63 ms.
    expectWithin(lowGain?.operateS ?? Number.NaN, 3.63e-3, 1e-9, "operations lie on scans");
    expectWithin(lowGain?.pickupS ?? Number.NaN, 1.63e-3, 1e-9, "pickups lie on scans");
    expect(run.race.firstTrip?.id).toBe("lowGain");
    // cut-off 0.1 ms after the trip; the cathode return charges 10 nF to 160 V with about 0.8 A in 2 us, and the tank
    // rings down within 5 us
    expectWithin((run.race.clearingS ?? Number.NaN) - 3.73e-3, 8e-6, 8e-6, "0 to 16 us");
  });

  it("sends drive inhibit and cut-off together and opens the relay last, without output", () => {
    const log = actuatorLog(run.bench);
    expect(log.map((a) => a.what)).toEqual([
      "cathodeCutoff acted",
      "driveInhibit acted",
      "transmitReceive acted",
    ]);
    const relayS = ((log[2]?.atNs ?? 0) - STRIKE_NS) / 1e9;
    expectWithin(relayS, 3.63e-3 + 8e-3 + 0.2e-3, 0.3e-3, "release 8 ms after the output fell");
  });

  it("melts nothing while protected, even by the early edge of the estimates", () => {
    expect(run.moltenKg).toBe(0);
    const melted = run.bench.events.filter((e) => e.kind === "milestone");
    expect(melted).toEqual([]);
    expect(run.race.marginEarly ?? 0).toBeGreaterThan(3); // required margin of the product, here by the early edge too
    expect(run.race.margin ?? 0).toBeGreaterThan(3);
    expect(run.race.marginHalfMilligram ?? 0).toBeGreaterThan(5);
  });

  it("leaves a bead of 1 mm or more when nobody but the operator ends it", () => {
    const left = run.moltenUnprotectedKg ?? 0;
    expect(beadDiameterM(METALS.alloy5052, left)).toBeGreaterThan(1e-3);
    expect(beadDiameterM(METALS.alloy5052, left)).toBeLessThan(2e-3); // a sphere wider than the gap of 1.5 mm would have bridged
    expect(struck?.beadS ?? Infinity).toBeLessThan(2.5);
  });

  it("trips nothing else before the early edge of melting", () => {
    const earlyS = struck?.onsetUnprotectedEarlyS ?? 0;
    expect(earlyS).toBeGreaterThan(0);
    for (const lane of run.race.monitors) {
      if (lane.id === "lowGain") continue;
      expect(lane.operateS ?? Infinity, lane.id).toBeGreaterThan(earlyS);
      expect(lane.alarmS ?? Infinity, lane.id).toBeGreaterThan(earlyS);
    }
  });

  it("raises plate current by 4 to 12 %, lets grid current fall and leaves the SWR", () => {
    const at = (row: Float64Array, i: number): number => row[i] as number;
    const {
      plateCurrentA: plate,
      gridCurrentA: grid,
      forwardW: forward,
      reflectedW: reflected,
    } = CH;
    // range of the independent model, unpublished, over ten arcs at the tuning and loading capacitors
    expectWithin(at(run.burning, plate) / at(run.before, plate), 1.08, 0.04, "4 to 12 %");
    expect(at(run.burning, grid)).toBeLessThan(0.85 * at(run.before, grid)); // independent model, unpublished: 69 to 42..58 mA
    expect(at(run.burning, reflected) / at(run.burning, forward)).toBeLessThan(1e-4); // SWR under 1.02
    expect(at(run.before, reflected) / at(run.before, forward)).toBeLessThan(1e-4);
    expect(reading(run.twin, "plateCurrentA")).toBeLessThan(1.35 * at(run.before, plate));
  });
});

describe("low gain over all scan phases", () => {
  const bench = benchOf(defaultProject([{ atS: 0, do: "key", down: true }]));
  bench.advanceTo(300_000_000);
  const settled = bench.snapshot();
  const times: number[] = [];
  for (let k = 0; k < 20; k++) {
    const atNs = 305_000_000 + k * 50_000 + 13_000; // anywhere inside a sample
    bench.restore(settled);
    bench.cutScript(settled.timeNs);
    bench.schedule(atNs, {
      do: "placeFault",
      fault: "insect",
      part: "tuningCapacitor",
      severity: 1,
    });
    bench.advanceTo(atNs + 8_000_000);
    times.push(operateS(bench, "lowGain", atNs));
  }

  it("operates 2.9 to 4.6 ms after the strike", () => {
    for (const s of times) {
      expect(s).toBeGreaterThan(2.9e-3);
      expect(s).toBeLessThan(4.6e-3);
    }
  });

  it("never operates before its quantity has passed the pickup for 2 ms", () => {
    // 0.2 ms detector and 2 ms smoothing need 1.14 ms from 1453 to 917 W (2 dB under expected), worked out in the chain's
    // own test; samples of 50 us and the noise of the couplers move the crossing by less than 60 us
    const earliest = Math.min(...times);
    expect(earliest).toBeGreaterThan(1.08e-3 + 2e-3);
    expectWithin(
      Math.max(...times) - earliest,
      0.95e-3,
      0.1e-3,
      "phases 50 us apart over one scan",
    );
  });
});

describe("the arc at 65 W of drive, where the independent model was run", () => {
  it("takes 171 W and ends the gain", () => {
    const result = operatingPoint({
      ...DEFAULT_STATION,
      exciter: { ...DEFAULT_STATION.exciter, availableW: 65 },
      arc: { place: "tuningCapacitor", maintainingV: 250 },
    });
    if (!result.ok) throw new Error("no working point");
    // ngspice, full waveform: 171 W, -6.4 dB, 14.8 W
    expectWithin(result.point.arcW, 171, 3, "1.4 % in plate current at a held voltage");
    expectWithin(
      result.point.gainDb,
      -6.4,
      0.06,
      "0.05 dB of the solver and the last printed digit",
    );
  });

  it("begins to melt the edge after 221 ms and leaves 3.0 mg, a bead of 1.34 mm, after 2.5 s", () => {
    const bench = benchOf(
      defaultProject([
        { atS: 0, do: "set", control: "driveW", value: 65 },
        ...faultScenario("insect", "tuningCapacitor"),
      ]),
    );
    bench.advanceTo((FAULT_S + 0.005) * 1e9);
    const start = bench.zeros[0];
    if (start === undefined) throw new Error("nothing struck");
    const twin = bench.fork(start);
    twin.advanceTo(start.zero.atNs + FOLLOW_NS);
    const { race, moltenUnprotectedKg } = faultResult(bench, start, Infinity, twin);
    const edge = race.damage.find((d) => d.struck);
    expectWithin(
      edge?.onsetUnprotectedS ?? Number.NaN,
      0.221,
      0.007,
      "cells of the two programs differ: 3 %",
    );
    expectWithin((moltenUnprotectedKg ?? 0) * 1e6, 3.0, 0.15, "molten mass within 5 %");
    expectWithin(
      beadDiameterM(METALS.alloy5052, moltenUnprotectedKg ?? 0) * 1e3,
      1.34,
      0.03,
      "a third of 5 %",
    );
  });
});
