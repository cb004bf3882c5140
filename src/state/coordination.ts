/** Coordination sheets of the project in use, as far as they are made: asked of a study worker of their own. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Project } from "../project/types";
import type { FromStudy, StudyPort } from "../shells/study/protocol";
import type { CoordinationSheet } from "../study/coordination/coordinate";
import { coordinationKey, STRESS_NAMES, type StressName } from "../study/coordination/stress";

export interface CoordinationState {
  readonly working: boolean;
  /** Why nothing can be worked out; empty while all is well. */
  readonly failure: string;
  /** The project the sheets belong to; while a newer one is begun, still the one before. */
  readonly project: Project | null;
  readonly sheets: ReadonlyMap<StressName, CoordinationSheet>;
  readonly whole: ReadonlySet<StressName>;
  /** Share of the points known so far that are made, of the sheet under way. */
  readonly share: number;
}

export function createCoordination(makePort: () => StudyPort) {
  const store: StoreApi<CoordinationState> = createStore<CoordinationState>()(() => ({
    working: false,
    failure: "",
    project: null,
    sheets: new Map(),
    whole: new Set(),
    share: 0,
  }));
  const { setState: set, getState: get } = store;
  let port: StudyPort | null = null;
  let asked = 0;
  let askedFor = "";
  let coming: Project | null = null;

  const listen = (message: FromStudy): void => {
    if (message.kind === "failed") set({ working: false, failure: message.words });
    if (message.kind === "coordinated" && message.id === asked) set({ working: false, share: 1 });
    if (message.kind !== "sheet" || message.id !== asked) return;
    const { sheet, done, left } = message;
    const isNew = get().project !== coming;
    const sheets = new Map(isNew ? [] : get().sheets);
    const whole = new Set(isNew ? [] : get().whole);
    sheets.set(sheet.stress, sheet);
    if (left === 0) whole.add(sheet.stress);
    set({ project: coming, sheets, whole, share: done / (done + left), failure: "" });
  };

  return {
    store,
    /** Sheets of this project, the stress that is looked at first; what was made of it before is kept. */
    ask(project: Project, first: StressName): void {
      const key = coordinationKey(project);
      const isSame = key === askedFor && get().failure === "";
      if (isSame && (get().whole.has(first) || !get().working)) return;
      if (!isSame) coming = project;
      askedFor = key;
      asked += 1;
      if (port === null) {
        port = makePort();
        port.listen(listen);
      }
      set({ working: true, failure: "" });
      const { whole } = get();
      const made = isSame ? whole : new Set<StressName>();
      const order = [first, ...STRESS_NAMES.filter((s) => s !== first && !made.has(s))];
      port.post({ kind: "coordinate", id: asked, project, order });
    },
    /** Nothing more is wanted for now. */
    rest(): void {
      if (!get().working) return;
      askedFor = "";
      asked += 1;
      set({ working: false });
      port?.post({ kind: "cancel" });
    },
  };
}
