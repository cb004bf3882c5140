/** What every part of the monitors screen may reach: the edited project, its studies, and how a value is changed. */
import { createContext, useContext } from "react";
import { useStore } from "zustand";
import { checkMeaning } from "../../../formats/meaning";
import { placeOf } from "../../../formats/problem";
import type { Criterion, QuantityName, Side, Timing } from "../../../project/protection";
import type { Project } from "../../../project/types";
import { movedDropOff } from "../../../protection/interpreter/program";
import { type Normally, timingOf, withQuantity } from "../../../state/monitorEdit";
import type { MonitorStudy, MonitorStudyState } from "../../../state/monitorStudy";
import type { StationEdit, StationEditState, StepWords } from "../../../state/stationEdit";
import { type FieldPath, kindKey, valueAt, withValue } from "../../../state/stationKinds";
import { normalRange, normalReadings } from "../../../study/normalReadings";
import type { FormPort } from "../../forms/formContext";

export interface MonitorStores {
  readonly edit: StationEdit;
  readonly study: MonitorStudy;
  /** Timings that stood under a kind that is not chosen now. */
  readonly remembered: Map<string, unknown>;
}

export const MonitorsContext = createContext<MonitorStores | null>(null);

export function useMonitors(): MonitorStores {
  const stores = useContext(MonitorsContext);
  if (stores === null) throw new Error("the monitors' stores are missing above this component");
  return stores;
}

export function useEdit<T>(select: (state: StationEditState) => T): T {
  return useStore(useMonitors().edit.store, select);
}

export function useStudy<T>(select: (state: MonitorStudyState) => T): T {
  return useStore(useMonitors().study.store, select);
}

/** Parts of a project that this screen changes; what is wrong elsewhere is not its business. */
const OURS: readonly unknown[] = ["monitors", "sensors", "actuators"];

/** What is wrong with the monitors, with place and remedy; empty where nothing is. */
function problemOf(project: Project): string {
  const found = checkMeaning(project).find(({ path }) => OURS.includes(path[0]));
  if (found === undefined) return "";
  const { message, remedy, path } = found;
  const name = path[0] === "monitors" ? project.monitors[Number(path[1])]?.name : placeOf(path);
  return `${name ?? placeOf(path)}: ${message}; ${remedy}.`;
}

/** Another project as one step; answers why not, or an empty text when it is done. */
export function setProject(
  edit: StationEdit,
  next: Project,
  words: StepWords,
  gesture = "",
): string {
  const problem = problemOf(next);
  if (problem === "") edit.changeProject(next, words, gesture);
  return problem;
}

/** Normal use of a quantity by the sensors as they are edited. */
export function normallyOf(stores: MonitorStores, quantity: QuantityName): Normally | null {
  const { bands } = stores.study.store.getState();
  const { sensors } = stores.edit.store.getState().project;
  const range = normalRange(normalReadings(bands, quantity, sensors));
  return range === null ? null : { least: range.least.value, most: range.most.value };
}

/** The criterion a gesture began with: a pickup typed digit by digit must not carry its drop-off through every one. */
interface Origin {
  readonly place: string;
  readonly criterion: Criterion;
}

/** What the fields of monitors, sensors and actuators reach. */
export function monitorsPort(stores: MonitorStores): FormPort {
  const { edit, remembered } = stores;
  const project = (): Project => edit.store.getState().project;
  let origin: Origin | null = null;
  const endGesture = (): void => {
    origin = null;
    edit.endGesture();
  };

  /** A quantity or side of a criterion brings a pickup that fits it, a pickup takes its drop-off along. */
  function withField(path: FieldPath, value: unknown): Project {
    const [part, , list, , name] = path;
    const isCriterion = part === "monitors" && list === "criteria" && path.length === 5;
    if (!isCriterion) return withValue(project(), path, value);
    const at = path.slice(0, 4);
    const place = path.join(".");
    const now = valueAt(project(), at) as Criterion;
    if (name === "quantity" || name === "side") {
      const quantity = name === "quantity" ? (value as QuantityName) : now.quantity;
      const side = name === "side" ? (value as Side) : now.side;
      const next = withQuantity(now, quantity, side, normallyOf(stores, quantity));
      return withValue(project(), at, next);
    }
    if (name !== "pickup") return withValue(project(), path, value);
    if (origin?.place !== place) origin = { place, criterion: now };
    const pickup = value as number;
    const dropOff = movedDropOff(origin.criterion, pickup);
    return withValue(project(), at, { ...now, pickup, dropOff });
  }

  return {
    edit: { store: edit.store, endGesture },
    root: project,
    set: (path, value, words, gesture) => {
      if (path.at(-1) !== "pickup") origin = null;
      return setProject(edit, withField(path, value), words, gesture);
    },
    setKind: (path, kind, words, start) => {
      const before = valueAt(start, path) as Timing;
      const known = remembered.get(kindKey(path, kind)) as Timing | undefined;
      const next =
        kind === before.kind ? before : (known ?? timingOf(kind as Timing["kind"], before));
      const whole = withValue(start as Project, path, next);
      const problem = setProject(edit, whole, words, `${path.join(".")}.kind`);
      if (problem === "") remembered.set(kindKey(path, before.kind), before);
      return problem;
    },
  };
}
