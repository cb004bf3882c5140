import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import { type Kept, Snapshots } from "../../../src/shells/bench/snapshots";
import { createBench } from "../../../src/simulation/bench";

const created = createBench(defaultProject());
if (!created.ok) throw new Error(created.problem);
const some = created.bench.snapshot();
const at = (timeNs: number, atEvent = false): Kept => ({
  snapshot: { ...some, timeNs },
  meters: new Float64Array(0),
  atEvent,
});

/** Fifteen minutes of snapshots, as a run makes them. */
function longRun(): Snapshots {
  const snapshots = new Snapshots();
  for (let k = 0; k <= 15 * 60 * 20; k++) snapshots.add(at(k * 50e6));
  return snapshots;
}

describe("snapshots of a run", () => {
  it("stand close where it is fresh and further apart with age", () => {
    const snapshots = longRun();
    const endNs = 900e9;
    for (const [ageNs, everyNs] of [
      [1e9, 50e6],
      [30e9, 0.5e9],
      [300e9, 5e9],
      [800e9, 30e9],
    ] as const) {
      const askedNs = endNs - ageNs + 1;
      const distanceNs = askedNs - snapshots.nearest(askedNs).snapshot.timeNs;
      // the slot of the question may hold its snapshot at its start, and thinning comes in batches of 16
      expect(distanceNs).toBeLessThanOrEqual(2 * everyNs);
    }
    // 40 + 116 + 108 + 10 and one batch
    expect(snapshots.count).toBeLessThan(300);
    expect(snapshots.nearest(1).snapshot.timeNs).toBe(0);
  });

  it("keep the latest events however old they are", () => {
    const snapshots = new Snapshots();
    for (let k = 0; k < 300; k++) snapshots.add(at(k * 1_000_000 + 7_000, true));
    for (let k = 1; k <= 15 * 60 * 2; k++) snapshots.add(at(k * 500e6));
    expect(snapshots.nearest(299e6 + 7_000).snapshot.timeNs).toBe(299e6 + 7_000);
    expect(snapshots.nearest(150e6 + 7_000).snapshot.timeNs).toBe(150e6 + 7_000);
  });

  it("are found at or before an instant, and forgotten beyond one", () => {
    const snapshots = new Snapshots();
    for (const ns of [0, 50e6, 100e6]) snapshots.add(at(ns));
    snapshots.add(at(72e6, true));
    expect(snapshots.nearest(71e6).snapshot.timeNs).toBe(50e6);
    expect(snapshots.nearest(72e6).snapshot.timeNs).toBe(72e6);
    snapshots.dropAfter(72e6);
    expect(snapshots.nearest(1e12).snapshot.timeNs).toBe(72e6);
    expect(() => snapshots.nearest(-1)).toThrow("no snapshot");
  });
});
