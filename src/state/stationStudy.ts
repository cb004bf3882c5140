/** What the studies of the edited station have found so far: the newest answer of each kind, and how it stands. */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Station } from "../project/station";
import type {
  BandResult,
  CircleResult,
  DriveResult,
  FromStudy,
  Here,
  StudyPort,
} from "../shells/study/protocol";
import type { LinePoint, TubeCurve } from "../study/loadLine";
import type { HeldValues, TubeFit } from "../study/tubeFit";
import type { TubePoint } from "../study/tubePoints";

export interface StationStudyState {
  /** Number of the study asked for last, and of the one the working point belongs to. */
  readonly asked: number;
  readonly shown: number;
  readonly working: boolean;
  /** Why nothing can be worked out any more; empty while all is well. */
  readonly failure: string;
  readonly here: Here | null;
  readonly bands: readonly BandResult[];
  readonly line: readonly LinePoint[];
  readonly curves: readonly TubeCurve[];
  readonly drive: readonly DriveResult[];
  readonly circle: readonly CircleResult[];
  /** Drive the bands belong to, drive the sweep is about, SWR of the circle: of what is shown, not of what is asked. */
  readonly bandsDriveW: number;
  readonly sweepDriveW: number;
  readonly swr: number;
  readonly fit: TubeFit | null;
  readonly isFitting: boolean;
}

export type StationStudy = ReturnType<typeof createStationStudy>;

export function createStationStudy(port: StudyPort) {
  const store: StoreApi<StationStudyState> = createStore<StationStudyState>()(() => ({
    asked: 0,
    shown: 0,
    working: false,
    failure: "",
    here: null,
    bands: [],
    line: [],
    curves: [],
    drive: [],
    circle: [],
    bandsDriveW: 0,
    sweepDriveW: 0,
    swr: 2,
    fit: null,
    isFitting: false,
  }));
  const { setState: set, getState: get } = store;
  let fitId = 0;
  let rows: BandResult[] = [];
  let request = { driveW: 0, swr: 2 };

  port.listen((message: FromStudy) => {
    if (message.kind === "failed") {
      set({ failure: message.words, working: false, isFitting: false });
      return;
    }
    if (message.kind === "fit") {
      if (message.id === fitId) set({ fit: message.fit, isFitting: false });
      return;
    }
    if (message.id !== get().asked) return; // of a study that was overtaken
    switch (message.kind) {
      case "here":
        rows = [];
        set({ here: message.here, shown: message.id });
        return;
      case "band":
        rows[message.index] = message.row;
        // the table is shown whole
        if (message.index === message.of - 1) set({ bands: rows, bandsDriveW: request.driveW });
        return;
      case "line":
        set({ line: message.line, curves: message.curves });
        return;
      case "drive":
        set({ drive: message.rows, sweepDriveW: request.driveW });
        return;
      case "circle":
        set({ circle: message.rows, swr: request.swr });
        return;
      case "done":
        set({ working: false });
        return;
    }
  });

  return {
    store,
    /** Works everything out anew; what was under way is given up. */
    ask(station: Station, driveW: number, swr: number): number {
      const id = get().asked + 1;
      request = { driveW, swr };
      set({ asked: id, working: true });
      port.post({ kind: "study", id, station, driveW, swr });
      return id;
    },
    cancel(): void {
      set({ working: false });
      port.post({ kind: "cancel" });
    },
    fit(points: readonly TubePoint[], held: HeldValues): void {
      fitId += 1;
      set({ isFitting: true });
      port.post({ kind: "fit", id: fitId, points, held });
    },
    forgetFit: () => set({ fit: null }),
    close: () => port.close(),
  };
}
