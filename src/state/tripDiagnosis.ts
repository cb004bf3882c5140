/** Likely causes of the trips that are written down: asked of the study worker, which is started with the first question. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Project } from "../project/types";
import type { FromStudy, StudyPort } from "../shells/study/protocol";
import type { TripRecord } from "../simulation/tripMemory";
import type { Diagnosis } from "../study/diagnosis";

export interface TripDiagnosisState {
  readonly working: boolean;
  /** Why nothing can be worked out; empty while all is well. */
  readonly failure: string;
  readonly of: ReadonlyMap<TripRecord, Diagnosis>;
}

export type TripDiagnosis = ReturnType<typeof createTripDiagnosis>;

export function createTripDiagnosis(makePort: () => StudyPort) {
  const store: StoreApi<TripDiagnosisState> = createStore<TripDiagnosisState>()(() => ({
    working: false,
    failure: "",
    of: new Map(),
  }));
  let port: StudyPort | null = null;
  let asked = 0;
  let trips: readonly TripRecord[] = [];

  const listen = (message: FromStudy): void => {
    if (message.kind === "failed") store.setState({ working: false, failure: message.words });
    if (message.kind !== "diagnosis" || message.id !== asked) return;
    const found = trips.flatMap((trip, i): [TripRecord, Diagnosis][] => {
      const diagnosis = message.diagnoses[i];
      return diagnosis === undefined ? [] : [[trip, diagnosis]];
    });
    store.setState({ working: false, failure: "", of: new Map(found) });
  };

  return {
    store,
    /** Asks about these trips; a newer question takes the place of the one before. */
    ask(project: Project, about: readonly TripRecord[]): void {
      trips = about;
      asked++;
      if (about.length === 0) {
        port?.post({ kind: "cancel" });
        store.setState({ working: false, of: new Map() });
        return;
      }
      store.setState({ working: true, failure: "" });
      if (port === null) {
        port = makePort();
        port.listen(listen);
      }
      port.post({ kind: "diagnose", id: asked, project, trips: about });
    },
  };
}
