/**
 * A bead that reaches across its gap: a dead short at that place, which ends the arc the wrong way. Arcs are made hot
 * and gaps narrow here, so that beads grow in a tenth of a second.
 */
import { describe, expect, it } from "vitest";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import type { PartName, ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import { reading } from "../support/benchLog";
import { expectWithin } from "../support/expectWithin";

const MS = 1e6;

/** On the air, an arc at `part` from 60 ms on; plates of 0.3 mm, gaps of 0.6 mm. */
function project(part: PartName, severity: number, more: readonly ScenarioEntry[] = []): Project {
  const thin = { gapM: 0.6e-3, plateThicknessM: 0.3e-3 };
  return {
    ...defaultProject([
      { atS: 0, do: "key", down: true },
      { atS: 0.06, do: "placeFault", fault: "arc", part, severity },
      ...more,
    ]),
    station: {
      ...DEFAULT_STATION,
      tuningCapacitor: {
        ...DEFAULT_STATION.tuningCapacitor,
        ...(part === "tuningCapacitor" ? thin : {}),
      },
      loadingCapacitor: { ...DEFAULT_STATION.loadingCapacitor, ...thin },
      bandSwitch: { ...DEFAULT_STATION.bandSwitch, gapM: 0.6e-3, thicknessM: 0.3e-3 },
    },
  };
}

function benchOf(p: Project): Bench {
  const made = createBench(p, { protection: "inhibited", recorder: "tracks" });
  if (!made.ok) throw new Error(made.problem);
  return made.bench;
}

function bridgedNs(bench: Bench): number {
  const e = bench.events.find(
    (x) => x.kind === "milestone" && x.milestone === "bridged" && x.edge === "nominal",
  );
  return e?.atNs ?? Number.NaN;
}

describe("a bead that bridges the tuning capacitor", () => {
  const bench = benchOf(project("tuningCapacitor", 400));
  bench.advanceTo(400 * MS);
  const at = bridgedNs(bench);

  it("ends the arc in the sample in which it reaches across", () => {
    expect(at).toBeGreaterThan(60 * MS);
    const out = bench.events.find((e) => e.kind === "arcOut");
    expect(out?.atNs).toBe(at);
    expect(reading(bench, "arcW")).toBe(0);
  });

  it("leaves no RF at the plate and no output, and all the heat in the tube", () => {
    // 1.3 A of the fundamental through 10 mohm is 13 mV
    expect(reading(bench, "plateRfPeakV")).toBeLessThan(0.05);
    expect(reading(bench, "forwardW")).toBeLessThan(0.01);
    // with no RF out all of Eb Ip is heat, less what the cathode's RF carries past the tube: drive 62 W and grid
    const dcW = reading(bench, "plateV") * reading(bench, "tubeCurrentA");
    expectWithin(reading(bench, "plateDissipationW") / dcW, 1, 0.04, "62 W of 2.8 kW, and bias");
    expect(reading(bench, "gridCurrentA")).toBeLessThan(0.064); // falls: 63.7 mA in tune
  });

  it("is not cleared while the tube drives the short, and never strikes again", () => {
    expect(bench.events.some((e) => e.kind === "cleared")).toBe(false);
    expect(bench.events.filter((e) => e.kind === "strike")).toHaveLength(1);
  });

  it("is cleared once nothing drives it", () => {
    const b = benchOf(project("tuningCapacitor", 400, [{ atS: 0.36, do: "key", down: false }]));
    b.advanceTo(400 * MS);
    expect(b.events.some((e) => e.kind === "cleared")).toBe(true);
  });

  it("is mended with the fault, and the plates' loss stays", () => {
    const b = benchOf(
      project("tuningCapacitor", 400, [
        { atS: 0.34, do: "removeFault", fault: "arc", part: "tuningCapacitor" },
      ]),
    );
    b.advanceTo(339 * MS);
    const lostKg = b.damage.peakMoltenKg(b.buffer, 0);
    expect(lostKg).toBeGreaterThan(0);
    b.schedule(339 * MS, {
      do: "placeFault",
      fault: "insect",
      part: "tuningCapacitor",
      severity: 1,
    });
    b.advanceTo(380 * MS);
    const refused = b.events.find((e) => e.kind === "command" && e.refused !== "");
    expect(refused?.kind === "command" ? refused.refused : "").toContain("metal bridges this gap");
    expect(b.events.some((e) => e.kind === "mended" && e.place === "tuningCapacitor")).toBe(true);
    // the stage as it was before: 1453 W at full drive, within what 40 uF have sagged
    expectWithin(reading(b, "forwardW"), 1453, 15, "the supply settles within its time constant");
    expect(b.damage.peakMoltenKg(b.buffer, 0)).toBe(lostKg);
  });

  it("gives one record however it is made", () => {
    const p = project("tuningCapacitor", 400);
    const pieces = benchOf(p);
    for (let ns = 7.3 * MS; ns < 400 * MS; ns += 7.3 * MS) pieces.advanceTo(ns);
    pieces.advanceTo(at - 0.1 * MS);
    pieces.advanceTo(400 * MS);
    expect(pieces.hash).toBe(bench.hash);
    const again = benchOf(p);
    again.advanceTo(at + 1 * MS);
    const saved = again.snapshot();
    again.advanceTo(380 * MS);
    again.restore(saved);
    again.advanceTo(400 * MS);
    expect(again.hash).toBe(bench.hash);
  });
});

describe("a bead that bridges another place", () => {
  it.each([
    ["loadingCapacitor", 160],
    ["bandSwitch", 250],
  ] as const)("shorts the output off at the %s", (part, severity) => {
    const b = benchOf(project(part, severity));
    b.advanceTo(400 * MS);
    expect(bridgedNs(b)).toBeGreaterThan(60 * MS);
    expect(reading(b, "arcW")).toBe(0);
    expect(reading(b, "forwardW")).toBeLessThan(1);
    // the plate node keeps some RF: the coil, or its far part, is still between it and the short
    expect(reading(b, "plateRfPeakV")).toBeGreaterThan(20);
  });
});
