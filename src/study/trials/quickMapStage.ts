/**
 * The stage of a quick run, sample by sample: settled states from a map while the circuit stands still, from the bench's
 * settled solver itself while it moves, and the plate supply's filter followed through both.
 *
 *   Cf Vc' = max(0, (Eo - Vc)/Rs) - Ip(u, Vc) - Vc/Rb          trapezoid rule over one sample, as the bench has it
 *
 * Vc filter voltage, Eo no-load voltage, Rs source and Rb bleeder resistance, Ip current in the surge resistor. A dip of the
 * mains changes Eo and needs no other map. In the map's samples Ip is taken at the Vc the slope before leads to; the
 * difference is of the second order in a step of 50 us against the filter's 6 ms.
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

/** Maps by circuit, shared by the runs of a trial. */
export type MapStore = Map<string, QuickMap>;
const MOST_MAPS = 48;

/** Values at a sample's end, the first eight in the order of SENSOR_NAMES. */
const DISSIPATION = 8;
const VALUES = 9;

export class QuickStage {
  /** Means of the samples of a block, BLOCK places a sensor. */
  readonly means = new Float64Array(SENSOR_NAMES.length * BLOCK);
  /** Plate dissipation of the block's samples, watts. */
  readonly dissipationW = new Float64Array(BLOCK);
  filterV = 0;
  /** Highest plate current so far, amperes. */
  highestPlateA = 0;
  private readonly before = new Float64Array(VALUES);
  private readonly now = new Float64Array(VALUES);
  private readonly read = new Float64Array(MAP_CHANNELS);
  private readonly solver = new StageSolver();
  private readonly y = new Float64Array(STATE_LENGTH);
  private readonly row = new Float64Array(READING_COUNT);
  /** The solver's state is that of the sample before. */
  private isFollowing = false;
  private map: QuickMap | null = null;
  private key = "";
  private slopeVPerS = 0;

  constructor(
    private readonly maps: MapStore,
    private readonly nominalV: number,
    private readonly sampleS: number,
    private readonly withstandV: Float64Array,
    private readonly sourceOf: (watts: number) => number,
  ) {}

  /** The circuit from now on, until it is given another. */
  stand(c: StageCircuit): void {
    this.slopeVPerS = this.slope(c, this.before[4] as number, this.filterV);
    const key = keyOf(c, this.nominalV);
    if (key === this.key && this.map !== null) return;
    this.key = key;
    let map = this.maps.get(key);
    if (map === undefined) {
      if (this.maps.size >= MOST_MAPS) this.maps.delete(this.maps.keys().next().value as string);
      map = new QuickMap(copyOf(c), this.nominalV, this.withstandV, this.sourceOf);
      this.maps.set(key, map);
    }
    this.map = map;
  }

  /** One sample of a circuit that stands, with `watts` of drive at its end; false where the map has no reading. */
  still(c: StageCircuit, watts: number, k: number): boolean {
    const { read, now, sampleS } = this;
    this.isFollowing = false;
    const guessV = this.filterV + sampleS * this.slopeVPerS;
    if (this.map === null || !this.map.read(Math.sqrt(watts), guessV, read)) return false;
    const plateA = read[MAP.plateCurrentA] as number;
    if (c.stiffSupply) this.filterV = c.noLoadV;
    else {
      const slope = this.slope(c, plateA, guessV);
      this.filterV += 0.5 * sampleS * (this.slopeVPerS + slope);
      this.slopeVPerS = slope;
    }
    const f = read[MAP.rootForward] as number;
    const r = read[MAP.rootReflected] as number;
    const d = read[MAP.rootDriveReflected] as number;
    now[0] = watts;
    now[1] = d * d;
    now[2] = f * f;
    now[3] = r * r;
    now[4] = plateA;
    now[5] = read[MAP.gridCurrentA] as number;
    now[6] = this.filterV - plateA / c.surgeSiemens;
    now[7] = read[MAP.plateRfPeakV] as number;
    now[DISSIPATION] = read[MAP.plateDissipationW] as number;
    this.keep(k);
    return true;
  }

  /** One sample of a circuit that moves; false where the settled solver finds no state or a gap would strike. */
  moving(c: StageCircuit, watts: number, k: number): boolean {
    const { y, row, now, solver, sampleS } = this;
    this.map = null;
    c.sourceA = this.sourceOf(watts);
    c.sourceAPerS = 0;
    if (!this.isFollowing && !this.takeUp(c)) return false;
    if (!(solver.settle(c, y, sampleS) < SETTLED)) return false;
    for (let a = 0; a < ARC_COUNT; a++) {
      if (nodePeakV(c, y, a) >= (this.withstandV[a] as number)) return false;
    }
    readStage(c, solver.system, y, c.sourceA, row);
    this.filterV = y[VC] as number;
    now[0] = watts;
    now[1] = row[READING.driveReflectedW] as number;
    now[2] = row[READING.forwardW] as number;
    now[3] = row[READING.reflectedW] as number;
    now[4] = row[READING.plateCurrentA] as number;
    now[5] = row[READING.gridCurrentA] as number;
    now[6] = row[READING.plateV] as number;
    now[7] = row[READING.plateRfPeakV] as number;
    now[DISSIPATION] = row[READING.plateDissipationW] as number;
    this.keep(k);
    return true;
  }

  /** Forward power or grid current at the last sample's end, for a level control. */
  get forwardW(): number {
    return this.before[2] as number;
  }
  get gridCurrentA(): number {
    return this.before[5] as number;
  }

  /** Nothing driven yet: the supply at no load. */
  start(filterV: number): void {
    this.filterV = filterV;
    this.before.fill(0);
    this.before[6] = filterV;
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

  private keep(k: number): void {
    const { before, now, means } = this;
    for (let i = 0; i < DISSIPATION; i++) {
      means[i * BLOCK + k] = 0.5 * ((before[i] as number) + (now[i] as number));
      before[i] = now[i] as number;
    }
    this.dissipationW[k] = Math.max(
      0.5 * ((before[DISSIPATION] as number) + (now[DISSIPATION] as number)),
      0,
    );
    before[DISSIPATION] = now[DISSIPATION] as number;
    if ((now[4] as number) > this.highestPlateA) this.highestPlateA = now[4] as number;
  }
}

/** Everything of a circuit that its settled states depend on; source and filter are not among it. */
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
