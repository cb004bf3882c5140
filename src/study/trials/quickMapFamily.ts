/**
 * Many settings of one monitor at once, in shadow over one record: the same interpreter, and one state for all of a family
 * while none of them has picked up.
 *
 * A family shares everything but pickup, drop-off and definite delay. While all are at rest their states are equal, and what the
 * one with the nearest pickup answers without picking up is what every other would answer: a state holds no level. So only that
 * one is asked, until it picks up [tests]. An operation is noted and left as soon as its condition has gone, as a shadow monitor's is.
 */
import type { MonitorDef } from "../../project/protection";
import { type MonitorState, persists } from "../../protection/interpreter/monitorState";
import {
  type CompileContext,
  compileMonitor,
  type MonitorProgram,
} from "../../protection/interpreter/program";
import { resetMonitor, startMonitor, stepMonitor } from "../../protection/interpreter/stepMonitor";
import { roleOf } from "../../protection/protectionState";
import type { Situation } from "../../protection/situation";

/** A variant operated. */
export type NoteVariant = (id: string, atNs: number) => void;

interface Family {
  readonly programs: readonly MonitorProgram[];
  readonly nearest: MonitorProgram;
  states: MonitorState[];
  /** State of all while none is picked up; null while each has its own. */
  shared: MonitorState | null;
}

export class QuickFamilies {
  private readonly families: readonly Family[];

  constructor(
    variants: readonly MonitorDef[],
    private readonly context: CompileContext,
  ) {
    const byKind = new Map<string, MonitorDef[]>();
    for (const def of variants) {
      const key = familyOf(def);
      byKind.set(key, [...(byKind.get(key) ?? []), def]);
    }
    this.families = [...byKind.values()].map((defs): Family => {
      const programs = defs.map((def) => compileMonitor(def, context));
      const nearest = programs.reduce((a, b) => (isNearer(b, a) ? b : a));
      return {
        programs,
        nearest,
        states: programs.map(startMonitor),
        shared: startMonitor(nearest),
      };
    });
  }

  step(
    rows: readonly Float64Array[],
    n: number,
    firstIndex: number,
    situation: Situation,
    note: NoteVariant,
  ): void {
    for (const family of this.families) {
      const { scanSamples } = family.nearest;
      for (let k = 0; k < n; k++) {
        const ended = firstIndex + k + 1;
        if (ended % scanSamples !== 0) continue;
        const atNs = ended * this.context.sampleNs;
        this.scan(family, rows[k] as Float64Array, ended / scanSamples, atNs, situation, note);
      }
    }
  }

  private scan(
    family: Family,
    row: Float64Array,
    scan: number,
    atNs: number,
    situation: Situation,
    note: NoteVariant,
  ): void {
    const { programs, nearest, shared } = family;
    if (roleOf(nearest.def, situation) === "off") {
      family.shared = startMonitor(nearest);
      return;
    }
    if (shared !== null) {
      const next = stepMonitor(nearest, shared, row, scan, situation);
      if (isAtRest(next)) {
        family.shared = next;
        return;
      }
      family.shared = null;
      family.states = programs.map(() => shared);
    }
    let allRest = true;
    for (let i = 0; i < programs.length; i++) {
      const program = programs[i] as MonitorProgram;
      const before = family.states[i] as MonitorState;
      let after = stepMonitor(program, before, row, scan, situation);
      if (after.kind === "operate") {
        if (before.kind !== "operate") note(program.def.id, atNs);
        if (!persists(after)) after = resetMonitor(program, after);
      }
      family.states[i] = after;
      allRest &&= isAtRest(after) && after.kind === (family.states[0] as MonitorState).kind;
    }
    if (allRest) family.shared = family.states[0] as MonitorState;
  }
}

/** Nothing counts: such states differ in nothing but what the arming gives them all alike. */
function isAtRest(state: MonitorState): boolean {
  return (
    (state.kind === "noPickup" || state.kind === "notArmed") &&
    state.alarmSinceScan < 0 &&
    state.heldSinceScan < 0 &&
    state.criteria.every((c) => !c.picked && c.memory === 0)
  );
}

/** Everything but name, levels and delays; what remembers more than a count is a family of its own. */
function familyOf(def: MonitorDef): string {
  const { id, name: _, alarm, ...rest } = def;
  const isPlain = alarm === null && def.criteria.every((c) => c.timing.kind === "definite");
  if (!isPlain || def.criteria.length !== 1) return id;
  const criteria = def.criteria.map(({ pickup: _p, dropOff: _d, timing: _t, ...c }) => c);
  return JSON.stringify({ ...rest, criteria });
}

function isNearer(a: MonitorProgram, b: MonitorProgram): boolean {
  const x = a.criteria[0];
  const y = b.criteria[0];
  if (x === undefined || y === undefined) return false;
  return x.over ? x.operate.pickup < y.operate.pickup : x.operate.pickup > y.operate.pickup;
}
