/** The coordination screen over a worker that is played by hand: what it asks for, and what it says. */
import { act, fireEvent, render, screen, within } from "@testing-library/react";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { createStore } from "zustand/vanilla";
import { defaultProject } from "../../../../src/project/defaults";
import type { FromStudy, ToStudy } from "../../../../src/shells/study/protocol";
import { EMPTY } from "../../../../src/state/playbackState";
import type { MonitorPoint, StressPoint } from "../../../../src/study/coordination/coordinate";
import type { StressFacts } from "../../../../src/study/coordination/stressed";
import { BenchContext, type BenchStores } from "../../../../src/ui/screens/bench/benchContext";
import CoordinationScreen from "../../../../src/ui/screens/coordination/CoordinationScreen";
import { DamageLetters } from "../../../../src/ui/screens/coordination/DamageLabels";

const project = defaultProject();
let asked: ToStudy[] = [];
let answer: (message: FromStudy) => void = () => {};

class HandWorker {
  onmessage: ((event: { data: FromStudy }) => void) | null = null;
  constructor() {
    answer = (data) => act(() => this.onmessage?.({ data }));
  }
  postMessage(message: ToStudy): void {
    asked.push(message);
  }
  terminate(): void {}
}

beforeEach(() => {
  asked = [];
  vi.stubGlobal("Worker", HandWorker);
  vi.stubGlobal(
    "ResizeObserver",
    class {
      observe(): void {}
      unobserve(): void {}
      disconnect(): void {}
    },
  );
  return () => vi.unstubAllGlobals();
});

function start() {
  const standing = "ready" as const;
  const store = createStore(() => ({ ...EMPTY, standing, project, settings: project.monitors }));
  const openText = vi.fn(async (_text: string, _name: string) => false);
  const stores = { playback: { store }, projects: { openText } } as unknown as BenchStores;
  const shown = render(
    <BenchContext.Provider value={stores}>
      <CoordinationScreen />
    </BenchContext.Provider>,
  );
  return { store, openText, ...shown };
}

function last() {
  const message = asked.at(-1);
  if (message?.kind !== "coordinate") throw new Error(`asked ${message?.kind}`);
  return message;
}

const SILENT: MonitorPoint = {
  pickupS: null,
  earliestS: null,
  latestS: null,
  criterion: -1,
  clearS: null,
};

/** Low gain clears at 10 ms whatever the voltage; the edge melts at 40 ms at 250 V and at 20 ms at 400 V. */
function points(): readonly StressPoint[] {
  const clears: MonitorPoint = {
    pickupS: 2e-3,
    earliestS: 8e-3,
    latestS: 9e-3,
    criterion: 0,
    clearS: { shortest: 8e-3, nominal: 0.01, longest: 0.011 },
  };
  const facts = { arcW: 166, arcPeakA: 1.33, phaseRad: null } as StressFacts;
  return [
    [250, 0.04],
    [400, 0.02],
  ].map(([x = 0, s = 0]) => ({
    x,
    facts,
    monitors: project.monitors.map((m) => (m.id === "lowGain" ? clears : SILENT)),
    damage: [
      { part: "tuningCapacitor", milestone: "onset", nominalS: s, earlyS: s / 4, lateS: 4 * s },
    ],
  }));
}

function sendSheet(): void {
  const sheet = { stress: "arcAtTuningCapacitor", axis: [50, 1000], points: points() } as const;
  answer({ kind: "sheet", id: last().id, sheet, done: 2, left: 0 });
}

describe("the coordination screen", () => {
  it("has what every screen has in its header, and sends a file that cannot be read to the bench, where the reason stands", async () => {
    vi.stubGlobal("innerWidth", 1440);
    const { openText, container } = start();
    const words = [...container.querySelectorAll("header summary, header .menu-list button")];
    expect(words.map((e) => e.textContent)).toEqual([
      "Project",
      "Open project…",
      "Save project",
      "More",
      "Settings and keys",
    ]);
    window.location.hash = "coordination";
    const bad = new File(["{"], "bad.json");
    bad.text = async () => "{"; // not in this page's imitation of a browser
    fireEvent.change(screen.getByLabelText("Project file for the bench"), {
      target: { files: [bad] },
    });
    await vi.waitFor(() => expect(window.location.hash).toBe("#bench"));
    expect(openText).toHaveBeenCalledWith("{", "bad.json");
  });

  it("asks for the bench's project with its monitors as they are set now, and again when one is changed", () => {
    const { store, unmount } = start();
    expect(last().project.monitors).toEqual(project.monitors);
    expect(last().order[0]).toBe("arcAtTuningCapacitor");
    const settings = project.monitors.map((m) =>
      m.id === "lowGain" ? { ...m, smoothingS: 1e-3 } : m,
    );
    act(() => store.setState({ settings }));
    expect(asked).toHaveLength(2);
    expect(last().project.monitors).toEqual(settings);
    unmount();
    expect(asked.at(-1)).toEqual({ kind: "cancel" });
  });

  it("brings the stress that is chosen first", () => {
    start();
    fireEvent.change(screen.getByRole("combobox", { name: "Stress" }), {
      target: { value: "gridCurrent" },
    });
    expect(last().order[0]).toBe("gridCurrent");
  });

  it("states margin and requirement at the part's own voltage, the worst beside, and both follow the setting", () => {
    start();
    sendSheet();
    const reader = screen.getByRole("slider", { name: "Read at" });
    // 40 ms over 10 ms at 250 V, 20 ms over 10 ms at 400 V
    expect(reader).toHaveAttribute("aria-valuetext", expect.stringContaining("margin 4.0×"));
    expect(reader).toHaveAttribute("aria-valuetext", expect.stringContaining("it is covered"));
    const worst = screen.getByRole("button", { name: /^Arc at the tuning capacitor.*400/ });
    expect(worst).toHaveTextContent("2.0×");
    expect(worst).toHaveTextContent("thin");
    const field = screen.getByRole("textbox", { name: /^Required margin to the first damage/ });
    fireEvent.change(field, { target: { value: "5" } });
    fireEvent.keyDown(field, { key: "Enter" });
    expect(reader).toHaveAttribute("aria-valuetext", expect.stringContaining("Required: 5.0×"));
    expect(reader).toHaveAttribute("aria-valuetext", expect.stringContaining("it is thin"));
  });

  it("lists who does not operate, and nothing is covered once low gain does not count", () => {
    start();
    sendSheet();
    const table = screen.getByRole("region", { name: /^Monitors at 250/ });
    expect(within(table).getAllByText("does not operate").length).toBeGreaterThan(5);
    fireEvent.click(screen.getByRole("checkbox", { name: /^Low gain/ }));
    expect(screen.getByRole("slider")).toHaveAttribute(
      "aria-valuetext",
      expect.stringContaining("not covered"),
    );
  });

  it("judges what a standing bench was told, whatever was counted in before", () => {
    const { store } = start();
    sendSheet();
    const box = (): HTMLElement => screen.getByRole("checkbox", { name: /^Low gain/ });
    fireEvent.click(box());
    fireEvent.click(box());
    expect(box()).toBeChecked();
    const monitors = project.monitors.map((m) =>
      m.id === "lowGain" ? { ...m, role: "off" as const } : m,
    );
    act(() => store.setState({ told: { monitors, over: project.monitors } }));
    expect(last().project.monitors).toEqual(monitors);
    sendSheet();
    expect(box()).not.toBeChecked();
  });

  it("says in words what the sheets leave out, and why there is none", () => {
    start();
    expect(screen.getByText(/are estimates. An edge is followed for/)).toBeVisible();
    answer({ kind: "failed", words: "No sheet can be made: the tank has no bands." });
    expect(screen.getByRole("status")).toHaveTextContent("the tank has no bands");
  });
});

describe("letters on damage curves", () => {
  it("go along the curves once: a word that moves with the cursor only pushes them aside", () => {
    const px = vi.fn((x: number) => x);
    const curve = [50, 300].map((x) => ({ x, s: 100 }));
    const damage = {
      key: "a",
      part: "tuningCapacitor",
      milestone: "onset",
      curve: [curve],
    } as const;
    const still = { curves: [damage], px, py: px, plot: { x: 0, y: 0, width: 350, height: 200 } };
    const letter = (x: number) => (
      <svg role="presentation">
        <DamageLetters {...still} textPx={11} words={[{ x, y: 80, width: 100, height: 40 }]} />
      </svg>
    );
    const { container, rerender } = render(letter(20));
    const at = () => Number(container.querySelector("circle")?.getAttribute("cx"));
    expect(at()).toBeGreaterThan(120);
    expect(px).toHaveBeenCalledTimes(4);
    rerender(letter(110));
    expect(at()).toBeLessThan(110);
    expect(px).toHaveBeenCalledTimes(4);
  });
});
