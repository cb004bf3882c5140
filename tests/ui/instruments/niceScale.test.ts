import { expect, it } from "vitest";
import { niceScale } from "../../../src/ui/instruments/niceScale";

it.each([
  [0, 7, [0, 2, 4, 6, 8]],
  [-0.3, 0.9, [-0.5, 0, 0.5, 1]],
  [1.2e9, 4.1e9, [1e9, 2e9, 3e9, 4e9, 5e9]],
])("from %d to %d stands between round figures", (least, most, ticks) => {
  const scale = niceScale(least, most);
  expect(scale.ticks).toEqual(ticks);
  expect([scale.low, scale.high]).toEqual([ticks[0], ticks.at(-1)]);
});

it.each([
  ["nothing", 3, 3],
  ["the wrong way round", 4, 3],
  ["the least there is", 0, Number.MIN_VALUE],
  ["without an end", 0, Infinity],
  ["not a number", Number.NaN, 1],
])("a span that is %s has two ticks", (_what, least, most) => {
  expect(niceScale(least, most).ticks).toHaveLength(2);
});
