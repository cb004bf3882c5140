/**
 * What switches, marks and lists show of a world: plain data that changes on events only. The numbers that
 * move are in the frame.
 */
import { ARC_COUNT, ARC_PLACES } from "../../physics/stage/layout";
import type { MonitorDef, MonitorRole } from "../../project/protection";
import type { ControlName, Signal } from "../../project/scenario";
import type { ArcPlace } from "../../project/station";
import type { ActuatorFailures } from "../../protection/actuators/schedule";
import type { Latch } from "../../protection/latch";
import { type FirstUp, roleOf } from "../../protection/protectionState";
import { type StateWord, stateWord } from "../../protection/stateWord";
import type { FaultZero, Logic, PlacedFault, Power } from "../../simulation/logic";
import type { Standing } from "../../simulation/moments";
import { situationOf } from "../../simulation/situationOf";
import type { TripMemory } from "../../simulation/tripMemory";

export interface MonitorView {
  readonly id: string;
  readonly role: MonitorRole;
  readonly word: StateWord;
  readonly acknowledged: boolean;
  readonly firstUp: boolean;
}

export interface WorldView {
  readonly operate: boolean;
  readonly mode: "operate" | "tune";
  readonly keyDown: boolean;
  readonly phase: Logic["sequence"]["phase"];
  /** Where the knobs are going; where they are is in the frame. */
  readonly targets: Readonly<Record<ControlName, number>>;
  /** What the exciter sends while the key is down. */
  readonly signal: Signal;
  readonly driveInhibited: boolean;
  readonly cathodeCut: boolean;
  readonly contactorOpen: boolean;
  readonly power: Power;
  readonly fuseOpen: boolean;
  readonly antennaClosed: boolean;
  readonly faults: readonly PlacedFault[];
  readonly failures: ActuatorFailures;
  readonly burning: readonly ArcPlace[];
  /** Metal lies across the gap, a dead short until it is mended. */
  readonly bridged: readonly ArcPlace[];
  readonly zero: FaultZero | null;
  readonly cleared: boolean;
  readonly monitors: readonly MonitorView[];
  readonly firstUp: FirstUp | null;
  readonly memory: TripMemory;
  /** Monitors as they are set now, live edits included. */
  readonly settings: readonly MonitorDef[];
}

/** The parts of a world that are not numbers. */
export type WorldParts = Standing;

/** What a page shows of a world; compared by value where nothing else tells that it changed. */
export function viewWorld({ logic, system, protection }: WorldParts): WorldView {
  const situation = situationOf(logic, false);
  const { controls: c } = logic;
  const burning: ArcPlace[] = [];
  for (let a = 0; a < ARC_COUNT; a++)
    if ((logic.arcSinceNs[a] as number) >= 0) burning.push(ARC_PLACES[a] as ArcPlace);
  return {
    operate: logic.operate,
    mode: logic.mode,
    keyDown: logic.keyDown,
    phase: logic.sequence.phase,
    targets: {
      driveW: c.driveW.to,
      tuningRatio: c.tuningRatio.to,
      loadingRatio: c.loadingRatio.to,
      loadSwr: c.loadSwr.to,
      loadPhaseRad: c.loadPhaseRad.to,
    },
    signal: logic.signal,
    driveInhibited: logic.driveInhibited,
    cathodeCut: logic.cathodeCut,
    contactorOpen: logic.contactorOpen,
    power: logic.power,
    fuseOpen: logic.fuseOpen,
    antennaClosed: logic.sequence.antennaClosed,
    faults: logic.faults,
    failures: logic.failures,
    burning,
    bridged: ARC_PLACES.filter((_, a) => (logic.bridgedSinceNs[a] as number) >= 0),
    zero: logic.zero,
    cleared: logic.cleared,
    monitors: system.programs.map(({ def }, i) => {
      const latch = protection.latches[i] as Latch;
      const state = protection.monitors[i] as (typeof protection.monitors)[number];
      return {
        id: def.id,
        role: roleOf(def, situation),
        word: stateWord(def, state, latch, situation),
        acknowledged: latch.kind !== "free" && latch.acknowledged,
        firstUp: protection.firstUp?.monitorId === def.id,
      };
    }),
    firstUp: protection.firstUp,
    memory: logic.memory,
    settings: system.programs.map((p) => p.def),
  };
}

/** True where a page would show the same: compares what changes without an event of its own. */
export function sameMonitors(a: WorldView, b: WorldView): boolean {
  return (
    a.monitors.length === b.monitors.length &&
    a.monitors.every((m, i) => {
      const o = b.monitors[i] as MonitorView;
      return m.word === o.word && m.role === o.role && m.acknowledged === o.acknowledged;
    })
  );
}
