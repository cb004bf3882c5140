/**
 * Settings by name, for sweeps and for advice: `lowGain.pickup`, or `overdrive.2.pickup` for a monitor's second criterion. Fields:
 * pickup, dropOff, confirmation, smoothing, scan; SI units. A new pickup takes its drop-off along, as a live change does.
 *
 * Beside the project's monitors a sweep knows two more, made from the project's low gain; figures are what is asked, not advice:
 *   deepGain   a second low-gain stage, 6 dB for 0.3 ms, scanned every 0.1 ms on detectors without smoothing
 *   gainFloor  an absolute floor of 12 dB of forward gain (common practice, no source) for 2 ms, without smoothing
 */
import type { Criterion, MonitorDef } from "../../project/protection";
import type { MonitorChange, ScenarioEntry } from "../../project/scenario";
import type { Project } from "../../project/types";
import { movedDropOff } from "../../protection/interpreter/program";

const FIELDS = ["pickup", "dropOff", "confirmation", "smoothing", "scan"] as const;
type Field = (typeof FIELDS)[number];

export interface Setting {
  readonly path: string;
  readonly value: number;
}

export interface SettingPath {
  readonly monitor: string;
  readonly criterion: number;
  readonly field: Field;
}

export type PathRead =
  | { readonly ok: true; readonly path: SettingPath }
  | { readonly ok: false; readonly problem: string };

/** The project's monitors and the two more. */
export function sweptMonitors(project: Project): readonly MonitorDef[] {
  const lowGain = project.monitors.find((m) => m.id === "lowGain");
  const first = lowGain?.criteria[0];
  if (lowGain === undefined || first === undefined) return project.monitors;
  const stage = (
    id: string,
    name: string,
    scanS: number,
    change: Partial<Criterion>,
  ): MonitorDef => ({
    ...lowGain,
    id,
    name,
    scanS,
    smoothingS: 0,
    alarm: null,
    criteria: [{ ...first, ...change }],
  });
  const known = new Set(project.monitors.map((m) => m.id));
  const more = [
    stage("deepGain", "Low gain, deep and fast", 0.1e-3, {
      pickup: -6,
      dropOff: -5.5,
      timing: { kind: "definite", delayS: 0.3e-3 },
    }),
    stage("gainFloor", "Low gain, absolute floor", lowGain.scanS, {
      quantity: "forwardGainDb",
      pickup: 12,
      dropOff: 12.5,
      timing: { kind: "definite", delayS: 2e-3 },
    }),
  ];
  return [...project.monitors, ...more.filter((m) => !known.has(m.id))];
}

/** Reads a setting's name against the monitors there are. */
export function readPath(monitors: readonly MonitorDef[], text: string): PathRead {
  const parts = text.split(".");
  const [id = "", ...rest] = parts;
  const def = monitors.find((m) => m.id === id);
  if (def === undefined)
    return {
      ok: false,
      problem: `${text}: there is no monitor ${id}; there are ${monitors.map((m) => m.id).join(", ")}`,
    };
  const field = FIELDS.find((f) => f === rest[rest.length - 1]);
  if (field === undefined || rest.length > 2)
    return { ok: false, problem: `${text}: a setting is MONITOR.FIELD, with ${FIELDS.join(", ")}` };
  const criterion = rest.length === 2 ? Number(rest[0]) - 1 : 0;
  const found = Number.isInteger(criterion) ? def.criteria[criterion] : undefined;
  if (found === undefined)
    return {
      ok: false,
      problem: `${text}: ${id} has ${def.criteria.length} criteria, counted from 1`,
    };
  if (field === "confirmation" && found.timing.kind !== "definite")
    return { ok: false, problem: `${text}: only definite time has a confirmation` };
  return { ok: true, path: { monitor: id, criterion, field } };
}

/** A monitor with one setting changed. */
export function withSetting(def: MonitorDef, path: SettingPath, value: number): MonitorDef {
  switch (path.field) {
    case "smoothing":
      return { ...def, smoothingS: value };
    case "scan":
      return { ...def, scanS: value };
    default: {
      const criteria = def.criteria.map((c, i) =>
        i === path.criterion ? changedCriterion(c, path.field, value) : c,
      );
      return { ...def, criteria };
    }
  }
}

function changedCriterion(c: Criterion, field: Field, value: number): Criterion {
  if (field === "pickup") return { ...c, pickup: value, dropOff: movedDropOff(c, value) };
  if (field === "dropOff") return { ...c, dropOff: value };
  return { ...c, timing: { kind: "definite", delayS: value } };
}

/** What settings mean for a project: changes that can be made while it runs, and in words what cannot. */
export interface Application {
  readonly changes: readonly ScenarioEntry[];
  readonly byHand: readonly string[];
}

/** Settings as changes of the project's own monitors at `atS`. */
export function applySettings(
  project: Project,
  settings: readonly Setting[],
  atS = 0,
): Application {
  const changes: ScenarioEntry[] = [];
  const byHand: string[] = [];
  for (const { path: text, value } of settings) {
    const read = readPath(project.monitors, text);
    const change = read.ok ? liveChange(read.path, value) : null;
    if (!read.ok) byHand.push(`${read.problem}: add it first`);
    else if (change === null) byHand.push(`set ${text} to ${value} in the project`);
    else changes.push({ atS, do: "configureMonitor", monitor: read.path.monitor, change });
  }
  return { changes, byHand };
}

function liveChange({ criterion, field }: SettingPath, value: number): MonitorChange | null {
  if (field === "pickup") return { criterion, pickup: value };
  if (field === "confirmation") return { criterion, delayS: value };
  return null;
}

/** What a setting is now; NaN for a confirmation that is none. */
export function settingNow(def: MonitorDef, { criterion, field }: SettingPath): number {
  const c = def.criteria[criterion];
  if (field === "smoothing") return def.smoothingS;
  if (field === "scan") return def.scanS;
  if (c === undefined) return Number.NaN;
  if (field === "pickup") return c.pickup;
  if (field === "dropOff") return c.dropOff;
  return c.timing.kind === "definite" ? c.timing.delayS : Number.NaN;
}
