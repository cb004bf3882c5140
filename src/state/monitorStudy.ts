/**
 * What the study worker found for the edited monitors: the station's normal readings, and the present race with the settings the
 * bench has and with the edited ones.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import { FAULTS } from "../project/faults";
import type { MonitorDef } from "../project/protection";
import type { FaultName, PartName, ScenarioEntry } from "../project/scenario";
import type { Project } from "../project/types";
import type { FromStudy, StudyPort } from "../shells/study/protocol";
import type { NormalBand } from "../study/normalReadings";
import { type RaceOutcome, USUAL_RACE } from "../study/raceBeside";

export interface MonitorStudyState {
  readonly working: boolean;
  /** Why nothing can be worked out; empty while all is well. */
  readonly failure: string;
  readonly bands: readonly NormalBand[];
  /** With the settings of the bench, and as edited; null until they are worked out. */
  readonly before: RaceOutcome | null;
  readonly after: RaceOutcome | null;
  /** Why the edited project has no race; empty while it has. */
  readonly problem: string;
  /** The fault of that race. */
  readonly fault: RacedFault | null;
}

export interface RacedFault {
  readonly fault: FaultName;
  readonly part: PartName;
  /** False: the run on the bench has no fault early enough, so it is taken under a full carrier. */
  readonly isOfRun: boolean;
}

/** A fault later than this is not waited for: it is taken under a full carrier at once. */
const LATEST_FAULT_S = 5;
/** The race is followed this long. */
const RACE_S = 3;

type PlacedFault = Extract<ScenarioEntry, { do: "placeFault" }>;

function firstFault(scenario: readonly ScenarioEntry[]): PlacedFault | null {
  const found = scenario.find((e) => e.do === "placeFault" && !FAULTS[e.fault].latent);
  return found?.do === "placeFault" ? found : null;
}

/** The present race as a project with the bench's own settings, `live`, and with the edited ones. */
export function racedProjects(
  session: Project,
  live: readonly MonitorDef[],
  edited: Project,
): { readonly before: Project; readonly after: Project; readonly fault: RacedFault } {
  const usual = firstFault(USUAL_RACE) as PlacedFault;
  const first = firstFault(session.scenario);
  const isOfRun = first !== null && first.atS <= LATEST_FAULT_S;
  const { fault, part } = first ?? usual;
  const scenario = isOfRun
    ? // what was set on the way is in the settings already
      session.scenario.filter((e) => e.do !== "configureMonitor")
    : USUAL_RACE.map((e) =>
        e.do === "placeFault" && first !== null ? { ...first, atS: e.atS } : e,
      );
  const endS = (isOfRun ? first.atS : usual.atS) + RACE_S;
  const before = { ...session, monitors: live, scenario, endS };
  const { station, sensors, monitors, actuators } = edited;
  const after = { ...before, station, sensors, monitors, actuators };
  return { before, after, fault: { fault, part, isOfRun } };
}

export type MonitorStudy = ReturnType<typeof createMonitorStudy>;

export function createMonitorStudy(port: StudyPort) {
  const store: StoreApi<MonitorStudyState> = createStore<MonitorStudyState>()(() => ({
    working: false,
    failure: "",
    bands: [],
    before: null,
    after: null,
    problem: "",
    fault: null,
  }));
  const { setState: set } = store;
  let asked = 0;
  let fault: RacedFault | null = null;

  port.listen((message: FromStudy) => {
    if (message.kind === "failed") {
      set({ failure: message.words, working: false });
      return;
    }
    if (!("id" in message) || message.id !== asked) return; // of a question that was overtaken
    if (message.kind === "normal") set({ bands: message.bands });
    if (message.kind === "beside") {
      const { index, outcome, problem } = message;
      if (index === 0) set({ before: outcome, fault });
      else set({ after: outcome, problem });
    }
    if (message.kind === "monitored") set({ working: false });
  });

  return {
    store,
    ask(session: Project, live: readonly MonitorDef[], edited: Project): void {
      const raced = racedProjects(session, live, edited);
      fault = raced.fault;
      asked += 1;
      set({ working: true });
      const runs = [raced.before, raced.after];
      port.post({ kind: "monitors", id: asked, station: edited.station, runs });
    },
    close: () => port.close(),
  };
}
