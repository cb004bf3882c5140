/** Parts of the trials screen: what is asked and refused, and a matrix that is read and walked by keyboard. */
import { act, cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import type { ReactNode } from "react";
import { expect, it, onTestFinished, vi } from "vitest";
import { createStore } from "zustand/vanilla";
import { defaultProject } from "../../../../src/project/defaults";
import type { Project } from "../../../../src/project/types";
import { EMPTY } from "../../../../src/state/playbackState";
import { createTrials, type TrialStudy } from "../../../../src/state/trials";
import type { BackupRow } from "../../../../src/study/trials/backupSummary";
import { NOTHING } from "../../../../src/study/trials/runCase";
import type { Plain, TrialKind } from "../../../../src/study/trials/trial";
import type { WindowSummary } from "../../../../src/study/trials/windowSummary";
import { BenchContext, type BenchStores } from "../../../../src/ui/screens/bench/benchContext";
import { AdvicePart } from "../../../../src/ui/screens/trials/AdvicePart";
import { AskForm } from "../../../../src/ui/screens/trials/AskForm";
import { type Ask, kindsOfTrial } from "../../../../src/ui/screens/trials/asks";
import { BackupResult } from "../../../../src/ui/screens/trials/BackupResult";
import { ChosenCell } from "../../../../src/ui/screens/trials/ChosenCell";
import { CoverageResult } from "../../../../src/ui/screens/trials/CoverageResult";
import { MISSING, missingWords } from "../../../../src/ui/screens/trials/cellWords";
import { Matrix, matrixRows } from "../../../../src/ui/screens/trials/Matrix";
import { NuisanceResult } from "../../../../src/ui/screens/trials/NuisanceResult";
import { OpenCase } from "../../../../src/ui/screens/trials/openCase";
import { RunBar } from "../../../../src/ui/screens/trials/RunBar";
import { StaleNote } from "../../../../src/ui/screens/trials/StaleNote";
import { settingWords, valueWords } from "../../../../src/ui/screens/trials/settingWords";
import { ToleranceResult } from "../../../../src/ui/screens/trials/ToleranceResult";
import TrialsScreen from "../../../../src/ui/screens/trials/TrialsScreen";
import { TrialsContext } from "../../../../src/ui/screens/trials/trialsContext";

/** Nothing is run here. */
const MEANS = {
  workers: 1,
  startWorker: () => {
    throw new Error("no worker is wanted");
  },
  clock: { nowMs: () => 0, every: () => () => {} },
};

function asksOf(kind: string): readonly Ask[] {
  return kindsOfTrial(["160 m", "20 m"]).find((k) => k.kind === kind)?.asks ?? [];
}

it("refuses a number in words beside its field and keeps the last one that could stand", () => {
  const trials = createTrials(MEANS);
  render(
    <TrialsContext.Provider value={trials}>
      <AskForm kind="coverage" asks={asksOf("coverage")} />
    </TrialsContext.Provider>,
  );
  const wish = () => trials.store.getState().studies.coverage.wish;
  const phases = screen.getByLabelText("Phases of it");
  fireEvent.change(phases, { target: { value: "8" } });
  expect(wish().options).toEqual({ phases: 8 });
  fireEvent.change(phases, { target: { value: "2.5" } });
  expect(screen.getByRole("alert")).toHaveTextContent("Give a whole number from 1 to 16.");
  expect(wish().options).toEqual({ phases: 8 });
  fireEvent.keyDown(phases, { key: "Escape" });
  expect(phases).toHaveValue("8");
  // the usual value needs no mention in the request
  fireEvent.change(phases, { target: { value: "4" } });
  expect(wish().options).toEqual({});
  fireEvent.change(screen.getByLabelText("Seed"), { target: { value: "7" } });
  expect(wish().seed).toBe(7);
});

it("asks for one band, and for all of them by not naming any", () => {
  const trials = createTrials(MEANS);
  render(
    <TrialsContext.Provider value={trials}>
      <AskForm kind="coverage" asks={asksOf("coverage")} />
    </TrialsContext.Provider>,
  );
  const wish = () => trials.store.getState().studies.coverage.wish;
  fireEvent.click(screen.getByRole("radio", { name: "20 m" }));
  expect(wish().options).toEqual({ bands: ["20 m"] });
  fireEvent.click(screen.getByRole("radio", { name: "all" }));
  expect(wish().options).toEqual({});
});

it("has one cell in the tab order, goes on by arrow keys, and says kind and margin of each", () => {
  const chosen: number[] = [];
  const rows = matrixRows([
    { row: "Insect", column: "20 m", index: 4, kind: "covered", margin: 100, marginEarly: 9 },
    { row: "Insect", column: "10 m", index: 5, kind: "late", margin: 0.5, marginEarly: null },
    { row: "Dust", column: "20 m", index: 6, kind: "noStrike", margin: null, marginEarly: null },
    { row: "Dust", column: "10 m", index: 7, kind: "covered", margin: 4, marginEarly: 0.8 },
    { row: "Relay", column: "20 m", index: 8, kind: "covered", margin: 16, marginEarly: 1.9 },
    { row: "Relay", column: "10 m", index: 9, kind: "thin", margin: 2, marginEarly: 0.5 },
    { row: "Lost", column: "20 m", index: 10, kind: "covered", margin: 4, marginEarly: 4 },
  ]);
  render(
    <Matrix
      head="Fault"
      rows={rows}
      columns={["20 m", "10 m"]}
      required={3}
      chosen={null}
      missing={(row) => (row === "Lost" ? MISSING : `${row} nowhere else`)}
      missingWords={missingWords("running")}
      onChoose={(index) => chosen.push(index)}
    />,
  );
  const covered = screen.getByRole("button", {
    name: "Insect, 20 m: covered, margin 100×, early edge 9.0×",
  });
  const late = screen.getByRole("button", { name: "Insect, 10 m: late, margin 0.50×" });
  expect(screen.getByRole("button", { name: "Dust, 20 m: no strike" })).toHaveTextContent(
    "no strike",
  );
  // a cell that is covered by the nominal estimate alone says so
  for (const name of [
    "Dust, 10 m: covered, nominal, margin 4.0×, early edge 0.80×, late",
    "Relay, 20 m: covered, nominal, margin 16×, early edge 1.9×, thin",
    "Relay, 10 m: thin, nominal, margin 2.0×, early edge 0.50×, late",
    "Lost, 20 m: covered, margin 4.0×",
  ])
    expect(screen.getByRole("button", { name })).toBeVisible();
  expect(screen.getByText("early 0.80×, late")).toBeVisible();
  // what is missing is written, never blank
  expect(screen.getByText("–")).toBeVisible();
  expect(screen.getByText("– the case waits for its turn")).toBeVisible();
  expect([covered, late].map((b) => b.tabIndex)).toEqual([0, -1]);
  covered.focus();
  fireEvent.keyDown(covered, { key: "ArrowRight" });
  expect(late).toHaveFocus();
  expect([covered, late].map((b) => b.tabIndex)).toEqual([-1, 0]);
  fireEvent.click(late);
  expect(chosen).toEqual([5]);
  // on a scale of tenfold steps up to 10 000 a hundredfold margin is half the width
  expect(covered.querySelector(".cell-bar")).toHaveStyle({ inlineSize: "50%" });
});

it("names settings and their values as a person says them", () => {
  expect(settingWords("lowGain.confirmation")).toBe("confirmation of low gain");
  expect(valueWords("lowGain.confirmation", 2e-3)).toBe("2.00\u00a0ms");
  expect(valueWords("lowGain.pickup", -2)).toBe("\u22122.0\u00a0dB");
});

it("has the menus of every screen, and sends a file that cannot be read to the bench, where the reason stands", async () => {
  const store = createStore(() => EMPTY);
  const said: string[] = [];
  const projects = {
    openProject: () => said.push("begun"),
    openText: async (text: string, name: string) => {
      said.push(`${name} refused: ${text}`);
      return false;
    },
  };
  const stores = { playback: { store }, projects } as unknown as BenchStores;
  render(
    <BenchContext.Provider value={stores}>
      <TrialsScreen />
    </BenchContext.Provider>,
  );
  window.location.hash = "trials";
  const bad = new File(["{"], "bad.json");
  bad.text = async () => "{"; // not in this page's imitation of a browser
  fireEvent.change(screen.getByLabelText("Project file for the bench"), {
    target: { files: [bad] },
  });
  await vi.waitFor(() => expect(window.location.hash).toBe("#bench"));
  // a bench that begins puts what was refused away: it has begun before that is told
  expect(said.slice(-2)).toEqual(["begun", "bad.json refused: {"]);
});

it("says that the time of use that could not be run is in no figure", () => {
  const trials = createTrials(MEANS);
  const problems = [{ index: 0, label: "speech", problem: "no working point" }];
  const none = { monitors: [], uses: [], conditions: [], trips: [], exceptions: [] };
  const summary = { ...none, cases: 2, casesRun: 1, notRun: 1, problems, hours: 0, all: null };
  const { studies } = trials.store.getState();
  const nuisance = { ...studies.nuisance, standing: "done", summary } as typeof studies.nuisance;
  trials.store.setState({ studies: { ...studies, nuisance } });
  const stores = { playback: { store: createStore(() => EMPTY) } } as unknown as BenchStores;
  render(
    <BenchContext.Provider value={stores}>
      <TrialsContext.Provider value={trials}>
        <NuisanceResult />
      </TrialsContext.Provider>
    </BenchContext.Provider>,
  );
  expect(
    screen.getByText(/1 of 2 cases could not be run: their time is in no figure here\.$/),
  ).toBeVisible();
});

/** Parts over trials whose study of a kind stands as given. */
function renderKnown(kind: TrialKind, study: Partial<TrialStudy>, part: ReactNode) {
  const trials = createTrials(MEANS);
  trials.store.setState(({ studies }) => ({
    studies: { ...studies, [kind]: { ...studies[kind], ...study } },
  }));
  render(<TrialsContext.Provider value={trials}>{part}</TrialsContext.Provider>);
  return trials;
}

it("a failure that leaves a fault uncovered stands before every margin, and says so", () => {
  const row = (name: string, more: Partial<BackupRow>): BackupRow => ({
    failed: [name],
    names: [name],
    done: 1,
    worstMargin: null,
    worstMarginEarly: null,
    worstFault: null,
    open: [],
    takesOver: [],
    showsItself: 0,
    ...more,
  });
  const arc = { fault: "arc", part: "bandSwitch" } as const;
  const rows = [
    row("small margin", { worstMargin: 1.4, worstFault: arc }),
    row("scan stopped", { open: [{ ...arc, kind: "notCovered", reason: "nothing acts" }] }),
    row("wide margin", { worstMargin: 30, worstFault: arc }),
  ];
  const summary = { done: 3, count: 3, rows, requiredMargin: 3, requiredMarginHalfMilligram: 5 };
  renderKnown(
    "backup",
    { standing: "done", summary: summary as unknown as Plain, outcomes: [] },
    <BackupResult />,
  );
  const table = screen.getByRole("table", { name: "Worst first" });
  const lines = within(table)
    .getAllByRole("row")
    .map((r) => within(r).queryAllByRole("cell"));
  const heads = within(table).getAllByRole("rowheader");
  expect(heads.map((h) => h.textContent)).toEqual(["scan stopped", "small margin", "wide margin"]);
  expect(lines[1]?.[0]).toHaveTextContent(/^not covered, Arc struck/);
  expect(lines[1]?.[3]).toHaveTextContent(/^nobody$/);
  expect(lines[2]?.[3]).toHaveTextContent(/^nobody has to$/);
});

it("offers to go on where Cancel was, and keeps the focus there", () => {
  const trials = renderKnown(
    "tolerance",
    { standing: "running" },
    <RunBar kind="tolerance" onStart={() => {}} />,
  );
  screen.getByRole("button", { name: "Cancel" }).focus();
  act(() =>
    trials.store.setState(({ studies }) => ({
      studies: { ...studies, tolerance: { ...studies.tolerance, standing: "cancelled" } },
    })),
  );
  expect(screen.getByRole("button", { name: "Resume" })).toHaveFocus();
  expect(screen.getByRole("button", { name: "Start again" })).toBeInTheDocument();
});

it("says that nothing is known where no unit has been struck", () => {
  const none = { units: 0, percentiles: [], histogram: null, endless: 0 };
  const share = { units: 0, share: 0 };
  const summary = {
    done: 0,
    count: 30,
    fault: { fault: "insect", part: "tuningCapacitor", severity: 1 },
    requiredMargin: 3,
    heatsOn: 0,
    tripInNormalUse: share,
    belowRequired: share,
    belowRequiredEarly: share,
    percentiles: [50],
    margin: none,
    marginEarly: none,
    operateS: none,
    clearingS: none,
    worst: [],
    rankNoise: null,
    inputs: [],
  };
  renderKnown(
    "tolerance",
    { standing: "cancelled", summary: summary as unknown as Plain },
    <ToleranceResult />,
  );
  expect(screen.getByText(/No unit has been struck: nothing is known/)).toBeInTheDocument();
  expect(screen.queryByText("endless")).toBeNull();
  expect(screen.queryByRole("table")).toBeNull();
});

it("says of which project the results are, and puts that back on the bench", () => {
  const ours = { ...defaultProject(), title: "Ours" };
  const opened: Project[] = [];
  const projects = { openProject: (project: Project) => opened.push(project) };
  const stores = { projects } as unknown as BenchStores;
  const focused = vi.fn();
  const asked = { kind: "tolerance", project: ours, seed: 1 } as const;
  const held = (project: Project) => (
    <BenchContext.Provider value={stores}>
      <StaleNote kind="tolerance" project={project} onPutBack={focused} />
    </BenchContext.Provider>
  );
  const trials = renderKnown("tolerance", { standing: "done", asked }, held(ours));
  expect(screen.queryByText(/The results are of/)).toBeNull();
  cleanup();
  render(
    <TrialsContext.Provider value={trials}>
      {held({ ...ours, title: "Ours: one unit" })}
    </TrialsContext.Provider>,
  );
  expect(
    screen.getByText(/results are of Ours\. The bench holds Ours: one unit now/),
  ).toBeVisible();
  fireEvent.click(screen.getByRole("button", { name: "Put Ours back on the bench" }));
  expect(opened).toEqual([ours]);
  expect(focused).toHaveBeenCalledTimes(1);
});

it("brings what is told of each chosen cell into sight", () => {
  const shown = vi.fn();
  HTMLElement.prototype.scrollIntoView = shown;
  onTestFinished(() => void Reflect.deleteProperty(HTMLElement.prototype, "scrollIntoView"));
  const { rerender } = render(<ChosenCell index={3}>late</ChosenCell>);
  rerender(<ChosenCell index={3}>late, and why</ChosenCell>);
  expect(shown).toHaveBeenCalledTimes(1);
  rerender(<ChosenCell index={4}>thin</ChosenCell>);
  expect(shown).toHaveBeenCalledTimes(2);
});

it.each([
  ["running", "– the case waits for its turn"],
  ["cancelled", "– the case was not run"],
  ["done", "– the case gave no result"],
] as const)(
  "a case without a result in a trial that is %s is said to be: %s",
  (standing, words) => {
    const cell = (fault: string, part: string, swr: number): Plain => ({
      fault,
      part,
      band: "20 m",
      driveW: 62,
      swr,
      phaseRad: 0,
      kind: "noStrike",
      reason: "nothing strikes",
      accepted: null,
      outcome: NOTHING as unknown as Plain,
    });
    const outcomes = [
      cell("insect", "tuningCapacitor", 1),
      cell("insect", "tuningCapacitor", 1.5),
      cell("openLoad", "load", 1.5),
      cell("sensorOpen", "driveForwardW", 1),
      null,
    ];
    renderKnown("coverage", { standing, outcomes }, <CoverageResult />);
    const row = (name: RegExp) =>
      within(screen.getByRole("row", { name }))
        .getAllByRole("cell")
        .map((c) => c.textContent);
    expect(row(/^Insect/)).toEqual(["no strike", "no strike"]);
    expect(row(/antenna/)).toEqual(["–", "no strike"]);
    expect(screen.getByText(words)).toBeVisible();
    expect(screen.getByRole("table")).toHaveAccessibleDescription(words);
    // of a fault that no load changes there is no other case
    expect(row(/drive/)).toEqual(["no strike", "as matched"]);
  },
);

it("asks of back-up whether failures come in pairs too, and offers to show none where none were asked for", () => {
  const trials = createTrials(MEANS);
  render(
    <TrialsContext.Provider value={trials}>
      <AskForm kind="backup" asks={asksOf("backup")} />
    </TrialsContext.Provider>,
  );
  const wish = () => trials.store.getState().studies.backup.wish;
  fireEvent.click(screen.getByRole("radio", { name: "each alone" }));
  expect(wish().options).toEqual({ pairs: false });
  fireEvent.click(screen.getByRole("radio", { name: "alone and in pairs" }));
  expect(wish().options).toEqual({});
  renderKnown("backup", {}, <BackupResult />);
  expect(
    screen.getByText(/is failed in turn and, unless each alone is asked for, two at a time;/),
  ).toBeVisible();
  cleanup();
  const show = { name: "Show pairs of failures too" };
  const asked = { kind: "backup", project: defaultProject(), seed: 1 } as const;
  renderKnown("backup", { standing: "running", asked }, <BackupResult />);
  expect(screen.getByRole("checkbox", show)).toBeVisible();
  cleanup();
  const alone = { ...asked, options: { pairs: false } };
  renderKnown("backup", { standing: "running", asked: alone }, <BackupResult />);
  expect(screen.queryByRole("checkbox", show)).toBeNull();
});

it("says of moments of ordinary use that they count from the start of the case's run", () => {
  const none = { problems: [], hours: 1, all: null, monitors: [], uses: [], conditions: [] };
  const trip = { index: 0, monitor: "lowGain", atS: 12.5, label: "speech; aged tube; seed 4" };
  const exception = { index: 1, monitors: ["lowGain"], firstS: 3.25, label: "VSWR 2; speech" };
  const lists = { trips: [trip], exceptions: [exception] };
  const summary = { ...none, ...lists, cases: 2, casesRun: 2, notRun: 0 } as unknown as Plain;
  const stores = { playback: { store: createStore(() => EMPTY) } } as unknown as BenchStores;
  renderKnown(
    "nuisance",
    { standing: "done", summary },
    <BenchContext.Provider value={stores}>
      <NuisanceResult />
    </BenchContext.Provider>,
  );
  for (const name of [/^False trips, .*from the start of its case's run$/, /^Not ordinary.*start/])
    expect(screen.getByRole("heading", { name })).toBeVisible();
  const lines = screen.getAllByRole("listitem").map((line) => line.textContent);
  expect(lines[0]).toContain("lowGain, 12.5\u00a0s after the start");
  expect(lines[1]).toContain("lowGain, first 3.25\u00a0s after the start");
});

it("opens a case under the project's own title and what a person calls the case", async () => {
  const ours = { ...defaultProject(), title: "Ours (load)" };
  const opened: string[] = [];
  const projects = { openProject: ({ title }: Project) => opened.push(title) };
  const asked = { kind: "coverage", project: ours, seed: 1 } as const;
  const trials = createTrials(MEANS);
  trials.store.setState(({ studies }) => ({
    studies: { ...studies, coverage: { ...studies.coverage, asked } },
  }));
  const title = "Ours (load): Arc struck (loadingCapacitor), 20 m, 62 W";
  const openOnBench = async () => ({ project: { ...ours, title }, atNs: 0 });
  render(
    <BenchContext.Provider value={{ projects } as unknown as BenchStores}>
      <TrialsContext.Provider value={{ ...trials, openOnBench }}>
        <OpenCase kind="coverage" index={0} />
      </TrialsContext.Provider>
    </BenchContext.Provider>,
  );
  fireEvent.click(screen.getByRole("button", { name: "Open on the bench" }));
  await vi.waitFor(() =>
    expect(opened).toEqual(["Ours (load): Arc struck (loading capacitor), 20 m, 62 W"]),
  );
});

it.each([
  [
    "shown by too few hours",
    1,
    { count: 0, perHour: 0, low: 0, high: 3.689 },
    "Not proved: 1.00 h of use show only that false trips lie under 3.7 an hour (95 %), and 0.1 is accepted. 37 h in all without a false trip would prove it.",
  ],
  [
    "all but shown",
    36.5,
    { count: 0, perHour: 0, low: 0, high: 0.1011 },
    "Not proved: 36.5 h of use show only that false trips lie under 0.102 an hour (95 %), and 0.1 is accepted. 37 h in all without a false trip would prove it.",
  ],
  [
    "shown by all but the last minutes",
    36.98,
    { count: 0, perHour: 0, low: 0, high: 0.10001 },
    "Not proved: 36.98 h of use show only that false trips lie under 0.10001 an hour (95 %), and 0.1 is accepted. 37 h in all without a false trip would prove it.",
  ],
  ["proved", 1, { count: 0, perHour: 0, low: 0, high: 0.05 }, ""],
  [
    "a little more than accepted",
    39,
    { count: 4, perHour: 0.1026, low: 0.028, high: 0.263 },
    "Not kept: 0.103 false trips an hour were counted, and 0.1 is accepted.",
  ],
  [
    "more than accepted",
    1,
    { count: 4, perHour: 4, low: 1.1, high: 10.2 },
    "Not kept: 4.0 false trips an hour were counted, and 0.1 is accepted.",
  ],
] as const)(
  "beside the button that sets a proposal stands whether its rate is %s",
  (_, hours, falseTrips, words) => {
    const project = defaultProject();
    const fault = {
      fault: "arc@loadingCapacitor",
      signal: "carrier",
      runs: 4,
      missed: 0,
      operateMedianS: 1e-3,
      operate95S: 2e-3,
      clearing95S: 3e-3,
      margin: 16,
      marginEarly: 4,
    } as const;
    const summary: WindowSummary = {
      x: { path: "lowGain.pickup", values: [-3] },
      y: { path: "lowGain.confirmation", values: [3e-3] },
      hours,
      faultRuns: 4,
      notRun: 0,
      problem: "",
      points: [{ x: -3, y: 3e-3, onFront: true, falseTrips, faults: [fault] }],
      front: [0],
      contour: { operateS: [], margin: [], falseTripsPerHour: [] },
    };
    const bench = { ...EMPTY, project: project as Project | null, settings: project.monitors };
    const store = createStore(() => bench);
    renderKnown(
      "window",
      { standing: "done", asked: { kind: "window", project, seed: 1 } },
      <BenchContext.Provider value={{ playback: { store } } as unknown as BenchStores}>
        <AdvicePart sweep={summary} />
      </BenchContext.Provider>,
    );
    const button = screen.getByRole("button", { name: "Set the proposed settings on the bench" });
    expect(button).toBeEnabled();
    expect(button).toHaveAccessibleDescription(words);
    // said once, and said as well where there is no button yet
    const rates = () => screen.queryAllByText(/not (proved|kept)/i).map((e) => e.textContent);
    expect(rates()).toEqual(words === "" ? [] : [words]);
    act(() => store.setState({ project: null }));
    expect(screen.queryByRole("button", { name: /^Set the proposed/ })).toBeNull();
    expect(rates()).toEqual(words === "" ? [] : [words]);
  },
);
