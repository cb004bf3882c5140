/** What every part of the station screen may reach: the edited project, its studies, and how a field is changed. */
import { createContext, useContext } from "react";
import { useStore } from "zustand";
import { checkStation } from "../../../formats/meaningStation";
import type { Station } from "../../../project/station";
import type { StationEdit, StationEditState, StepWords } from "../../../state/stationEdit";
import {
  type FieldPath,
  kindKey,
  type Remembered,
  valueAt,
  withKind,
  withValue,
} from "../../../state/stationKinds";
import type { StationStudy, StationStudyState } from "../../../state/stationStudy";
import type { FormPort } from "../../forms/formContext";

export interface StationStores {
  readonly edit: StationEdit;
  readonly study: StationStudy;
  /** What stood under a kind that is not chosen now. */
  readonly remembered: Map<string, unknown>;
}

export const StationContext = createContext<StationStores | null>(null);

export function useStation(): StationStores {
  const stores = useContext(StationContext);
  if (stores === null) throw new Error("the station's stores are missing above this component");
  return stores;
}

export function useEdit<T>(select: (state: StationEditState) => T): T {
  return useStore(useStation().edit.store, select);
}

export function useStudy<T>(select: (state: StationStudyState) => T): T {
  return useStore(useStation().study.store, select);
}

/** What is wrong with a station as a whole, with the remedy; empty where nothing is. */
export function problemOf(station: Station): string {
  const [found] = checkStation(station);
  if (found === undefined) return "";
  const { message, remedy } = found;
  return `${message.charAt(0).toUpperCase()}${message.slice(1)}: ${remedy}.`;
}

/** Changes one value; answers why not, or an empty text when it is done. */
export function setField(
  { edit }: StationStores,
  path: FieldPath,
  value: unknown,
  words: StepWords,
  gesture: string,
): string {
  const next = withValue(edit.store.getState().project.station, path, value);
  return setStation(edit, next, words, gesture);
}

/** Another station as one step; answers why not. */
export function setStation(
  edit: StationEdit,
  next: Station,
  words: StepWords,
  gesture = "",
): string {
  const problem = problemOf(next);
  if (problem === "") edit.change(next, words, gesture);
  return problem;
}

/**
 * Another kind of a part, worked out from `origin`, the station as it was when the choice was begun: arrow keys pass
 * through other kinds on their way, and leave nothing of them. What stood there is remembered.
 */
export function setKind(
  { edit, remembered }: StationStores,
  path: FieldPath,
  kind: string,
  words: StepWords,
  origin: Station,
): string {
  const before = valueAt(origin, path);
  const own = String(valueAt(before, ["kind"]));
  const next = kind === own ? origin : withKind(origin, path, kind, remembered as Remembered);
  const problem = setStation(edit, next, words, `${path.join(".")}.kind`);
  if (problem === "") remembered.set(kindKey(path, own), before);
  return problem;
}

/** What the fields of the station's form reach. */
export function formPort(stores: StationStores): FormPort {
  const { edit } = stores;
  return {
    edit,
    root: () => edit.store.getState().project.station,
    set: (path, value, words, gesture) => setField(stores, path, value, words, gesture),
    setKind: (path, kind, words, origin) => setKind(stores, path, kind, words, origin as Station),
  };
}
