import { render } from "@testing-library/react";
import { createRef } from "react";
import { expect, it } from "vitest";
import { RaceChart, type RaceHandle } from "../../../../src/ui/instruments/race/RaceChart";
import { xOf } from "../../../../src/ui/instruments/race/raceAxis";
import { layoutRace } from "../../../../src/ui/instruments/race/raceLayout";
import type { RaceView } from "../../../../src/ui/instruments/race/raceView";
import { expectWithin } from "../../../support/expectWithin";
import { RACE_LIVE } from "../support/demoRace";

function start(view: RaceView) {
  const handle = createRef<RaceHandle>();
  const chart = (v: RaceView) => (
    <RaceChart view={v} variant="wide" fit="content" handle={handle} />
  );
  const { container, rerender } = render(chart(view));
  const marks = () => [...container.querySelectorAll<SVGElement>('[data-key="now"]')];
  const word = () => marks().find((m) => m.tagName === "text")?.textContent;
  const moved = () => [...container.querySelectorAll('[style*="translateX"]')];
  return { handle, marks, word, moved, show: (v: RaceView) => rerender(chart(v)) };
}

it("now moves along the axis between two drawings, and stands where the next one puts it", () => {
  const view: RaceView = { ...RACE_LIVE, nowS: 0.02 };
  const { handle, marks, word, moved, show } = start(view);
  expect(marks()).toHaveLength(4); // two lines, the mark and its words
  handle.current?.moveNow(0.2);
  expect(word()).toBe("now 200\u00a0ms");
  const { axis } = layoutRace(view, { widthPx: 908, maxHeightPx: null, variant: "wide" });
  const wantedPx = xOf(axis, 0.2) - xOf(axis, 0.02); // a decade of the axis
  for (const mark of marks()) {
    const movedBy = /translateX\((.*)px\)/.exec(mark.style.transform)?.[1];
    expectWithin(Number(movedBy), wantedPx, 0.05, "rounded to a tenth of a pixel");
  }
  // looked back at the very instant of the first drawing: React has nothing to change, and yet it is put back
  show({ ...view });
  expect(word()).toBe("now 20.0\u00a0ms");
  for (const mark of marks()) expect(mark.style.transform).toBe("");

  // a drawing with other shapes before it: what stood for now and was moved does not become one of them
  handle.current?.moveNow(0.2);
  show({ ...view, nowS: null });
  expect(marks()).toHaveLength(0);
  expect(moved()).toEqual([]);
});
