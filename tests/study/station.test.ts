/** Tables and charts of a station: each held to an identity or to a figure worked out beside it. */
import { describe, expect, it } from "vitest";
import { resolveStation, type StationParts } from "../../src/physics/stage/stationCircuit";
import { DEFAULT_STATION, DEFAULT_TANK } from "../../src/project/defaults";
import type { Station } from "../../src/project/station";
import { bandTable } from "../../src/study/bandTable";
import { loadLine, tubeCurves } from "../../src/study/loadLine";
import { headroom, partStress, swrOf } from "../../src/study/partStress";
import { driveSweep, loadOnCircle, swrCircle } from "../../src/study/sweeps";
import { intendedPlateOhm, tuneUp } from "../../src/study/tuneUp";
import { MATCHED, type Working, WorkingPoints } from "../../src/study/workingPoint";
import { expectWithin } from "../support/expectWithin";

function partsOf(station: Station): StationParts {
  const resolved = resolveStation(station);
  if (!resolved.ok) throw new Error(resolved.problem);
  return resolved.parts;
}

const parts = partsOf(DEFAULT_STATION);
const points = new WorkingPoints(parts);
const full = points.at(points.asDesigned(62)) as Working;

describe("a station on all its bands", () => {
  const rows = bandTable(DEFAULT_STATION, 62);

  it("works on each of them, with components of its own", () => {
    expect(rows.map((r) => r.band).join(" ")).toBe("160 m 80 m 40 m 30 m 20 m 17 m 15 m 12 m 10 m");
    const solved = rows.flatMap(({ result }) => (result.kind === "solved" ? [result] : []));
    expect(solved).toHaveLength(9);
    for (const { parts: p, working } of solved) {
      // loss of the coil alone: about Q / Qc of the power (ARRL Handbook, from memory), 4 to 9 % here
      expect(working.outputW).toBeGreaterThan(1300);
      expect(working.outputW).toBeLessThan(1500);
      expect(p.coilH).toBeGreaterThan(0);
    }
    expect(new Set(solved.map((s) => s.working.outputW.toFixed(1))).size).toBeGreaterThan(6);
  });

  it("strains the plate choke most on 160 m: U / (w L), by hand", () => {
    const [low] = rows;
    if (low?.result.kind !== "solved") throw new Error("160 m is not solved");
    const { working } = low.result;
    const choke = partStress(low.result.parts, working).find((s) => s.part === "plateChoke");
    const byHandA = working.plateRfPeakV / (2 * Math.PI * 1.9e6 * 225e-6) / Math.SQRT2;
    expectWithin(choke?.value ?? NaN, byHandA, 1e-4 * byHandA, "the same branch, settled to 1e-6");
    expect(headroom(choke as never)).toBeGreaterThan(0.3);
  });

  it("says in words when a band cannot be designed", () => {
    const tank = { ...DEFAULT_TANK, bands: [{ ...DEFAULT_TANK.bands[4], loadedQ: 2 } as never] };
    const [row] = bandTable({ ...DEFAULT_STATION, tank }, 62);
    expect(row?.result).toMatchObject({ kind: "impossible" });
  });
});

describe("tuning helper", () => {
  it("finds the design where it started", () => {
    const found = tuneUp(parts, MATCHED);
    if (found.kind !== "found") throw new Error(found.kind);
    expectWithin(found.tuningRatio, 1, 2e-3, "design iterates its loss, the match solves it");
    expectWithin(found.loadingRatio, 1, 2e-3, "as above");
    expect(intendedPlateOhm(parts)).toBe(1900);
  });

  it("brings the output back that VSWR 1.5 has taken, at every phase", () => {
    // a lossless tuner would give back all of it; the coil's loss moves with its current
    for (const row of swrCircle(points, 1.5, 62, 8)) {
      expect(row.stops).toEqual([]);
      expectWithin((row.retuned?.outputW ?? 0) / full.outputW, 1, 0.015, "loss of the coil");
      expectWithin(swrOf(row.load), 1.5, 1e-9, "definition of the circle");
    }
  });

  it("names the end stop in the way of a high SWR", () => {
    const stopped = partsOf({
      ...DEFAULT_STATION,
      loadingCapacitor: { ...DEFAULT_STATION.loadingCapacitor, maxF: 400e-12 },
    });
    // 390 pF serve 50 ohm; a heavier and inductive load asks for more
    const result = tuneUp(stopped, loadOnCircle(2, (3 * Math.PI) / 4));
    expect(result).toMatchObject({ kind: "stopped", stops: ["loadingHigh"] });
  });

  it("keeps its aim for a tank given by its values: the plate load it was tuned to", () => {
    const { tuningF, coilH, coilOhm, loadingF, chokeH, strayF } = parts;
    const explicit = partsOf({
      ...DEFAULT_STATION,
      tank: {
        kind: "explicitPi",
        tuningF,
        coilH,
        coilSeriesOhm: coilOhm,
        loadingF,
        chokeH,
        strayF,
      },
    });
    expectWithin(intendedPlateOhm(explicit), 1900, 4, "the design's own loss iteration");
  });
});

describe("sweeps and load line", () => {
  it("drive: output rises with drive, gain bends down near full drive", () => {
    const rows = driveSweep(points, 130, 12);
    const outputs = rows.map((r) => r.working?.outputW ?? NaN);
    for (let i = 1; i < outputs.length; i++) {
      expect(outputs[i]).toBeGreaterThan(outputs[i - 1] as number);
    }
    const gain = (i: number): number => (outputs[i] as number) / (rows[i]?.driveW as number);
    expect(gain(11)).toBeLessThan(gain(6));
  });

  it("load line: its mean currents are the working point's, by plain summation", () => {
    const line = loadLine(DEFAULT_STATION.tube, full, 720);
    const mean = (f: (p: (typeof line)[number]) => number): number =>
      line.slice(1).reduce((sum, p) => sum + f(p), 0) / 720;
    expectWithin(
      mean((p) => p.plateA),
      full.plateCurrentA,
      0.003 * full.plateCurrentA,
      "the solver averages with 32 graded points",
    );
    expectWithin(
      mean((p) => p.gridA),
      full.gridCurrentA,
      0.01 * full.gridCurrentA,
      "the same, on a narrower pulse",
    );
    const curves = tubeCurves(DEFAULT_STATION.tube, line, 5, 40);
    expect(curves).toHaveLength(5);
    for (const c of curves) {
      const [a, b] = [c.points[10], c.points[40]];
      expect(b?.plateA).toBeGreaterThanOrEqual(a?.plateA as number);
    }
  });

  it("pi-L: the same output within its second coil's loss", () => {
    const piL = partsOf({
      ...DEFAULT_STATION,
      tank: { ...DEFAULT_TANK, kind: "designedPiL", intermediateOhm: 300 },
    });
    const p = new WorkingPoints(piL);
    const w = p.at(p.asDesigned(62)) as Working;
    // loss about (Q1 + Q2)/Qc, Qc 250: Q2 sqrt(50/13.1 - 1) = 1.68 for the pi, sqrt(300/13.1 - 1) = 4.68 for the
    // pi-L's, whose L-section of q = sqrt(300/50 - 1) = 2.24 adds q/Qc: 0.945 against 0.933 less 0.009
    expectWithin(w.outputW / full.outputW, 0.978, 0.004, "first order in 1/Qc");
    expect(partStress(piL, w).some((s) => s.part === "outputCoil")).toBe(true);
  });
});
