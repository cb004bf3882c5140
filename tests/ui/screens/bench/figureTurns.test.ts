import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FigureTurns } from "../../../../src/ui/screens/bench/figureTurns";

/** Two drawers of ten figures a second behind frames that come by hand; the second may be heavy. */
function twoDrawers(isHeavy = false, perSecond = 10) {
  let onFrame = (): void => {};
  const turns = new FigureTurns({
    onFrame(listener) {
      onFrame = listener;
      return () => true;
    },
  });
  const drawn: boolean[][] = [[], []];
  drawn.forEach((list, i) => {
    turns.add((figures) => list.push(figures), perSecond, isHeavy && i === 1);
  });
  const frames = (count: number): void => {
    for (let i = 0; i < count; i++) {
      onFrame();
      vi.advanceTimersByTime(16);
    }
  };
  return { drawn: drawn as [boolean[], boolean[]], frames };
}

describe("turns of the figures", () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it("are all taken with the first frame, then by one drawer a frame", () => {
    const { drawn, frames } = twoDrawers();
    frames(60);
    const [a, b] = drawn;
    expect([a[0], b[0]]).toEqual([true, true]);
    expect(a.slice(1).some((figures, i) => figures && b[i + 1])).toBe(false);
  });

  it("come at most ten times a second and needles with every frame", () => {
    const { drawn, frames } = twoDrawers();
    frames(63); // 63 frames of 16 ms are 1.008 s: the first turn and ten more at most
    expect(drawn[0]).toHaveLength(63);
    expect(drawn[0].filter((figures) => figures).length).toBeLessThanOrEqual(11);
  });

  it("leave the frame of a heavy drawing to it alone", () => {
    const { drawn, frames } = twoDrawers(true);
    frames(60);
    const turns = drawn[1].filter((figures) => figures).length;
    expect(turns).toBeGreaterThan(5);
    // the first frame is everybody's
    expect(drawn[0]).toHaveLength(60 - (turns - 1));
  });

  it("do not wait for a turn that comes once a second when time stands still, and do when frames are slow", () => {
    const { drawn, frames } = twoDrawers(false, 1);
    frames(2);
    for (let k = 0; k < 4; k++) {
      vi.advanceTimersByTime(84);
      frames(1); // ten a second
    }
    expect(drawn[0].filter((figures) => figures)).toHaveLength(1);
    vi.advanceTimersByTime(160);
    expect(drawn.map((list) => list.filter((figures) => figures).length)).toEqual([2, 2]);
    vi.advanceTimersByTime(5000);
    expect(drawn.map((list) => list.filter((figures) => figures).length)).toEqual([2, 2]);
  });

  it("reach everybody when time stands still", () => {
    const { drawn, frames } = twoDrawers();
    frames(2);
    vi.advanceTimersByTime(200); // twice the period
    expect(drawn.map((list) => list.at(-1))).toEqual([true, true]);
  });
});
