import { describe, expect, it } from "vitest";
import { DEFAULT_STATION, DEFAULT_TANK, defaultProject } from "../../../src/project/defaults";
import type { ScenarioEntry } from "../../../src/project/scenario";
import type { Project } from "../../../src/project/types";
import type { FaultStart } from "../../../src/simulation/bench";
import { faultResult } from "../../../src/simulation/simulate";
import { runCase } from "../../../src/study/trials/runCase";
import { benchOf } from "../../support/cases";
import { expectWithin } from "../../support/expectWithin";

const AT_S = 0.15037;

function project(fault: ScenarioEntry, change: Partial<Project> = {}): Project {
  return { ...defaultProject([{ atS: 0, do: "key", down: true }, fault]), endS: 0.25, ...change };
}

const ARC: ScenarioEntry = {
  atS: AT_S,
  do: "placeFault",
  fault: "arc",
  part: "tuningCapacitor",
  severity: 300,
};
const WRONG_BAND: ScenarioEntry = {
  atS: AT_S,
  do: "placeFault",
  fault: "wrongBand",
  part: "bandSwitch",
  severity: 7.1e6,
};

describe("one case", () => {
  it("tells of a struck gap what the bench tells", () => {
    const wanted = project(ARC);
    const bench = benchOf(wanted);
    bench.advanceTo(0.25e9);
    const start = bench.zeros[0] as FaultStart;
    const twin = bench.fork(start);
    twin.advanceTo(0.65e9);
    const { race } = faultResult(bench, start, Infinity, twin);
    const out = runCase(wanted, wanted.seed);
    expect(out.firstTrip).toEqual(race.firstTrip);
    expect(out.clearingS).toBe(race.clearingS);
    expect(out.endedS).toBe(out.clearingS);
    // while nothing moves the edge is heated in longer steps
    const [edge] = race.damage;
    const same = (value: number | null, expected: number | null | undefined): void =>
      expectWithin(value ?? 0, expected ?? 1, 1e-3 * (expected ?? 1), "10 ms against 50 us");
    same(out.onsetEarlyS, edge?.onsetUnprotectedEarlyS);
    same(out.onsetS, edge?.onsetUnprotectedS);
    same(out.marginHalfMilligram, race.marginHalfMilligram);
    expect(edge?.halfMilligramS).toBeGreaterThan(0.2); // well after everything stands still
    expect(out.weakest?.part).toBe("tuningCapacitor");
    expect(JSON.parse(JSON.stringify(out))).toEqual(out);
  });

  it("finds damage and slow trips of a stage that stands still where the bench finds them", () => {
    // small and quick parts, so that the bench itself gets there in a second
    const { cooling, ratings } = DEFAULT_STATION;
    const base = defaultProject();
    const wanted = project(WRONG_BAND, {
      station: {
        ...DEFAULT_STATION,
        cooling: { ...cooling, anodeHeatCapacityJPerK: 4 },
        ratings: { ...ratings },
      },
      monitors: base.monitors.map((m) =>
        m.id === "plateDissipation"
          ? {
              ...m,
              criteria: m.criteria.map((c) => ({
                ...c,
                timing: { kind: "thermal" as const, timeConstantS: 0.5 },
              })),
            }
          : { ...m, role: "off" as const },
      ),
    });
    const out = runCase(wanted, wanted.seed);
    const alone = benchOf({
      ...wanted,
      monitors: wanted.monitors.map((m) => ({ ...m, role: "shadow" as const })),
    });
    alone.advanceTo((AT_S + (out.weakest?.damageS ?? 0) + 0.05) * 1e9);
    const damage = alone.events.find((e) => e.kind === "milestone" && e.milestone === "damage");
    const operate = alone.events.find(
      (e) =>
        e.kind === "protection" &&
        e.event.kind === "operate" &&
        e.event.monitorId === "plateDissipation",
    );
    const since = (ns: number | undefined): number => (ns ?? 0) / 1e9 - AT_S;
    expect(damage?.kind === "milestone" && damage.part).toBe(out.weakest?.part);
    const damageS = since(damage?.atNs);
    expectWithin(out.weakest?.damageS ?? 0, damageS, 1e-3 * damageS, "readings within 1e-5");
    const operateS = since(operate?.atNs);
    expectWithin(out.operateS ?? 0, operateS, 0.02, "two scans of 10 ms: noise is drawn anew");
    expect(operateS).toBeGreaterThan(0.2); // reached while the stage stood still
  });

  it("says why there is none where the station cannot be built", () => {
    const tank = { ...DEFAULT_TANK, bands: [] };
    const out = runCase(project(ARC, { station: { ...DEFAULT_STATION, tank } }), 1);
    expect(out.problem).toContain("band");
    expect(out.zero).toBeNull();
  });
});
