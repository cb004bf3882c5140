/**
 * One stress at one size, as the bench's own sums see it: true means for the sensors, heat for the clocks, arc for the edge.
 *
 * Settled from its first instant on, what the circuit does on the way (microseconds) left out. A supply short alone has a
 * course: the filter's discharge, taken from a bench whose protection is inhibited. A plate current is put into the shunt
 * as a test set would: voltage follows the supply's own resistance, dissipation what is not delivered.
 */
import { CLOCK, CLOCK_COUNT } from "../../physics/heat/clocks";
import { ARC_COUNT, ARC_PLACES } from "../../physics/stage/layout";
import { READING, READING_COUNT } from "../../physics/stage/readings";
import type { LiveStation, StationParts } from "../../physics/stage/stationCircuit";
import type { ArcPlace } from "../../project/station";
import type { Project } from "../../project/types";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import { type Bench, createBench, type Snapshot } from "../../simulation/bench";
import { lightOfArcs } from "../../simulation/compartment";
import { SampleSums } from "../../simulation/sampleSums";
import { ROW_AT } from "../../simulation/worldLayout";
import { loadOnCircle } from "../sweeps";
import type { SettledStage } from "./settledStage";
import { arcIndexOf, type StressName } from "./stress";

/** What is true of a stressed station, for reading beside a point. */
export interface StressFacts {
  readonly driveW: number;
  readonly plateCurrentA: number;
  readonly gridCurrentA: number;
  readonly plateV: number;
  readonly forwardW: number;
  readonly reflectedW: number;
  readonly plateDissipationW: number;
  /** In the arc, and its peak current; 0 without one. */
  readonly arcW: number;
  readonly arcPeakA: number;
  /** Of the reflection that does most harm; null for every other stress. */
  readonly phaseRad: number | null;
}

export interface Stressed {
  readonly facts: StressFacts;
  /** One a sample from the first instant on; the last holds from then on. In the order of SENSOR_NAMES. */
  readonly means: readonly Float64Array[];
  /** The same for the clocks, in the order of CLOCK_PARTS. */
  readonly heats: readonly Float64Array[];
  readonly arc: { readonly place: ArcPlace; readonly watts: number; readonly peakA: number } | null;
  /** Where the current comes from that is still there once the contactor is open: filter and what empties it. */
  readonly filterDecayS: number;
}

const EXHAUST = SENSOR_NAMES.indexOf("exhaustAirK");
const LIGHT = SENSOR_NAMES.indexOf("tankLight");
/** Phases looked at on a circle of constant SWR. */
const PHASES = 12;
/** Highest drive that a grid current is looked for at, over full drive. */
const MOST_DRIVE = 5;
/** And the lowest. */
const LEAST_DRIVE = 0.01;
const HALVINGS = 30;
/** The bench of a short: key down, everything settled; on a sample's edge. */
const SHORT_AT_NS = 60_000_000;
/** Followed until the filter has come to rest, at most for this many samples. */
const SHORT_SAMPLES = 1200;
const AT_REST = 2e-5;

/** Judges phases: the more, the worse. */
export type Harm = (heats: Float64Array) => number;

export class Stresses {
  private readonly sums = new SampleSums();
  private readonly scratchJ = new Float64Array(ARC_COUNT);
  private readonly fullW: number;
  private readonly healthyRow: Float64Array | null;
  private readonly sampleS: number;
  private readonly surgeOhm: number;
  private short: { readonly bench: Bench; readonly start: Snapshot } | null = null;

  constructor(
    private readonly project: Project,
    private readonly parts: StationParts,
    private readonly stage: SettledStage,
  ) {
    this.fullW = project.station.exciter.availableW;
    this.sampleS = project.sampleNs / 1e9;
    const { supply } = project.station;
    this.surgeOhm = supply.kind === "rectified" ? supply.surgeOhm : 0;
    this.healthyRow = stage.readings({ driveW: this.fullW });
  }

  /** Full carrier into the station's own load; null where it has no settled state. */
  healthy(): Stressed | null {
    return this.healthyRow === null ? null : this.settledAt({});
  }

  /** The stress at `x`; null where this station cannot have it: an arc goes out, no drive brings that current. */
  at(stress: StressName, x: number, harm: Harm): Stressed | null {
    if (this.healthyRow === null) return null;
    const place = arcIndexOf(stress);
    if (place >= 0) return this.settledAt({ arc: { place, maintainingV: x } });
    switch (stress) {
      case "plateCurrent":
        return this.plateCurrent(x, this.healthyRow);
      case "gridCurrent":
        return this.gridCurrent(x);
      case "dissipation":
        return this.dissipation(x, this.healthyRow);
      case "mismatch":
        return this.mismatch(x, harm);
      default:
        return this.supplyShort(x);
    }
  }

  private settledAt(setting: {
    readonly driveW?: number;
    readonly change?: (live: LiveStation) => void;
    readonly arc?: { readonly place: number; readonly maintainingV: number };
    readonly phaseRad?: number;
  }): Stressed | null {
    const { phaseRad = null, ...rest } = setting;
    const row = this.stage.readings({ driveW: this.fullW, ...rest });
    return row === null ? null : this.constant(row, setting.arc?.place ?? -1, phaseRad);
  }

  private plateCurrent(currentA: number, healthy: Float64Array): Stressed | null {
    // the circuit's own numbers are those of the full carrier
    const row = this.stage.readings({ driveW: this.fullW });
    if (row === null) return null;
    const { supply } = this.project.station;
    const sourceOhm = supply.kind === "rectified" ? supply.sourceOhm + supply.surgeOhm : 0;
    const dropV = (currentA - (healthy[READING.plateCurrentA] as number)) * sourceOhm;
    const plateV = Math.max((healthy[READING.plateV] as number) - dropV, 0);
    row[READING.plateCurrentA] = currentA;
    row[READING.tubeCurrentA] = currentA;
    row[READING.plateV] = plateV;
    const before =
      (healthy[READING.plateV] as number) * (healthy[READING.tubeCurrentA] as number) -
      (healthy[READING.plateDissipationW] as number);
    row[READING.plateDissipationW] = Math.max(plateV * currentA - before, 0);
    return this.constant(row, -1, null);
  }

  private gridCurrent(currentA: number): Stressed | null {
    const at = (driveW: number): number =>
      this.stage.readings({ driveW })?.[READING.gridCurrentA] ?? Number.NaN;
    const driveW = found(LEAST_DRIVE * this.fullW, MOST_DRIVE * this.fullW, currentA, at);
    return driveW === null ? null : this.settledAt({ driveW });
  }

  private dissipation(watts: number, healthy: Float64Array): Stressed | null {
    const detuned = (share: number) => (live: LiveStation) => {
      live.tuningRatio = 1 + share;
    };
    const driveW = this.fullW;
    const at = (share: number): number =>
      this.stage.readings({ driveW, change: detuned(share) })?.[READING.plateDissipationW] ??
      Number.NaN;
    // what is less than the full carrier's own comes with less drive
    if (watts <= (healthy[READING.plateDissipationW] as number)) {
      const less = found(
        LEAST_DRIVE * driveW,
        driveW,
        watts,
        (w) => this.stage.readings({ driveW: w })?.[READING.plateDissipationW] ?? Number.NaN,
      );
      return less === null ? null : this.settledAt({ driveW: less });
    }
    const share = found(0, 1, watts, at);
    return share === null ? null : this.settledAt({ change: detuned(share) });
  }

  private mismatch(swr: number, harm: Harm): Stressed | null {
    let worst: Stressed | null = null;
    let most = -Infinity;
    for (let k = 0; k < PHASES; k++) {
      const phaseRad = (2 * Math.PI * k) / PHASES;
      const load = loadOnCircle(swr, phaseRad);
      const change = (live: LiveStation): void => {
        live.loadSiemens = load.conductanceSiemens;
        live.loadSusceptanceSiemens = load.susceptanceSiemens;
      };
      const here = this.settledAt({ change, phaseRad });
      if (here === null) continue;
      const harmed = harm(here.heats[0] as Float64Array);
      if (harmed <= most) continue;
      most = harmed;
      worst = here;
    }
    return worst;
  }

  private supplyShort(ohm: number): Stressed | null {
    if (this.surgeOhm === 0) return null; // a stiff supply has no filter to speak of
    const started = this.shortBench();
    if (started === null) return null;
    const { bench, start } = started;
    bench.cutScript(SHORT_AT_NS);
    bench.visit(start);
    bench.schedule(SHORT_AT_NS, {
      do: "placeFault",
      fault: "plateSupplyShort",
      part: "supply",
      severity: ohm,
    });
    const rows: Float64Array[] = [];
    for (let k = 1; k <= SHORT_SAMPLES; k++) {
      bench.advanceTo(SHORT_AT_NS + k * this.project.sampleNs);
      const row = bench.buffer.slice(ROW_AT, ROW_AT + READING_COUNT);
      const before = rows.at(-1);
      rows.push(row);
      if (before !== undefined && isEmptied(before, row)) break;
    }
    // at the first instant: back along the discharge by as much as the first sample took
    const first = rows[0] as Float64Array;
    const instant = first.slice();
    const [i1, i2] = [first, rows[1] as Float64Array].map(
      (r) => r[READING.plateCurrentA] as number,
    );
    instant[READING.plateCurrentA] = ((i1 as number) * (i1 as number)) / (i2 as number);
    return this.course([instant, ...rows], -1, null);
  }

  /** Key down, everything settled, nobody acting; made once. */
  private shortBench(): { readonly bench: Bench; readonly start: Snapshot } | null {
    if (this.short !== null) return this.short;
    const made = createBench(
      { ...this.project, scenario: [{ atS: 0, do: "key", down: true }] },
      { protection: "inhibited" },
    );
    if (!made.ok) return null;
    made.bench.advanceTo(SHORT_AT_NS);
    this.short = { bench: made.bench, start: made.bench.snapshot() };
    return this.short;
  }

  private constant(row: Float64Array, place: number, phaseRad: number | null): Stressed {
    return this.course([row, row], place, phaseRad);
  }

  /** From readings at the ends of samples, the first at the first instant. */
  private course(rows: readonly Float64Array[], place: number, phaseRad: number | null): Stressed {
    const { sums, sampleS, surgeOhm, parts } = this;
    const means: Float64Array[] = [];
    const heats: Float64Array[] = [];
    for (let k = 1; k < rows.length; k++) {
      const [before, after] = [rows[k - 1] as Float64Array, rows[k] as Float64Array];
      sums.clear();
      sums.add(sampleS, before, after, this.scratchJ, 0);
      sums.finish(sampleS, this.stage.circuit, parts.strayF, surgeOhm);
      const seen = sums.means.slice();
      seen[EXHAUST] = Number.NaN; // follows the anode, worked out beside it
      seen[LIGHT] = lightOfArcs(after[READING.arcW] as number);
      means.push(seen);
      heats.push(sums.clockInputs.slice(0, CLOCK_COUNT));
    }
    const row = rows[0] as Float64Array;
    const at = (i: number): number => row[i] as number;
    const arcW = place < 0 ? 0 : at(READING.arcPlaceW + place);
    const arcPeakA = place < 0 ? 0 : at(READING.arcPlacePeakA + place);
    const { supply } = this.project.station;
    const filterF = supply.kind === "rectified" ? supply.filterF : 0;
    return {
      facts: {
        driveW: at(READING.driveW),
        plateCurrentA: at(READING.plateCurrentA),
        gridCurrentA: at(READING.gridCurrentA),
        plateV: at(READING.plateV),
        forwardW: at(READING.forwardW),
        reflectedW: at(READING.reflectedW),
        plateDissipationW: at(READING.plateDissipationW),
        arcW,
        arcPeakA,
        phaseRad,
      },
      means,
      heats,
      arc:
        place < 0 ? null : { place: ARC_PLACES[place] as ArcPlace, watts: arcW, peakA: arcPeakA },
      filterDecayS: (filterF * at(READING.filterV)) / Math.max(at(READING.plateCurrentA), 1e-3),
    };
  }
}

/** The filter's voltage hardly moves in a sample any more: what flows now comes from the mains. */
function isEmptied(before: Float64Array, after: Float64Array): boolean {
  const v = after[READING.filterV] as number;
  return Math.abs(v - (before[READING.filterV] as number)) < AT_REST * v;
}

/** Where a rising function comes to `wanted`, by halving; null where it does not, or has no value on the way. */
function found(from: number, to: number, wanted: number, at: (x: number) => number): number | null {
  let low = from;
  let high = to;
  if (!(at(low) <= wanted && at(high) >= wanted)) return null;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = 0.5 * (low + high);
    const value = at(middle);
    if (Number.isNaN(value)) return null;
    if (value < wanted) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** Whether heating brings this clock anywhere: a relay's contacts are worn by switching alone. */
export function isHeated(clock: number): boolean {
  return clock !== CLOCK.relayContact;
}
