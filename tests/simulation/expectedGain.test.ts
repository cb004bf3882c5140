/** The gain a healthy station is expected to show, and what becomes of low gain where none can be worked out. */
import { describe, expect, it } from "vitest";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import type { Station } from "../../src/project/station";
import { createBench } from "../../src/simulation/bench";
import { protectionLog } from "../support/benchLog";

/** Low supply under tubes of high mu: past some drive the solver finds no settled state. */
const STARVED: Station = {
  ...DEFAULT_STATION,
  tube: {
    ...DEFAULT_STATION.tube,
    mu: 310,
    perveanceAPerV1p5: 0.00737,
    divisionRatio: 6.02,
  },
  supply: { ...DEFAULT_STATION.supply, noLoadV: 1555 } as Station["supply"],
  bias: { ...DEFAULT_STATION.bias, cathodeV: 6.83 },
};

function benchOf(station: Station) {
  // the supply condition of low gain would keep it from arming at 1.5 kV by itself
  const project = defaultProject([{ atS: 0, do: "key", down: true }]);
  const monitors = project.monitors.map((m) =>
    m.id === "lowGain" ? { ...m, arming: { ...m.arming, when: [] } } : m,
  );
  const created = createBench({ ...project, station, monitors }, { protection: "inhibited" });
  if (!created.ok) throw new Error(created.problem);
  return created.bench;
}

describe("low gain where no gain can be expected", () => {
  it("is not armed at such a drive, and says so in words", () => {
    const bench = benchOf(STARVED);
    const { expectedForwardGainDb, gainKnownToW = Infinity } = bench.system.context;
    expect(gainKnownToW).toBeLessThan(62); // the station's full drive
    expect(expectedForwardGainDb(62)).toBeNaN();
    expect(expectedForwardGainDb(0.99 * gainKnownToW)).toBeGreaterThan(0);
    expect(expectedForwardGainDb(gainKnownToW)).toBeGreaterThan(0);
    expect(bench.system.notices).toHaveLength(1);
    expect(bench.system.notices[0]).toMatch(/^Low gain: not armed above .* of drive/);
    bench.advanceTo(80e6);
    const at = bench.system.programs.findIndex((p) => p.def.id === "lowGain");
    expect(bench.protection.monitors[at]?.kind).toBe("notArmed");
  });

  it("is armed at any drive of a station whose whole table settles, without a word", () => {
    const bench = benchOf(DEFAULT_STATION);
    expect(bench.system.context.gainKnownToW).toBe(Infinity);
    expect(bench.system.notices).toEqual([]);
    bench.advanceTo(80e6);
    const at = bench.system.programs.findIndex((p) => p.def.id === "lowGain");
    expect(bench.protection.monitors[at]?.kind).toBe("noPickup");
    expect(protectionLog(bench, "operate")).toEqual([]);
  });
});
