/**
 * Carries a bench over a time in which its stage stands still. Once every reading has stayed what it is and nothing waits to
 * happen, the circuit need not be solved again: only heat, sensors and monitors go on, in steps of 10 ms
 * and later of 100 ms, by the bench's own modules. One step before anything happens (a mark of damage, an operation) the bench is put at that instant and goes on
 * sample by sample.
 *
 * Standing still: settled solver in charge, no reading moves by more than 1e-5 of its size from look to look for as long as
 * the slowest smoothing needs. What that leaves out is under a thousandth of any time to damage. In between, noise is drawn
 * once a step, and marks that change nothing (pickups, alarms) are not logged.
 */

import { READING, READING_COUNT } from "../../physics/stage/readings";
import { FAULTS } from "../../project/faults";
import type { MonitorState } from "../../protection/interpreter/monitorState";
import type { MonitorProgram } from "../../protection/interpreter/program";
import { stepMonitor } from "../../protection/interpreter/stepMonitor";
import { roleOf } from "../../protection/protectionState";
import type { Situation } from "../../protection/situation";
import type { Bench } from "../../simulation/bench";
import { fillSurroundings } from "../../simulation/compartment";
import type { PlacedFault } from "../../simulation/logic";
import { presenceOf } from "../../simulation/presence";
import { healthySensors, isScanning, sensorFaultsAt } from "../../simulation/sensorFaults";
import { MODE_AT, ROW_AT, SENSING_AT, sensedRowAt } from "../../simulation/worldLayout";
import { heatOf } from "./runCaseHeat";
import type { Steps } from "./steps";

const STEP_NS = 10_000_000;
/** Parts that only get warm, after this long. */
const LONG_STEP_NS = 100_000_000;
const LONG_AFTER_NS = 3_000_000_000;
/** Steps between two pauses. */
const PAUSE_STEPS = 50;
/** What comes at once has come by then: contacts have parted, arcs of a switch are out. */
const SINCE_PLACED_NS = 50_000_000;
/** Time constants of the slowest smoothing a reading is given to settle in. */
const SMOOTHINGS = 10;
const STILL = 1e-5;
/** What is smaller than this is nothing beside the others: watts, volts and amperes alike. */
const FLOOR = 0.1;

/** Says whether a bench stands still; asked at every look, in order. */
export class StillWatch {
  private readonly last = new Float64Array(READING_COUNT);
  private sinceNs = Infinity;
  private readonly waitNs: number;

  constructor(private readonly bench: Bench) {
    const slowestS = Math.max(0, ...bench.system.programs.map((p) => p.def.smoothingS));
    this.waitNs = SMOOTHINGS * slowestS * 1e9;
  }

  isStill(): boolean {
    const { bench, last } = this;
    const { buffer, timeNs } = bench;
    let isSame = buffer[MODE_AT] === 0;
    for (let i = 0; i < READING_COUNT; i++) {
      const was = last[i] as number;
      const now = buffer[ROW_AT + i] as number;
      isSame &&= Math.abs(now - was) <= STILL * Math.max(Math.abs(was), FLOOR);
      last[i] = now;
    }
    this.sinceNs = isSame ? Math.min(this.sinceNs, timeNs) : Infinity;
    return timeNs - this.sinceNs >= this.waitNs && nothingWaits(bench);
  }
}

/** Nothing is planned, on its way, or moves with time. */
function nothingWaits(bench: Bench): boolean {
  const { logic, timeNs, entries, protection, system, inhibited, buffer } = bench;
  return (
    logic.signal.signal === "carrier" &&
    logic.relayWaitSinceNs === null &&
    // the sums of what a short lets through are kept sample by sample
    (inhibited || buffer[ROW_AT + READING.supplyFaultA] === 0) &&
    // a latch that lets go by itself does so at its time
    protection.latches.every(
      ({ kind }, i) => kind !== "trip" || system.programs[i]?.def.reset.kind !== "self",
    ) &&
    entries.every((e) => e.atNs < timeNs) &&
    logic.faults.every((f) => standsStill(f, timeNs)) &&
    bench.snapshot().queue.length === 0
  );
}

function standsStill(f: PlacedFault, ns: number): boolean {
  const { onset, fault, placedNs } = f;
  if (fault === "sway" || fault === "gust") return false;
  if (ns - placedNs < SINCE_PLACED_NS) return false;
  switch (onset.kind) {
    case "sudden":
      return FAULTS[fault].begins !== "withDrive" || f.began;
    case "growing":
      return presenceOf(f, ns) >= 1;
    case "passing":
      return presenceOf(f, ns) === 0;
    case "intermittent":
      return false;
  }
}

interface Reached {
  readonly timeNs: number;
  readonly buffer: Float64Array;
  readonly monitors: readonly MonitorState[];
}

/** A bench that stands still goes to `untilNs`, or to one step before something happens. */
export function* coast(bench: Bench, untilNs: number): Steps<void> {
  const { logic, sensing } = bench;
  const from = bench.snapshot();
  const heat = heatOf(bench);
  const faults = healthySensors();
  const rowAt = sensedRowAt(sensing.stateLength);
  const isBurning = logic.arcSinceNs.some((ns) => ns >= 0);
  let good: Reached = { ...from, monitors: from.protection.monitors };
  let spare: Float64Array = from.buffer.slice();
  let longNs = isBurning ? STEP_NS : LONG_STEP_NS;
  let steps = 0;
  while (good.timeNs + STEP_NS <= untilNs) {
    if (++steps % PAUSE_STEPS === 0) yield;
    const isLate = good.timeNs - from.timeNs >= LONG_AFTER_NS && good.timeNs + longNs <= untilNs;
    const stepNs = isLate ? longNs : STEP_NS;
    const endNs = good.timeNs + stepNs;
    const buffer = spare;
    buffer.set(good.buffer);
    const isMarked = heat(buffer, stepNs);
    const row = buffer.subarray(rowAt, rowAt + sensing.rowLength);
    sensing.advanceSegment(buffer, SENSING_AT, stepNs * 1e-9, meansOf(bench, buffer));
    sensing.endSample(buffer, SENSING_AT, row, sensorFaultsAt(logic, endNs, faults));
    const monitors = isScanning(logic, endNs)
      ? watch(bench, good.monitors, row, good.timeNs, endNs)
      : good.monitors;
    if (isMarked || monitors === null) {
      if (stepNs === STEP_NS) break;
      longNs = STEP_NS; // comes nearer in short steps
      continue;
    }
    spare = good.buffer;
    good = { timeNs: endNs, buffer, monitors };
  }
  if (good.timeNs === from.timeNs) return;
  bench.restore({
    ...from,
    timeNs: good.timeNs,
    buffer: good.buffer,
    protection: { ...from.protection, monitors: good.monitors },
  });
}

/** What the sensors see with the stage as it stands and the air as it has become. */
function meansOf(bench: Bench, buffer: Float64Array): Float64Array {
  const { sums, damage, logic } = bench;
  const row = buffer.subarray(ROW_AT, ROW_AT + READING_COUNT);
  fillSurroundings(sums.means, row, row, damage.exhaustAirK(buffer), logic.power.lidClosed);
  return sums.means;
}

/** Every monitor over one step with the same readings; null when one operates or lets go. */
function watch(
  bench: Bench,
  before: readonly MonitorState[],
  row: Float64Array,
  fromNs: number,
  toNs: number,
): readonly MonitorState[] | null {
  const situation = bench.situation();
  const { programs } = bench.system;
  let after: MonitorState[] | null = null;
  for (let i = 0; i < programs.length; i++) {
    const program = programs[i] as MonitorProgram;
    const state = before[i] as MonitorState;
    // the comparator's own path has seen this current already
    if (roleOf(program.def, situation) === "off" || program.def.path === "comparator") continue;
    const next = watchOne(program, state, row, fromNs, toNs, situation);
    if (next === state) continue;
    if ((next.kind === "operate") !== (state.kind === "operate")) return null;
    after ??= before.slice();
    after[i] = next;
  }
  return after ?? before;
}

/** What adds up scan by scan is given every scan; all else only the last. */
function watchOne(
  program: MonitorProgram,
  before: MonitorState,
  row: Float64Array,
  fromNs: number,
  toNs: number,
  situation: Situation,
): MonitorState {
  const { scanNs, criteria } = program;
  const last = Math.floor(toNs / scanNs);
  const addsUp = criteria.some(({ timing: { kind } }) => kind === "thermal" || kind === "inverse");
  const first = addsUp ? Math.floor(fromNs / scanNs) + 1 : last;
  let state = before;
  if (last === Math.floor(fromNs / scanNs)) return state;
  for (let scan = first; scan <= last; scan++) {
    state = stepMonitor(program, state, row, scan, situation);
  }
  return state;
}
