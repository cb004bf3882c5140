/**
 * The exciter as the stage meets it: knob, key edge, signal, overshoot and level control make the available drive of an
 * instant. Level control is the only part with a memory; its reduction stands in the world's buffer and is stepped once a
 * sample, from what the stage shows at the sample's end. Inside a sample its factor goes in a straight line from the
 * reduction of the sample before to that one, so that the drive never jumps; this delays it by one sample.
 */
import { type AlcLaw, alcLaw, nextReductionDb, reductionFactor } from "../physics/exciter/alc";
import { overshootFactor } from "../physics/exciter/overshoot";
import { SignalEnvelope } from "../physics/exciter/signals";
import { READING } from "../physics/stage/readings";
import type { Project } from "../project/types";
import { nanoseconds } from "../units/nanoseconds";
import { availableDriveW, envelopeAt, levelControlHolds, overshootDbAt } from "./faultEffects";
import type { Logic } from "./logic";
import { EXCITER_AT, ROW_AT } from "./worldLayout";

/** Words from EXCITER_AT on: the reduction now, and the voltage factors at the sample's ends. */
const REDUCTION_DB = EXCITER_AT;
const FACTOR_FROM = EXCITER_AT + 1;
const FACTOR_TO = EXCITER_AT + 2;

export class ExciterDrive {
  private readonly signals = new SignalEnvelope();
  private readonly law: AlcLaw | null;
  private readonly reading: number;
  private readonly edgeNs: number;
  private readonly overshootDb: number;
  private readonly overshootS: number;

  constructor(
    project: Project,
    private readonly buffer: Float64Array,
  ) {
    const { alc, keyEdgeS, overshootDb, overshootS } = project.station.exciter;
    this.law = alcLaw(alc, project.sampleNs * 1e-9);
    this.reading = ROW_AT + (alc.kind === "grid" ? READING.gridCurrentA : READING.forwardW);
    this.edgeNs = nanoseconds(keyEdgeS);
    this.overshootDb = overshootDb;
    this.overshootS = overshootS;
  }

  /** No reduction yet. */
  start(): void {
    this.buffer[FACTOR_FROM] = 1;
    this.buffer[FACTOR_TO] = 1;
  }

  /** Drive that reaches the input circuit at `ns`, `part` of the way through its sample; none while inhibited. */
  atW(logic: Logic, ns: number, part: number): number {
    if (logic.driveInhibited) return 0;
    const edge = envelopeAt(logic, this.edgeNs, ns);
    if (edge === 0) return 0;
    const e = edge * this.signals.at(logic.signal, ns - logic.signalFromNs);
    const watts = availableDriveW(logic, ns) * e * e;
    const sinceS = (ns - logic.driveOnNs) * 1e-9;
    const overshootDb = overshootDbAt(logic, this.overshootDb);
    const raised = watts * overshootFactor(overshootDb, this.overshootS, sinceS);
    return levelControlHolds(logic, ns) ? raised * this.levelled(part) : raised;
  }

  /** Steps the level control by one sample. */
  endSample(): void {
    if (this.law === null) return;
    const { buffer } = this;
    const before = buffer[REDUCTION_DB] as number;
    const after = nextReductionDb(this.law, before, buffer[this.reading] as number);
    buffer[REDUCTION_DB] = after;
    buffer[FACTOR_FROM] = buffer[FACTOR_TO] as number;
    buffer[FACTOR_TO] = reductionFactor(after);
  }

  /** Power factor of the level control. */
  private levelled(part: number): number {
    if (this.law === null) return 1;
    const from = this.buffer[FACTOR_FROM] as number;
    const v = from + ((this.buffer[FACTOR_TO] as number) - from) * part;
    return v * v;
  }
}
