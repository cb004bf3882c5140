/**
 * What every fault of the library does to the sensors of one station: the coverage of the monitors, read backwards.
 *
 * Each fault is placed on each of its parts, at its usual severity and at two others, on the project's own station under
 * full carrier, with the project's own monitors acting. Its signature is what the sensors read at the first trip; of a
 * fault that trips nothing, what they read at the end of its run. A change of one sensor is counted as
 *
 *   h = asinh(ln((x + n)/(r + n)) / s),   s = sqrt(t^2 + (n/(r + n))^2)
 *
 * x reading, r reading of the healthy station, n three times the sensor's noise (or its converter's step, where that is
 * more), t a tolerance of 2 % [E]: linear in a relative change near noise and tolerance, logarithmic beyond. Two sets of changes are
 * as far apart as the root mean square of the differences of h over the sensors. Causes that lie closer than SAME at their usual
 * severity, or whose arc burns at one place, cannot be told apart and are one group.
 *
 * Validity: full carrier into the station's own load, faults as they come by default, one at a time, in their first
 * 0.2 s; what takes longer looks like its beginning, or like nothing. Distances and bounds are estimates of ours [E].
 */
import { ln } from "../math/elementary";
import { FAULT_NAMES, FAULTS, usualSeverity } from "../project/faults";
import type { SensorDef, Sensors } from "../project/protection";
import type { FaultName, PartName } from "../project/scenario";
import type { ArcPlace } from "../project/station";
import type { Project } from "../project/types";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import { type Bench, createBench, type Snapshot } from "../simulation/bench";
import type { SensorReadings } from "../simulation/tripMemory";

/** Key down at 0; everything has settled, and monitors are armed. 0.37 ms past a whole scan. */
const PLACED_NS = 120_370_000;
/** A run ends at its first trip; without one after this time, */
const LONGEST_NS = 200e6;
/** and sooner when nothing has picked up for so long. */
const QUIET_NS = 60e6;
/** A trip is written down at the end of its sample. */
const STEP_NS = 500_000;

const TOLERANCE = 0.02;
/** What the noise of two readings can do to their difference: it is bounded by 3.46 deviations in each. */
const NOISES = 3;
/** Causes closer than this are one group. */
const SAME = 0.25;
/** A change smaller than this in every sensor is none: the noise's own bound in both readings, and tolerance, as h. */
const LEAST = 1.6;

export interface LibraryRun {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
}

export interface Signature extends LibraryRun {
  readonly changes: readonly number[];
  readonly struck: ArcPlace | null;
}

/** Faults that these sensors do not tell apart. */
export interface Cause {
  readonly faults: readonly { readonly fault: FaultName; readonly part: PartName }[];
  /** Where the arc burns, for a group that an arc makes. */
  readonly struck: ArcPlace | null;
  readonly signatures: readonly Signature[];
}

export interface SignatureLibrary {
  /** The readings of the station on a healthy full carrier. */
  readonly healthy: SensorReadings;
  readonly causes: readonly Cause[];
  /** Faults that change no reading in the time they are given. */
  readonly silent: readonly LibraryRun[];
}

/** Everything of a project that the library depends on; equal texts have equal libraries. */
export function libraryKey(project: Project): string {
  const { station, sensors, monitors, actuators, sampleNs, seed } = project;
  return JSON.stringify([station, sensors, monitors, actuators, sampleNs, seed]);
}

/** The runs a library is made of: a usual severity first, then one between it and either end of its range. */
export function libraryRuns(): readonly LibraryRun[] {
  return FAULT_NAMES.flatMap((fault) =>
    FAULTS[fault].latent
      ? []
      : FAULTS[fault].parts.flatMap((part) =>
          severities(fault, part).map((severity) => ({ fault, part, severity })),
        ),
  );
}

function severities(fault: FaultName, part: PartName): readonly number[] {
  const { adjustable, min, max } = FAULTS[fault].severity;
  const usual = usualSeverity(fault, part);
  if (!adjustable) return [usual];
  const between = (end: number): number => (min > 0 ? Math.sqrt(usual * end) : 0.5 * (usual + end));
  return [...new Set([usual, between(min), between(max)])];
}

/** Builds a library run by run, so that a worker can do it in slices. */
export class LibraryBuilder {
  private readonly runs = libraryRuns();
  private readonly signatures: Signature[] = [];
  private readonly silent: LibraryRun[] = [];
  private readonly healthy: SensorReadings;
  private readonly start: Snapshot;
  private done = 0;

  private constructor(private readonly bench: Bench) {
    bench.advanceTo(PLACED_NS);
    this.start = bench.snapshot();
    this.healthy = readingsOf(bench);
  }

  /** A station that cannot be designed is a problem. */
  static of(
    project: Project,
  ):
    | { readonly ok: true; readonly builder: LibraryBuilder }
    | { readonly ok: false; readonly problem: string } {
    const created = createBench({ ...project, scenario: [{ atS: 0, do: "key", down: true }] });
    return created.ok ? { ok: true, builder: new LibraryBuilder(created.bench) } : created;
  }

  /** Runs still to do. */
  get left(): number {
    return this.runs.length - this.done;
  }

  /** One run. */
  step(): void {
    const run = this.runs[this.done];
    if (run === undefined) return;
    this.done++;
    const ended = runFault(this.bench, this.start, run);
    const { sensors } = this.bench.project;
    const changes = changesOf(sensors, this.healthy, ended.readings);
    if (changes.some((h) => Math.abs(h) >= LEAST)) {
      this.signatures.push({ ...run, changes, struck: ended.struck });
    } else this.silent.push(run);
  }

  /** The library of the runs done so far. */
  library(): SignatureLibrary {
    return { healthy: this.healthy, causes: causesOf(this.signatures), silent: this.silent };
  }
}

/** A whole library at once. */
export function signatureLibrary(
  project: Project,
):
  | { readonly ok: true; readonly library: SignatureLibrary }
  | { readonly ok: false; readonly problem: string } {
  const made = LibraryBuilder.of(project);
  if (!made.ok) return made;
  while (made.builder.left > 0) made.builder.step();
  return { ok: true, library: made.builder.library() };
}

function runFault(
  bench: Bench,
  start: Snapshot,
  { fault, part, severity }: LibraryRun,
): { readonly readings: SensorReadings; readonly struck: ArcPlace | null } {
  bench.cutScript(PLACED_NS);
  bench.visit(start);
  const earlier = start.logic.memory.trips.length;
  const { usualOnset } = FAULTS[fault];
  bench.schedule(PLACED_NS, {
    do: "placeFault",
    fault,
    part,
    severity,
    ...(usualOnset === undefined ? {} : { onset: usualOnset }),
  });
  for (let ns = PLACED_NS; ns < PLACED_NS + LONGEST_NS; ) {
    ns += STEP_NS;
    bench.advanceTo(ns);
    const { trips, pickedUp } = bench.logic.memory;
    if (trips.length > earlier) break;
    if (ns >= PLACED_NS + QUIET_NS && pickedUp.length === 0) break;
  }
  const strike = bench.events.find((e) => e.kind === "faultZero" && e.struck !== null);
  return {
    readings: bench.logic.memory.trips[earlier]?.atTrip ?? readingsOf(bench),
    struck: strike?.kind === "faultZero" ? strike.struck : null,
  };
}

function readingsOf(bench: Bench): SensorReadings {
  return Array.from(bench.sensedRow.subarray(0, SENSOR_NAMES.length));
}

/** Change of each sensor from `before` to `after`, counted in noise and tolerance; see above. */
export function changesOf(
  sensors: Sensors,
  before: SensorReadings,
  after: SensorReadings,
): readonly number[] {
  return SENSOR_NAMES.map((name, i) => {
    const n = NOISES * noiseOf(sensors[name]);
    const r = (before[i] as number) + n;
    const x = Math.max((after[i] as number) + n, n);
    const s = Math.sqrt(TOLERANCE * TOLERANCE + (n / r) * (n / r));
    return arsinh(ln(x / r) / s);
  });
}

/** Noise of a sensor in its own unit: its standard deviation, or its converter's step where that is more. */
export function noiseOf({ noiseFraction, fullScale, bits }: SensorDef): number {
  let codes = 1;
  for (let i = 0; i < bits; i++) codes *= 2;
  return Math.max(noiseFraction * fullScale, fullScale / (codes - 1));
}

function arsinh(x: number): number {
  return x < 0 ? -arsinh(-x) : ln(x + Math.sqrt(x * x + 1));
}

/** Root mean square of the differences. */
export function distance(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] as number) - (b[i] as number);
    sum += difference * difference;
  }
  return Math.sqrt(sum / a.length);
}

interface Group {
  faults: { fault: FaultName; part: PartName }[];
  struck: ArcPlace | null;
  signatures: Signature[];
}

/** One group a fault and part, then joined until none is the same as another. */
function causesOf(signatures: readonly Signature[]): readonly Cause[] {
  const groups: Group[] = [];
  for (const s of signatures) {
    const isOwn = (g: Group): boolean =>
      g.faults.some(({ fault, part }) => fault === s.fault && part === s.part);
    const group = groups.find((g) => isOwn(g) && g.struck === s.struck);
    if (group !== undefined) group.signatures.push(s);
    else {
      const { fault, part, struck } = s;
      groups.push({ faults: [{ fault, part }], struck, signatures: [s] });
    }
  }
  for (let i = 0; i < groups.length; i++) {
    for (let k = i + 1; k < groups.length; ) {
      const a = groups[i] as Group;
      const b = groups[k] as Group;
      if (!isSame(a, b)) k++;
      else {
        for (const f of b.faults)
          if (!a.faults.some((g) => g.fault === f.fault && g.part === f.part)) a.faults.push(f);
        a.signatures.push(...b.signatures);
        groups.splice(k, 1);
        k = i + 1; // what was too far from one may be near the other
      }
    }
  }
  return groups;
}

function isSame(a: Group, b: Group): boolean {
  if (a.struck !== b.struck) return false;
  if (a.struck !== null) return true;
  return a.signatures.some((s) =>
    b.signatures.some((t) => isUsual(s) && isUsual(t) && distance(s.changes, t.changes) < SAME),
  );
}

function isUsual({ fault, part, severity }: LibraryRun): boolean {
  return severity === usualSeverity(fault, part);
}
