/**
 * Changes to a project's monitors, as pure functions: added, copied, taken away, another quantity or kind of timing, each
 * so that what comes out is a monitor that works.
 */
import { DEFAULT_MONITORS } from "../project/presets/monitors";
import type { Criterion, MonitorDef, QuantityName, Side, Timing } from "../project/protection";
import type { Command, MonitorChange } from "../project/scenario";
import type { Project } from "../project/types";
import { defaultDropOff } from "../protection/interpreter/program";
import { changedDefinition } from "../protection/liveEdit";
import { isSame } from "./stationEdit";

/** A short name no monitor has yet: `gridFast2`. */
function freeId(monitors: readonly MonitorDef[], wanted: string): string {
  const stem = wanted.replace(/\d+$/, "");
  const taken = new Set(monitors.map((m) => m.id));
  if (!taken.has(wanted)) return wanted;
  for (let n = 2; ; n++) if (!taken.has(`${stem}${n}`)) return `${stem}${n}`;
}

function freeName(monitors: readonly MonitorDef[], wanted: string): string {
  const stem = wanted.replace(/ \d+$/, "");
  const taken = new Set(monitors.map((m) => m.name));
  if (!taken.has(wanted)) return wanted;
  for (let n = 2; ; n++) if (!taken.has(`${stem} ${n}`)) return `${stem} ${n}`.slice(0, 100);
}

/** Where a monitor was put, and the monitors with it. */
export interface Placed {
  readonly monitors: readonly MonitorDef[];
  readonly index: number;
}

/** A copy right behind its original; it only watches, so that nothing acts twice unasked. */
export function withCopy(monitors: readonly MonitorDef[], index: number): Placed | null {
  const original = monitors[index];
  if (original === undefined) return null;
  const copy: MonitorDef = {
    ...original,
    id: freeId(monitors, `${original.id}2`),
    name: freeName(monitors, `${original.name} 2`),
    role: "shadow",
    tuneRole: original.tuneRole === "off" ? "off" : "shadow",
  };
  return { monitors: monitors.toSpliced(index + 1, 0, copy), index: index + 1 };
}

/** A new monitor at the end: plate current, in shadow, with a level to be set. */
export function withNew(monitors: readonly MonitorDef[]): Placed {
  const plain = DEFAULT_MONITORS.find((m) => m.id === "plateTimed") as MonitorDef;
  const added: MonitorDef = {
    ...plain,
    id: freeId(monitors, "own1"),
    name: freeName(monitors, "Own monitor"),
    deviceNumber: "",
    role: "shadow",
    tuneRole: "shadow",
    alarm: null,
  };
  return { monitors: [...monitors, added], index: monitors.length };
}

/** Why a monitor cannot be taken away; empty where it can. */
export function whyKept({ monitors, scenario }: Project, index: number): string {
  const id = monitors[index]?.id;
  const entry = scenario.find((e) => e.do === "configureMonitor" && e.monitor === id);
  if (entry === undefined) return "";
  return `The scenario changes this monitor at ${entry.atS} s: set it to off instead, or take that entry out of the file.`;
}

/** Least and greatest of a quantity in normal use. */
export interface Normally {
  readonly least: number;
  readonly most: number;
}

/** Room between normal use and a first pickup: a quarter, or 2 dB. */
const ROOM = 0.25;
const ROOM_DB = 2;

/** A pickup on the far side of normal use, to two figures; where nothing is known, the one there was. */
function firstPickup(quantity: QuantityName, side: Side, normal: Normally | null): number | null {
  if (normal === null) return null;
  const { least, most } = normal;
  const edge = side === "over" ? most : least;
  const away = side === "over" ? 1 : -1;
  if (quantity.endsWith("Db")) return Number((edge + away * ROOM_DB).toFixed(1));
  if (edge === 0) return side === "over" ? 0.1 : 0;
  return Number((edge * (1 + away * ROOM)).toPrecision(2));
}

/** The criterion on another quantity or side, with a pickup and drop-off that fit it. */
export function withQuantity(
  criterion: Criterion,
  quantity: QuantityName,
  side: Side,
  normal: Normally | null,
): Criterion {
  if (criterion.quantity === quantity && criterion.side === side) return criterion;
  const { tunePickup: _, ...kept } = criterion;
  const pickup = firstPickup(quantity, side, normal) ?? criterion.pickup;
  return { ...kept, quantity, side, pickup, dropOff: defaultDropOff(quantity, side, pickup) };
}

/** A timing of another kind, as long as the one before where that has a length. */
export function timingOf(kind: Timing["kind"], before: Timing): Timing {
  if (before.kind === kind) return before;
  switch (kind) {
    case "instantaneous":
      return { kind, scans: 3, ofScans: 4 };
    case "definite":
      return { kind, delayS: 0.01 };
    case "inverse":
      return { kind, curve: "iecA", timeMultiplier: 0.1 };
    case "thermal":
      return { kind, timeConstantS: 15 };
  }
}

/** A further criterion: the last one again, on the same quantity. */
export function withCriterion(def: MonitorDef): MonitorDef {
  const last = def.criteria.at(-1);
  return last === undefined ? def : { ...def, criteria: [...def.criteria, last] };
}

/**
 * What has to be said to a running bench so that it has the edited settings; null where it has to begin anew. `live` are
 * the monitors as they are set on it now.
 */
export function liveChanges(
  running: Project,
  live: readonly MonitorDef[],
  edited: Project,
): readonly Command[] | null {
  const isOtherwiseSame = isSame({ ...running, monitors: edited.monitors }, edited);
  if (!isOtherwiseSame || live.length !== edited.monitors.length) return null;
  const commands: Command[] = [];
  for (const [index, wanted] of edited.monitors.entries()) {
    let now = live[index] as MonitorDef;
    if (now.id !== wanted.id || now.criteria.length !== wanted.criteria.length) return null;
    for (const change of changesOf(now, wanted)) {
      const changed = changedDefinition(now, change);
      if (!changed.ok) return null;
      now = changed.def;
      commands.push({ do: "configureMonitor", monitor: wanted.id, change });
    }
    if (!isSame({ ...edited, monitors: [now] }, { ...edited, monitors: [wanted] })) return null;
  }
  return commands;
}

function changesOf(now: MonitorDef, wanted: MonitorDef): readonly MonitorChange[] {
  const changes: MonitorChange[] = now.role === wanted.role ? [] : [{ role: wanted.role }];
  for (const [criterion, own] of now.criteria.entries()) {
    const next = wanted.criteria[criterion] as Criterion;
    if (next.pickup !== own.pickup) changes.push({ criterion, pickup: next.pickup });
    if (JSON.stringify(next.timing) !== JSON.stringify(own.timing)) {
      changes.push({ criterion, timing: next.timing });
    }
  }
  return changes;
}
