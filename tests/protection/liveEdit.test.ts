import { describe, expect, it } from "vitest";
import type { MonitorChange } from "../../src/project/scenario";
import { configureMonitor } from "../../src/protection/liveEdit";
import { criterion, monitor } from "./monitorSamples";
import { Rig } from "./rig";

const OVER = { gridCurrentA: 0.3 };

function configure(rig: Rig, change: MonitorChange, id = "grid"): readonly string[] {
  const edit = configureMonitor(rig.system, rig.state, id, change, rig.nowNs, (e) =>
    rig.events.push(e),
  );
  if (!edit.ok) return edit.problems;
  rig.system = edit.system;
  rig.state = edit.state;
  return [];
}

describe("changing a monitor that is timing", () => {
  // Picked up at 1 ms, 5 ms of confirmation; the change comes at 4 ms.
  const timing = () => new Rig([monitor()]).run(4e-3, OVER);

  it("a longer delay keeps the count", () => {
    const rig = timing();
    configure(rig, { delayS: 8e-3 });
    expect(rig.run(20e-3).timesOf("operate")).toEqual([0.009]);
  });

  it("a delay shorter than what has passed operates at the next scan", () => {
    const rig = timing();
    configure(rig, { delayS: 1e-3 });
    expect(rig.run(20e-3).timesOf("operate")).toEqual([0.005]);
  });

  it("a pickup that is still passed keeps the count; one that is not ends it", () => {
    const kept = timing();
    configure(kept, { pickup: 0.25 });
    expect(kept.run(20e-3).timesOf("operate")).toEqual([0.006]);
    const ended = timing();
    configure(ended, { pickup: 0.4 });
    expect(ended.run(20e-3).timesOf("operate")).toEqual([]);
    // The drop-off keeps its ratio: 0.4 * 0.18 / 0.2 = 0.36 A, over the reading
    expect(ended.timesOf("dropOff")).toEqual([0.005]);
  });

  it("another kind of timing or another role begins anew", () => {
    const rig = timing();
    configure(rig, { timing: { kind: "instantaneous", scans: 3, ofScans: 3 } });
    expect(rig.events.at(-1)).toMatchObject({ kind: "configured", reason: "its count is cleared" });
    expect(rig.run(20e-3).timesOf("operate")).toEqual([0.007]);
    const shadow = timing();
    configure(shadow, { role: "shadow" });
    expect(shadow.run(20e-3).timesOf("operate")).toEqual([0.01]);
    expect(shadow.timesOf("trip")).toEqual([]);
  });

  it("another curve clears the travel, another time multiplier keeps it", () => {
    const inverse = (curve: "iecB" | "iecC", timeMultiplier: number) =>
      ({ kind: "inverse", curve, timeMultiplier }) as const;
    for (const [timing, kept] of [
      [inverse("iecB", 0.2), true],
      [inverse("iecC", 0.1), false],
    ] as const) {
      const rig = new Rig([monitor({ criteria: [criterion({ timing: inverse("iecB", 0.1) })] })]);
      rig.run(0.1, OVER);
      configure(rig, { timing });
      expect((rig.state.monitors[0]?.criteria[0]?.memory ?? 0) > 0).toBe(kept);
    }
  });

  it("levels in dB keep the distance of their drop-off", () => {
    const gain = criterion({
      quantity: "gainDeviationDb",
      side: "under",
      pickup: -2,
      dropOff: -1.5,
    });
    const rig = new Rig([monitor({ criteria: [gain] })]);
    configure(rig, { pickup: -3 });
    expect(rig.system.programs[0]?.def.criteria[0]).toMatchObject({ pickup: -3, dropOff: -2.5 });
  });

  it("leaves a system kept from before untouched, so that a snapshot still runs", () => {
    const rig = timing();
    const { system, state } = rig;
    configure(rig, { delayS: 8e-3 });
    rig.run(20e-3);
    const before = new Rig([monitor()]);
    before.system = system;
    before.state = state;
    before.sample = 80;
    expect(before.run(20e-3, OVER).timesOf("operate")).toEqual([0.006]);
  });
});

describe("a change that makes no sense", () => {
  it("is answered with a problem in words and changes nothing", () => {
    const rig = new Rig([monitor()]);
    expect(configure(rig, { delayS: 1 }, "nobody")[0]).toContain("nobody");
    expect(configure(rig, { criterion: 4, pickup: 1 })[0]).toContain("no criterion 5");
    expect(configure(rig, { delayS: -1 })[0]).toContain("no delay");
    expect(configure(rig, { pickup: Number.NaN })[0]).toContain("number");
    expect(
      configure(rig, { timing: { kind: "thermal", timeConstantS: 1 }, delayS: 1 })[0],
    ).toContain("definite");
    expect(rig.events).toEqual([]);
  });
});
