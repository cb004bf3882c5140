/**
 * The stage of a quick run, sample by sample: settled states from a map while the circuit stands still, from the bench's
 * settled solver itself while it moves, and the plate supply's filter followed through both.
 *
 *   Cf Vc' = max(0, (Eo - Vc)/Rs) - Ip(u, Vc) - Vc/Rb          trapezoid rule over one sample, as the bench has it
 *
 * Vc filter voltage, Eo no-load voltage, Rs source and Rb bleeder resistance, Ip current in the surge resistor. A dip of the
 * mains changes Eo and needs no other map. In the map's samples Ip is taken at the Vc that the slope of two samples before
 * leads to, so that a reading does not have to wait for the one before; the difference is of the second order in 50 us against
 * the filter's 6 ms.
 */
import { emptyCircuit, type StageCircuit } from "../../physics/stage/circuit";
import { coldStart, SETTLED } from "../../physics/stage/coldStart";
import { ARC_COUNT, STATE_LENGTH, VC } from "../../physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../physics/stage/readings";
import { StageSolver } from "../../physics/stage/stageSolver";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import { nodePeakV } from "../../simulation/stageRun";
import { MAP, MAP_CHANNELS, QuickMap } from "./quickMap";
import { BLOCK } from "./quickMapSensing";
import { SENSED_READINGS } from "./sensedReadings";

/** Maps by circuit, shared by the runs of a trial. */
export type MapStore = Map<string, QuickMap>;
const MOST_MAPS = 48;

/** Values at a sample's end, the first eight in the order of SENSOR_NAMES. */
const DISSIPATION = 8;
const VALUES = 9;
const PLATE_A = 4;
const PLATE_V = 6;
const LENGTH = BLOCK + 1;
/** A filter that moves by less in a sample is taken to stand: with its 6 ms it would go another 1.2 mV. */
const REST_V = 1e-5;

/** The same in the bench's readings. */
const READ: readonly number[] = [...SENSED_READINGS, READING.plateDissipationW];

export class QuickStage {
  /** Means of the samples of a block, BLOCK places a sensor. */
  readonly means = new Float64Array(SENSOR_NAMES.length * BLOCK);
  /** Plate dissipation of the block's samples, watts. */
  readonly dissipationW = new Float64Array(BLOCK);
  filterV = 0;
  /** Highest plate current so far, amperes. */
  highestPlateA = 0;
  /** Values at the samples' ends, LENGTH places each, the first the end of the block before. */
  private readonly ends = new Float64Array(VALUES * LENGTH);
  private readonly read = new Float64Array(MAP_CHANNELS);
  private readonly solver = new StageSolver();
  private readonly y = new Float64Array(STATE_LENGTH);
  private readonly row = new Float64Array(READING_COUNT);
  /** The solver's state is that of the sample before. */
  private isFollowing = false;
  private map: QuickMap | null = null;
  /** The block before was read from this map with this circuit. */
  private isRead = false;
  /** Every sample of the block last made is as the last of the block before it, and so are its means. */
  isResting = false;
  private key = "";
  private slopeVPerS = 0;
  /** Where the next sample's plate current is read, as the slope of two samples before leads there. */
  private readV = 0;

  constructor(
    private readonly maps: MapStore,
    private readonly nominalV: number,
    private readonly sampleS: number,
    private readonly withstandV: Float64Array,
    private readonly sourceOf: (watts: number) => number,
  ) {}

  /** The circuit from now on, until it is given another. */
  stand(c: StageCircuit): void {
    this.isRead = false;
    if (c.stiffSupply) this.filterV = c.noLoadV;
    this.slopeVPerS = this.slope(c, this.ends[PLATE_A * LENGTH] as number, this.filterV);
    this.readV = this.filterV + this.sampleS * this.slopeVPerS;
    const key = keyOf(c, this.nominalV);
    if (key === this.key && this.map !== null) return;
    this.key = key;
    let map = this.maps.get(key);
    if (map === undefined) {
      if (this.maps.size >= MOST_MAPS) this.maps.delete(this.maps.keys().next().value as string);
      map = new QuickMap(copyOf(c), this.nominalV, this.sourceOf);
      this.maps.set(key, map);
    }
    this.map = map;
  }

  /** `n` samples of a circuit that stands, with `watts` of drive at their ends; false where the map has no reading. */
  still(c: StageCircuit, watts: Float64Array, n: number): boolean {
    const { map, read, ends, sampleS, withstandV } = this;
    this.isFollowing = false;
    if (map === null) return false;
    if (this.rests(watts, n)) return true;
    const surgeOhm = 1 / c.surgeSiemens;
    const isStiff = c.stiffSupply;
    const { noLoadV, sourceSiemens } = c;
    const perF = 1 / c.filterF;
    const leakSiemens = c.bleederSiemens + c.crowbarSiemens;
    let filterV = this.filterV;
    let slope = this.slopeVPerS;
    let { readV } = this;
    for (let k = 0; k < n; k++) {
      const drive = watts[k] as number;
      const guessV = filterV + sampleS * slope;
      if (!map.read(Math.sqrt(drive), readV, withstandV, read)) return false;
      readV = guessV + sampleS * slope;
      const plateA = read[MAP.plateCurrentA] as number;
      if (isStiff) filterV = noLoadV;
      else {
        const charge = noLoadV > guessV ? (noLoadV - guessV) * sourceSiemens : 0;
        const next = (charge - plateA - guessV * leakSiemens) * perF;
        filterV += 0.5 * sampleS * (slope + next);
        slope = next;
      }
      const f = read[MAP.rootForward] as number;
      const r = read[MAP.rootReflected] as number;
      const d = read[MAP.rootDriveReflected] as number;
      const at = k + 1;
      ends[at] = drive;
      ends[LENGTH + at] = d * d;
      ends[2 * LENGTH + at] = f * f;
      ends[3 * LENGTH + at] = r * r;
      ends[PLATE_A * LENGTH + at] = plateA;
      ends[5 * LENGTH + at] = read[MAP.gridCurrentA] as number;
      ends[PLATE_V * LENGTH + at] = filterV - plateA * surgeOhm;
      ends[7 * LENGTH + at] = read[MAP.plateRfPeakV] as number;
      ends[DISSIPATION * LENGTH + at] = read[MAP.plateDissipationW] as number;
    }
    this.close(n);
    this.filterV = filterV;
    this.slopeVPerS = slope;
    this.readV = readV;
    this.isRead = true;
    return true;
  }

  /** Drive as it was and a filter at rest: nothing needs to be read. */
  private rests(watts: Float64Array, n: number): boolean {
    const { ends, means, dissipationW } = this;
    const wasResting = this.isResting && this.isRead;
    this.isResting = this.isRead && Math.abs(this.slopeVPerS) * this.sampleS < REST_V;
    for (let k = 0; k < n; k++) if (watts[k] !== ends[0]) this.isResting = false;
    if (this.isResting && !wasResting) {
      for (let i = 0; i < DISSIPATION; i++)
        means.fill(ends[i * LENGTH] as number, i * BLOCK, (i + 1) * BLOCK);
      dissipationW.fill(ends[DISSIPATION * LENGTH] as number);
    }
    return this.isResting;
  }

  /** One sample of a circuit that moves; false where the settled solver finds no state or a gap would strike. */
  moving(c: StageCircuit, watts: number): boolean {
    const { y, row, ends, solver, sampleS } = this;
    this.map = null;
    this.isResting = false;
    c.sourceA = this.sourceOf(watts);
    c.sourceAPerS = 0;
    if (!this.isFollowing && !this.takeUp(c)) return false;
    if (!(solver.settle(c, y, sampleS) < SETTLED)) return false;
    for (let a = 0; a < ARC_COUNT; a++) {
      if (nodePeakV(c, y, a) >= (this.withstandV[a] as number)) return false;
    }
    readStage(c, solver.system, y, c.sourceA, row);
    this.filterV = y[VC] as number;
    ends[1] = watts;
    for (let i = 1; i < VALUES; i++) ends[i * LENGTH + 1] = row[READ[i] as number] as number;
    this.close(1);
    return true;
  }

  /** Nothing driven yet: the supply at no load. */
  start(filterV: number): void {
    this.filterV = filterV;
    this.ends.fill(0);
    this.ends[PLATE_V * LENGTH] = filterV;
  }

  private takeUp(c: StageCircuit): boolean {
    const held = copyOf(c);
    held.stiffSupply = true;
    held.noLoadV = this.filterV;
    if (!(coldStart(this.solver, held, this.y, -1) < SETTLED)) return false;
    this.y[VC] = this.filterV;
    this.isFollowing = true;
    return true;
  }

  private slope(c: StageCircuit, plateA: number, v: number): number {
    if (c.stiffSupply) return 0;
    const charge = c.noLoadV > v ? (c.noLoadV - v) * c.sourceSiemens : 0;
    return (charge - plateA - v * (c.bleederSiemens + c.crowbarSiemens)) / c.filterF;
  }

  /** Means of the block's `n` samples from their ends; the last end is the next block's beginning. */
  private close(n: number): void {
    const { ends, means, dissipationW } = this;
    for (let i = 0; i < VALUES; i++) {
      const from = i * LENGTH;
      const isSensed = i < DISSIPATION;
      const into = isSensed ? means : dissipationW;
      const at = isSensed ? i * BLOCK : 0;
      let a = ends[from] as number;
      for (let k = 0; k < n; k++) {
        const b = ends[from + k + 1] as number;
        into[at + k] = 0.5 * (a + b);
        a = b;
        if (i === PLATE_A && b > this.highestPlateA) this.highestPlateA = b;
      }
      ends[from] = a;
    }
  }
}

/** Everything of a circuit that its settled states and its drive phasor depend on; source, filter and what the gaps withstand are not among it. */
function keyOf(c: StageCircuit, nominalV: number): string {
  return [
    nominalV,
    c.omega,
    c.tube.perveance,
    c.tube.mu,
    c.tube.divisionRatio,
    c.tube.offsetV,
    c.driveOhm,
    c.turnsRatio,
    c.cathodeLossSiemens,
    c.cathodeF,
    c.cathodeH,
    c.plateF,
    c.plateLossSiemens,
    c.chokeH,
    c.coilH,
    c.coilOhm,
    c.tapFraction,
    c.loadingF,
    c.outputCoilH,
    c.outputCoilOhm,
    c.loadSiemens,
    c.loadSusceptanceSiemens,
    c.referenceOhm,
    c.surgeSiemens,
    c.biasV,
    c.biasSiemens,
    c.cutoffSiemens,
    c.touchSiemens,
  ].join();
}

/** A circuit of its own with the same numbers; without arcs, shorts and stray currents. */
function copyOf(c: StageCircuit): StageCircuit {
  const {
    burning: _b,
    maintainingV: _m,
    arcTimeConstantS: _t,
    stray: _s,
    bridgedSiemens: _g,
    ...numbers
  } = c;
  return { ...emptyCircuit(), ...numbers, tube: { ...c.tube } };
}
