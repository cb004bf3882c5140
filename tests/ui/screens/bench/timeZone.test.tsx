/** The clock while time stands: no frame follows the one that brought the instant. */
import { act, screen } from "@testing-library/react";
import { beforeEach, expect, it, vi } from "vitest";
import { TimeZone } from "../../../../src/ui/screens/bench/TimeZone";
import { renderBenchPart } from "../../../support/renderBenchPart";
import { projectFile } from "./views/benchRuns";

const FAULT_S = 0.08;

beforeEach(() => {
  vi.useFakeTimers();
  return () => {
    vi.useRealTimers();
  };
});

it("the clock counts from the strike in the same frame that goes back to it", () => {
  const { playback, tick, work } = renderBenchPart(() => <TimeZone variant="wide" fault={null} />);
  const state = playback.store.getState;
  act(() =>
    playback.open(
      projectFile("skerry-light-insect", [
        { atS: 0, do: "key", down: true },
        {
          atS: FAULT_S,
          do: "placeFault",
          fault: "insect",
          part: "tuningCapacitor",
          severity: 1,
        },
      ]),
    ),
  );
  playback.setLens(false);
  act(() => playback.run());
  for (let n = 0; n < 60 && state().playNs < 0.12e9; n++) tick();
  act(() => playback.pause());
  tick();
  act(() => void work(200));
  const zeroNs = state().races[0]?.zero.atNs;
  if (zeroNs === undefined) throw new Error("no strike");
  const shownAt = (ns: number) => {
    // the figures have had their turn, and take the next one with the frame that brings the instant
    act(() => vi.advanceTimersByTime(1000));
    act(() => playback.seek(ns));
    for (let n = 0; n < 10 && state().playNs !== ns; n++) tick();
    expect(state().playNs).toBe(ns);
    return screen.getByRole("slider", { name: "Play head in the record" });
  };
  const early = shownAt(FAULT_S * 1e9 - 40e6);
  expect(early).toHaveAttribute("aria-valuetext", expect.stringMatching(/^40\.00 ms, /));
  expect(shownAt(zeroNs)).toHaveAttribute("aria-valuetext", expect.stringMatching(/^0\.00 s, /));
  expect(shownAt(FAULT_S * 1e9 - 40e6)).toHaveAttribute(
    "aria-valuetext",
    expect.stringMatching(/^40\.00 ms, /),
  );
});
