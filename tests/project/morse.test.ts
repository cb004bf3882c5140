import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type KeyedElement, keyText } from "../../src/project/morse";
import { expectWithin } from "../support/expectWithin";

function keyed(text: string, wordsPerMinute: number): readonly KeyedElement[] {
  const result = keyText(text, wordsPerMinute);
  if (!result.ok) throw new Error(result.problems.join("; "));
  return result.elements;
}

const total = (elements: readonly KeyedElement[]) =>
  elements.reduce((sum, e) => sum + e.downS + e.upS, 0);
const down = (elements: readonly KeyedElement[]) => elements.reduce((sum, e) => sum + e.downS, 0);

describe("keying of Morse code, ITU-R M.1677-1 timing", () => {
  it.each([
    [13, 92.31e-3],
    [20, 60e-3],
    [25, 48e-3],
    [40, 30e-3],
  ])("has a dot of 1.2 s over the speed: %d words per minute", (speed, dotS) => {
    expectWithin(
      keyed("E", speed)[0]?.downS ?? 0,
      dotS,
      0.005e-3,
      "half a unit of the last printed digit",
    );
  });

  it("spends 50 units on PARIS, 22 of them key-down", () => {
    const elements = keyed("PARIS", 20);
    expectWithin(total(elements), 50 * 0.06, 1e-12, "rounding");
    expectWithin(down(elements) / total(elements), 0.44, 1e-12, "rounding");
  });

  it("sends as many PARIS a minute as the speed says", () => {
    expectWithin(total(keyed(Array(25).fill("paris").join(" "), 25)), 60, 1e-9, "rounding");
  });

  it("keys CQ with dashes of three, gaps of one, three and seven", () => {
    // C -.-.  Q --.-
    const units = keyed("cq", 1.2).map((e) => [Math.round(e.downS), Math.round(e.upS)]);
    expect(units).toEqual([
      [3, 1],
      [1, 1],
      [3, 1],
      [1, 3],
      [3, 1],
      [3, 1],
      [1, 1],
      [3, 7],
    ]);
  });

  it("counts any run of blanks as one word gap", () => {
    expect(keyed("  e \n\t t ", 20)).toEqual(keyed("E T", 20));
  });

  it("names what it cannot key instead of throwing", () => {
    expect(keyText("A#B~", 20)).toEqual({
      ok: false,
      problems: ['"#" has no Morse sign', '"~" has no Morse sign'],
    });
    expect(keyText("", 0)).toMatchObject({
      ok: false,
      problems: [expect.any(String), expect.any(String)],
    });
    expect(keyText("toString constructor", Number.NaN)).toMatchObject({ ok: false });
  });

  it("takes time in inverse proportion to speed, for any text", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Z0-9 .,?/=]{0,30}[A-Z]$/), (text) => {
        expectWithin(total(keyed(text, 10)), 2 * total(keyed(text, 20)), 1e-9, "rounding");
        for (const e of keyed(text, 20)) expect([3, 1]).toContain(Math.round(e.downS / 0.06));
      }),
      { seed: 21 },
    );
  });
});
