/** What is moved straight on the page while time stands: no frame follows the one that brought the instant. */
import { act, screen } from "@testing-library/react";
import type { ReactNode } from "react";
import { beforeEach, expect, it, onTestFinished, vi } from "vitest";
import { usePlayback } from "../../../../src/ui/screens/bench/benchContext";
import { GaugeZone } from "../../../../src/ui/screens/bench/GaugeZone";
import { RaceZone } from "../../../../src/ui/screens/bench/RaceZone";
import { TimeZone } from "../../../../src/ui/screens/bench/TimeZone";
import { renderBenchPart } from "../../../support/renderBenchPart";
import { projectFile } from "./views/benchRuns";

const FAULT_S = 0.08;
const EARLY_NS = 40e6;

beforeEach(() => {
  vi.useFakeTimers();
  return () => {
    vi.useRealTimers();
  };
});

/** A bench that stands 48 ms after an insect was placed, tripped; `seek` goes to an instant in one frame that has its figures. */
function standingBench(part: () => ReactNode) {
  const { playback, tick, work } = renderBenchPart(part);
  const state = playback.store.getState;
  const scenario = [
    { atS: 0, do: "key", down: true },
    { atS: FAULT_S, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
  ] as const;
  act(() => playback.open(projectFile("skerry-light-insect", scenario)));
  playback.setLens(false);
  act(() => playback.run());
  for (let n = 0; n < 60 && state().playNs < 0.12e9; n++) tick();
  act(() => playback.pause());
  tick();
  act(() => void work(200));
  const zeroNs = state().races[0]?.zero.atNs;
  if (zeroNs === undefined) throw new Error("no strike");
  const seek = (ns: number): void => {
    // the figures have had their turn, and take the next one with the frame that brings the instant
    act(() => vi.advanceTimersByTime(1000));
    act(() => playback.seek(ns));
    for (let n = 0; n < 10 && state().playNs !== ns; n++) tick();
    expect(state().playNs).toBe(ns);
  };
  return { seek, zeroNs, headNs: state().headNs };
}

it("the clock counts from the strike in the same frame that goes back to it", () => {
  const { seek, zeroNs } = standingBench(() => <TimeZone variant="wide" fault={null} />);
  const words = () =>
    screen.getByRole("slider", { name: "Play head in the record" }).getAttribute("aria-valuetext");
  seek(EARLY_NS);
  expect(words()).toMatch(/^40\.00 ms, /);
  seek(zeroNs);
  expect(words()).toMatch(/^0\.00 s, /);
  seek(EARLY_NS);
  expect(words()).toMatch(/^40\.00 ms, /);
});

it("the clock tells one sample from the next and what it counts from, at rest and looking back", () => {
  const { seek, zeroNs, headNs } = standingBench(() => <TimeZone variant="wide" fault={null} />);
  const words = () =>
    screen.getByRole("slider", { name: "Play head in the record" }).getAttribute("aria-valuetext");
  expect(words()).toMatch(/^\+\d\d\.\d\d ms, paused, from the strike$/);
  seek(zeroNs - 20e6);
  expect(words()).toMatch(/^60\.\d\d ms, from the start, \d\d\.\d\sms before the record's end$/);
  seek(headNs - 1e6);
  expect(words()).toMatch(/^\+\d\d\.\d\d ms, from the strike, 1\.00\sms before the record's end$/);
});

it("the clock shows a sample's step in seconds as well", () => {
  const { playback, tick } = renderBenchPart(() => <TimeZone variant="wide" fault={null} />);
  act(() => playback.run());
  for (let n = 0; n < 90 && playback.store.getState().playNs < 1.001e9; n++) tick();
  act(() => playback.pause());
  const seen = [1e9, 1.00005e9, 1.0001e9].map((ns) => {
    act(() => vi.advanceTimersByTime(1000));
    act(() => playback.seek(ns));
    for (let n = 0; n < 10 && playback.store.getState().playNs !== ns; n++) tick();
    return screen.getByText(/^1\.0\d+$/).textContent;
  });
  expect(seen).toEqual(["1.00000", "1.00005", "1.00010"]);
});

function Gauges() {
  const expectedGain = usePlayback((s) => s.expectedGain);
  return <GaugeZone variant="wide" expectedGain={expectedGain} />;
}

it("the gauges show the held readings in the same frame that comes to the trip", () => {
  const { seek, headNs } = standingBench(() => <Gauges />);
  const gauges = () => screen.getByRole("region", { name: "Gauges" }).querySelector(".gauge-row");
  seek(EARLY_NS);
  const before = gauges()?.textContent;
  seek(headNs);
  const shown = gauges()?.textContent;
  expect(shown).not.toBe(before);
  // the next frame has them in any case
  seek(headNs - 1e6);
  expect(gauges()?.textContent).toBe(shown);
});

function Race() {
  const expectedGain = usePlayback((s) => s.expectedGain);
  if (expectedGain === null) return null;
  return (
    <RaceZone variant="compact" chosenKey="insect@tuningCapacitor" expectedGain={expectedGain} />
  );
}

it("the race takes the room of another sheet as soon as the sheet has it", () => {
  vi.stubGlobal("innerWidth", 1280);
  onTestFinished(() => void vi.unstubAllGlobals());
  standingBench(() => <Race />);
  const race = () => screen.getByRole("region", { name: "The race" });
  const sized = (widthPx: number): void => {
    vi.stubGlobal("innerWidth", widthPx);
    act(() => void window.dispatchEvent(new Event("resize")));
  };
  expect(race()).toHaveClass("fit-room");
  sized(1160);
  expect(race()).toHaveClass("fit-content");
  sized(1161);
  expect(race()).toHaveClass("fit-room");
});
