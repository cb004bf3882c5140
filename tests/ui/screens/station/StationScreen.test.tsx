/** The station screen with a file opened on it: what the reader has to say, and whose monitors go to the bench. */
import { act, fireEvent, render, screen } from "@testing-library/react";
import { beforeEach, expect, it, vi } from "vitest";
import { createStore } from "zustand/vanilla";
import { defaultProject } from "../../../../src/project/defaults";
import type { Project } from "../../../../src/project/types";
import { operatingPoint } from "../../../../src/simulation/operatingPoint";
import { editBeside } from "../../../../src/state/editBeside";
import type { Playback } from "../../../../src/state/playback";
import { EMPTY } from "../../../../src/state/playbackState";
import { stationPresets } from "../../../../src/study/stationPresets";
import { BenchContext, type BenchStores } from "../../../../src/ui/screens/bench/benchContext";
import StationScreen from "../../../../src/ui/screens/station/StationScreen";

class SilentWorker {
  onmessage = null;
  postMessage(): void {}
  terminate(): void {}
}

beforeEach(() => {
  vi.stubGlobal("Worker", SilentWorker);
  return () => vi.unstubAllGlobals();
});

function start() {
  const running = defaultProject();
  const store = createStore(() => ({ ...EMPTY, project: running }));
  const playback = { store } as unknown as Playback;
  const [openEdited, learn] = [vi.fn((_project: Project) => {}), vi.fn((_project: Project) => {})];
  const stores = { playback, projects: { openEdited, learn } } as unknown as BenchStores;
  render(
    <BenchContext.Provider value={stores}>
      <StationScreen />
    </BenchContext.Provider>,
  );
  return { edit: editBeside(playback), openEdited, learn };
}

function open(text: string): void {
  const file = new File([text], "pair.json");
  file.text = async () => text; // not in this page's imitation of a browser
  const target = { files: [file], value: "" };
  fireEvent.change(screen.getByLabelText("Project file for the station"), { target });
}

/** Two glass triodes at 60 W of drive; the register rates their grids at less than they draw. */
const PAIR = {
  freqHz: 7.1e6,
  exciter: { availableW: 60 },
  tube: { kind: "registered", type: "3-500Z", count: 2 },
  bias: { cathodeV: 0 },
  supply: { kind: "rectified", noLoadV: 2700 },
  tank: { kind: "designedPi", plateLoadOhm: 1725 },
};
const HEAD = { format: "quietarc-project", schemaVersion: 1 };

it("says what the reader says of a file, and takes presets to the bench that follow the station as edited since", async () => {
  const { edit, openEdited, learn } = start();
  open(
    JSON.stringify({
      ...HEAD,
      title: "Pair",
      station: PAIR,
      sensors: { gridCurrentA: { bits: 10 } },
    }),
  );
  const said = (): string | null | undefined => document.querySelector(".opened")?.textContent;
  await vi.waitFor(() => expect(said()).toMatch(/Monitors: the file names no monitors/));
  expect(said()).toMatch(/grid current: a pickup .* does not protect the tube\./);
  const { station } = edit.store.getState().project;
  expect(learn.mock.lastCall?.[0].station).toEqual(station);
  const more = { ...station, exciter: { ...station.exciter, availableW: 105 } };
  act(() => edit.change(more, { field: "Drive", from: "60 W", to: "105 W" }));
  fireEvent.click(screen.getByText("Take this station to the bench"));
  const taken = openEdited.mock.calls[0]?.[0];
  const point = operatingPoint(more);
  if (taken === undefined || !point.ok) throw new Error("nothing was taken, or nothing settles");
  expect(taken.station).toEqual(more);
  expect(taken.monitors).toEqual(stationPresets(more)?.monitors);
  const timed = taken.monitors.find((m) => m.id === "gridTimed")?.criteria[0]?.pickup;
  expect(timed).toBeGreaterThan(point.point.gridCurrentA);
  expect(taken.sensors.gridCurrentA.bits).toBe(10);
  // what was said goes when it is put away
  fireEvent.click(screen.getByText("Dismiss"));
  expect(said()).toBeUndefined();
});
