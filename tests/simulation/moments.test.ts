/** What is shown of switches and monitors between the two ends of a sample. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { shownAt } from "../../src/shells/bench/past";
import { Runner } from "../../src/shells/bench/runner";
import { createBench } from "../../src/simulation/bench";
import { Moments } from "../../src/simulation/moments";

const SAMPLE_NS = 50_000;

describe("switches and monitors inside a sample", () => {
  it("stand at an instant as the last change before it left them, not as at the sample's start", () => {
    const created = createBench(
      defaultProject([
        { atS: 0.010_011, do: "key", down: true },
        { atS: 0.010_029, do: "mode", mode: "tune" },
      ]),
    );
    if (!created.ok) throw new Error(created.problem);
    const runner = new Runner(created.bench);
    while (runner.timeNs < 10_050_000) runner.step();
    expect(runner.bench.openFromNs).toBe(10_050_000 - SAMPLE_NS);
    const seen = (ns: number): unknown[] => {
      const { logic } = shownAt(runner, ns);
      return [logic.keyDown, logic.mode];
    };
    expect(seen(10_000_000)).toEqual([false, "operate"]);
    expect(seen(10_010_999)).toEqual([false, "operate"]);
    expect(seen(10_011_000)).toEqual([true, "operate"]);
    expect(seen(10_028_999)).toEqual([true, "operate"]);
    expect(seen(10_029_000)).toEqual([true, "tune"]);
    expect(seen(10_050_000)).toEqual([true, "tune"]);
    runner.step();
    expect(seen(10_051_000)).toEqual([true, "tune"]);
  });

  it("show a comparator's trip from its own nanosecond on", () => {
    const created = createBench(
      defaultProject([
        { atS: 0, do: "key", down: true },
        {
          atS: 0.060_007,
          do: "placeFault",
          fault: "plateSupplyShort",
          part: "supply",
          severity: 1,
        },
      ]),
    );
    if (!created.ok) throw new Error(created.problem);
    const runner = new Runner(created.bench);
    const { bench } = runner;
    const tripOf = () =>
      bench.events.find(
        (e) => e.kind === "protection" && e.event.kind === "trip" && e.atNs % SAMPLE_NS !== 0,
      );
    while (tripOf() === undefined && runner.timeNs < 70e6) runner.step();
    const trip = tripOf();
    if (trip?.kind !== "protection") throw new Error("no comparator tripped");
    const at = bench.system.programs.findIndex((p) => p.def.id === trip.event.monitorId);
    const latched = (ns: number): unknown => shownAt(runner, ns).protection.latches[at]?.kind;
    expect(latched(trip.atNs - 1)).toBe("free");
    expect(latched(trip.atNs)).not.toBe("free");
  });

  it("are taken down on change only", () => {
    const created = createBench(defaultProject([]));
    if (!created.ok) throw new Error(created.problem);
    const { logic, system, protection } = created.bench;
    const start = { logic, system, protection };
    const moments = new Moments();
    moments.note(1, start, start);
    expect(moments.at(2)).toBeNull();
    const later = { ...start, logic: { ...logic, keyDown: true } };
    moments.note(3, start, later);
    moments.note(4, start, later);
    expect(moments.at(2)).toBeNull();
    expect(moments.at(9)).toEqual({ atNs: 3, ...later });
    moments.clear();
    expect(moments.at(9)).toBeNull();
  });
});
