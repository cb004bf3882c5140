/**
 * The exciter's drive at the ends of many samples: the bench's own exciter, asked sample by sample while an edge, an overshoot,
 * a knob or a fault is at work; else the knob's drive times the signal's envelope squared, which is what it answers then.
 */
import { SignalEnvelope } from "../../physics/exciter/signals";
import { READING_COUNT } from "../../physics/stage/readings";
import type { FaultName } from "../../project/scenario";
import type { Project } from "../../project/types";
import { ExciterDrive } from "../../simulation/exciterDrive";
import { type Logic, RAMP_NS } from "../../simulation/logic";
import { ROW_AT } from "../../simulation/worldLayout";
import { nanoseconds } from "../../units/nanoseconds";
import { BLOCK } from "./quickMapSensing";

/** Time constants after which an overshoot is exactly forgotten, see `physics/exciter/overshoot`. */
const FORGOTTEN = 41;

const DRIVE_FAULTS: readonly FaultName[] = ["leadingEdge", "overdrive", "alcLost"];

export class QuickDrive {
  /** Available drive at the end of each sample of the block last filled, watts. */
  readonly watts = new Float64Array(BLOCK);
  private readonly exciter: ExciterDrive;
  private readonly signals = new SignalEnvelope();
  private readonly sampleNs: number;
  private readonly edgeNs: number;
  private readonly overshootNs: number;
  /** What the knob alone gives while the drive is steady, and the state it was asked in. */
  private knobW = 0;
  private knobOf: Logic | null = null;

  constructor(project: Project) {
    const { keyEdgeS, overshootDb, overshootS } = project.station.exciter;
    this.sampleNs = project.sampleNs;
    this.edgeNs = nanoseconds(keyEdgeS);
    this.overshootNs = overshootDb > 0 ? FORGOTTEN * overshootS * 1e9 : 0;
    this.exciter = new ExciterDrive(project, new Float64Array(ROW_AT + READING_COUNT));
    this.exciter.start();
  }

  /** The `n` samples that begin at `startNs`. */
  fill(logic: Logic, startNs: number, n: number): void {
    const { watts, sampleNs, signals, exciter } = this;
    if (!this.isSteady(logic, startNs)) {
      for (let k = 0; k < n; k++) watts[k] = exciter.atW(logic, startNs + (k + 1) * sampleNs, 1);
      return;
    }
    const { signal } = logic;
    if (logic !== this.knobOf) {
      this.knobOf = logic;
      this.knobW = exciter.atW({ ...logic, signal: { signal: "carrier" } }, startNs, 1);
    }
    const { knobW } = this;
    if (knobW === 0) {
      watts.fill(0, 0, n);
      return;
    }
    const sinceNs = startNs - logic.signalFromNs;
    for (let k = 0; k < n; k++) {
      const e = signals.at(signal, sinceNs + (k + 1) * sampleNs);
      watts[k] = knobW * e * e;
    }
  }

  /** Nothing but the signal changes the drive from `ns` on. */
  private isSteady({ envelope, controls, driveOnNs, faults }: Logic, ns: number): boolean {
    return (
      !faults.some((f) => DRIVE_FAULTS.includes(f.fault)) &&
      ns >= envelope.startNs + this.edgeNs &&
      ns >= controls.driveW.startNs + RAMP_NS &&
      ns >= driveOnNs + this.overshootNs
    );
  }
}
