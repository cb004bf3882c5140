/** The whole bench on the engine in this thread: what a person does first, and what the page must never do. */
import { readFileSync } from "node:fs";
import { act, fireEvent, render, screen, waitFor, within } from "@testing-library/react";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { FAULT_NAMES } from "../../../../src/project/faults";
import { BenchScreen } from "../../../../src/ui/screens/bench/BenchScreen";
import { BenchContext } from "../../../../src/ui/screens/bench/benchContext";
import { startPlayback } from "../../../support/startPlayback";

const MS = 1e6;

beforeEach(() => {
  // the full sheet, with needles
  vi.stubGlobal("innerWidth", 1440);
  vi.stubGlobal("innerHeight", 900);
  // the test is the clock
  vi.stubGlobal("requestAnimationFrame", () => 0);
  vi.stubGlobal("cancelAnimationFrame", () => undefined);
  // dialogs of this document know no modal state
  HTMLDialogElement.prototype.showModal ??= function showModal(this: HTMLDialogElement) {
    this.open = true;
  };
  HTMLDialogElement.prototype.close ??= function close(this: HTMLDialogElement) {
    this.open = false;
    this.dispatchEvent(new Event("close"));
  };
  return () => vi.unstubAllGlobals();
});

function start() {
  const { playback, projects, settings, tick } = startPlayback();
  render(
    <BenchContext.Provider value={{ playback, projects, settings }}>
      <BenchScreen />
    </BenchContext.Provider>,
  );
  tick();
  return {
    playback,
    projects,
    settings,
    tick,
    runFor(ns: number) {
      const until = playback.store.getState().playNs + ns;
      for (let i = 0; i < 400 && playback.store.getState().playNs < until; i++) tick();
    },
  };
}

describe("the bench", () => {
  it("starts paused, with the station named and six gauges that say what they read", () => {
    start();
    expect(screen.getByText(/Skerry Light/)).toBeVisible();
    expect(screen.getByRole("button", { name: "Run" })).toBeVisible();
    const meters = screen.getAllByRole("meter");
    expect(meters).toHaveLength(6);
    for (const meter of meters) {
      expect(meter).toHaveAccessibleName();
      expect(meter.getAttribute("aria-valuetext")).toMatch(/state|no reading/);
    }
  });

  it("puts the station on the air by Key down, and runs", async () => {
    const bench = start();
    fireEvent.click(screen.getByRole("radio", { name: "Key down" }));
    bench.runFor(60 * MS);
    expect(screen.getByRole("button", { name: "Pause" })).toBeVisible();
    expect(bench.playback.store.getState().world?.phase).toBe("transmit");
    // figures follow ten times a second; 0.8 A is the design figure of the station at full drive
    await waitFor(() =>
      expect(
        screen.getByRole("meter", { name: "Plate current" }).getAttribute("aria-valuetext"),
      ).toMatch(/^0\.8\d+ ampere/),
    );
  });

  it("places the fault a person presses in the list, and says so there", () => {
    const bench = start();
    fireEvent.click(screen.getByRole("radio", { name: "Key down" }));
    bench.runFor(60 * MS);
    const list = within(screen.getByRole("region", { name: "Faults" }));
    const insect = list.getByRole("button", { name: /Insect/ });
    expect(insect).toHaveAttribute("aria-pressed", "false");
    fireEvent.click(insect);
    bench.tick();
    bench.tick();
    expect(bench.playback.store.getState().world?.faults).toHaveLength(1);
    expect(list.getByRole("button", { name: /Insect/ })).toHaveAttribute("aria-pressed", "true");
  });

  it("says of every fault what it is, does and is given away by", async () => {
    start();
    fireEvent.click(screen.getByRole("button", { name: /What each fault does/ }));
    await import("../../../../src/ui/screens/bench/FaultsSheet"); // a loaded machine takes its time
    // by text: to look up the roles of so many entries takes longer than all else here
    await screen.findByText("Faults in words");
    const sheet = document.querySelector("dialog.sheet-dialog") as HTMLElement;
    const names = () => [...sheet.querySelectorAll("h4")].map((h) => h.textContent ?? "");
    expect(within(sheet).getAllByText("Gives it away")).toHaveLength(FAULT_NAMES.length);
    // the one chosen on the bench comes first
    expect(names()[0]).toContain("Insect in the gap");
    fireEvent.change(within(sheet).getByLabelText(/Show those that speak of/), {
      target: { value: "Bleeder" },
    });
    expect(names().some((words) => words.startsWith("Bleeder open"))).toBe(true);
    expect(names().length).toBeLessThan(FAULT_NAMES.length / 2);
    expect(
      within(sheet).getByText(`${names().length} of ${FAULT_NAMES.length} faults`),
    ).toBeVisible();
  });

  it("asks before a fault that nobody should try by hand", async () => {
    const bench = start();
    const list = within(screen.getByRole("region", { name: "Faults" }));
    fireEvent.click(list.getByRole("button", { name: /Plate supply shorted/ }));
    expect(await screen.findByRole("heading", { name: /Never by hand/ })).toBeVisible();
    fireEvent.click(screen.getByRole("button", { name: "Leave it" }));
    bench.tick();
    expect(bench.playback.store.getState().world?.faults).toHaveLength(0);
  });

  it("says in the monitors dialog what a change in the past will do, and does that", async () => {
    const bench = start();
    const state = bench.playback.store.getState;
    fireEvent.click(screen.getByRole("radio", { name: "Key down" }));
    bench.runFor(40 * MS);
    act(() => bench.playback.seek(20 * MS));
    bench.tick();
    bench.tick();
    // refused before the dialog was there, it is none of its changes
    fireEvent.click(screen.getByRole("radio", { name: "Key up" }));
    expect(state().refusal).not.toBeNull();
    fireEvent.click(screen.getByRole("button", { name: "Set monitors" }));
    const dialog = within(await screen.findByRole("dialog", { name: "Monitors" }));
    expect(dialog.getByText(/looking at the past.*offered as a new run/)).toBeVisible();
    expect(dialog.queryByRole("button", { name: "New run with this change" })).toBeNull();
    const acts = () => dialog.getByRole("combobox", { name: "Low gain acts" });
    fireEvent.change(acts(), { target: { value: "shadow" } });
    bench.tick();
    expect(state()).toMatchObject({ mode: "back", playNs: 20 * MS });
    expect(acts()).toHaveValue("acting");
    const anew = dialog.getByRole("button", { name: "New run with this change" });
    anew.focus();
    fireEvent.click(anew);
    expect(dialog.getByRole("button", { name: "Close" })).toHaveFocus();
    for (let n = 0; n < 5; n++) bench.tick();
    expect(state()).toMatchObject({ mode: "live", playNs: 20 * MS, headNs: 20 * MS });
    expect(dialog.getByText(/^A change acts from the play head on/)).toBeVisible();
    bench.runFor(2 * MS);
    expect(state().settings.find((m) => m.id === "lowGain")?.role).toBe("shadow");
  });

  it("refuses what is done to the past, and offers a new run with it", async () => {
    const bench = start();
    fireEvent.click(screen.getByRole("radio", { name: "Key down" }));
    bench.runFor(40 * MS);
    act(() => bench.playback.seek(20 * MS));
    bench.tick();
    bench.tick();
    expect(screen.getByText("Looking back")).toBeVisible();
    // the clock's words follow ten times a second
    expect(await screen.findByText(/before the record's end$/)).toBeVisible();
    fireEvent.click(screen.getByRole("radio", { name: "Key up" }));
    expect(bench.playback.store.getState().world?.keyDown).toBe(true);
    fireEvent.click(screen.getByRole("button", { name: "New run with this change" }));
    bench.tick();
    bench.tick();
    expect(bench.playback.store.getState().world?.keyDown).toBe(false);
    expect(screen.queryByText("Looking back")).toBeNull();
  });

  it("shows where a bad file is wrong and leaves the bench as it was", async () => {
    const bench = start();
    await act(async () => {
      await bench.projects.openText('{ "format": "something else" }', "bad.json");
    });
    const problem = screen.getByRole("alert");
    expect(problem).toHaveTextContent("bad.json was not opened");
    expect(problem).toHaveTextContent(/Line 1, column \d+/);
    fireEvent.click(within(problem).getByRole("button", { name: "Dismiss" }));
    expect(screen.queryByRole("alert")).toBeNull();
    expect(screen.getByText(/Skerry Light/)).toBeVisible();
  });
});

describe("keys of the bench", () => {
  it("are single letters, until they are switched off; the space bar always runs and pauses", () => {
    const bench = start();
    fireEvent.keyDown(document.body, { key: "k" });
    bench.tick();
    bench.tick();
    expect(bench.playback.store.getState().world?.keyDown).toBe(true);
    act(() => bench.settings.change({ letterKeys: false }));
    fireEvent.keyDown(document.body, { key: "k" });
    bench.tick();
    bench.tick();
    expect(bench.playback.store.getState().world?.keyDown).toBe(true);
    expect(bench.playback.store.getState().running).toBe(true);
    fireEvent.keyDown(document.body, { key: " " });
    expect(bench.playback.store.getState().running).toBe(false);
  });

  it("leave what is being typed alone", () => {
    const bench = start();
    const drive = screen.getByRole("textbox", { name: "Drive, W" });
    fireEvent.keyDown(drive, { key: "k" });
    fireEvent.keyDown(drive, { key: " " });
    bench.tick();
    expect(bench.playback.store.getState().world?.keyDown).toBe(false);
    expect(bench.playback.store.getState().running).toBe(false);
  });
});

describe("a demonstration", () => {
  it("stays over a station edited beside it and ends with a case opened elsewhere", async () => {
    const text = readFileSync("public/projects/skerry-light-insect.json", "utf8");
    vi.stubGlobal("fetch", async () => new Response(text));
    const bench = start();
    const banner = () => screen.queryByText(/Which needle would you watch\?/);
    expect(banner()).toBeNull();
    fireEvent.click(screen.getByText("Quiet arc"));
    await waitFor(() => expect(banner()).not.toBeNull());
    bench.tick();
    const { project } = bench.playback.store.getState();
    if (project === null) throw new Error("no project");
    act(() => bench.projects.openEdited(project));
    bench.tick();
    expect(banner()).not.toBeNull();
    bench.playback.pause();
    act(() => bench.projects.openProject({ ...project, seed: 7 }, "", 1e6));
    bench.tick();
    expect(banner()).toBeNull();
    expect(bench.playback.store.getState().running).toBe(false);
  });
});

describe("a knob under a hand", () => {
  it("shows the hand's value at once and the bench's when it has been taken", () => {
    const bench = start();
    const tuning = screen.getByRole("slider", { name: "Tuning" });
    fireEvent.change(tuning, { target: { value: "0.1" } });
    expect(tuning).toHaveAttribute("aria-valuetext", "+10.0\u00a0%");
    fireEvent.pointerUp(tuning);
    bench.tick();
    bench.tick();
    expect(bench.playback.store.getState().world?.targets.tuningRatio).toBe(1.1);
    expect(screen.getByRole("slider", { name: "Tuning" })).toHaveAttribute(
      "aria-valuetext",
      "+10.0\u00a0%",
    );
  });
});

describe("the trip memory", () => {
  it("opens from the sequence of events and says that nothing is written down", async () => {
    start();
    fireEvent.click(screen.getByRole("button", { name: "Trip memory" }));
    const dialog = await screen.findByRole("dialog", { name: "Trip memory" });
    expect(within(dialog).getByText("No trip is written down.")).toBeVisible();
    expect(within(dialog).queryByRole("button", { name: "Clear trip memory" })).toBeNull();
  });
});
