/**
 * Studies of one station in slices: the working point first, the rest band by band and chart by chart. A new request
 * takes the place of the one under way. No clock, no timers.
 */
import { resolveStation } from "../../physics/stage/stationCircuit";
import type { Station } from "../../project/station";
import { bandTable } from "../../study/bandTable";
import { loadLine, tubeCurves } from "../../study/loadLine";
import { partStress } from "../../study/partStress";
import { driveSweep, swrCircle } from "../../study/sweeps";
import { intendedPlateOhm, tuneUp } from "../../study/tuneUp";
import { type Working, WorkingPoints } from "../../study/workingPoint";
import { CoordinationSlices } from "./coordinationSlices";
import { DiagnosisSlices } from "./diagnosisSlices";
import { MonitorSlices } from "./monitorSlices";
import type {
  BandResult,
  Components,
  FromStudy,
  Here,
  Point,
  StudyRequest,
  ToStudy,
} from "./protocol";

const LINE_POINTS = 72;
const CURVES = 7;
const CURVE_POINTS = 80;
const DRIVES = 24;
const PHASES = 36;
/** Drives are followed to this share of the chosen one. */
const OVERDRIVE = 1.6;
const LEAST_DRIVE_W = 10;

/** One step of a study; `heavy` ones can wait until nobody types. */
interface Slice {
  readonly heavy: boolean;
  readonly run: () => void;
}

export class StudyHost {
  private slices: Slice[] = [];
  private readonly diagnosis: DiagnosisSlices;
  private readonly coordination: CoordinationSlices;
  private readonly monitors: MonitorSlices;

  constructor(private readonly send: (message: FromStudy) => void) {
    this.diagnosis = new DiagnosisSlices(send);
    this.coordination = new CoordinationSlices(send);
    this.monitors = new MonitorSlices(send);
  }

  receive(message: Exclude<ToStudy, { kind: "fit" }>): void {
    this.slices = [];
    if (message.kind === "study")
      this.slices.push(light(() => this.slices.push(...this.slicesOf(message))));
    if (message.kind === "diagnose")
      this.slices.push(light(() => this.slices.push(...this.diagnosis.of(message).map(light))));
    if (message.kind === "coordinate") this.goOnWith(this.coordination.of(message));
    if (message.kind === "monitors") this.goOnWith(this.monitors.of(message));
  }

  /** Work that says after each slice whether there is more. */
  private goOnWith(work: () => boolean): void {
    this.slices.push(
      light(() => {
        if (work()) this.goOnWith(work);
      }),
    );
  }

  /** What comes next; null when nothing is left. */
  next(): "light" | "heavy" | null {
    const slice = this.slices[0];
    return slice === undefined ? null : slice.heavy ? "heavy" : "light";
  }

  /** One slice. */
  work(): void {
    try {
      this.slices.shift()?.run();
    } catch (error) {
      this.slices = [];
      const cause = error instanceof Error ? error.message : String(error);
      this.send({ kind: "failed", words: `The study stopped: ${cause}.` });
    }
  }

  private slicesOf(request: StudyRequest): Slice[] {
    const { id, station, driveW, swr } = request;
    const { send } = this;
    const resolved = resolveStation(station);
    if (!resolved.ok) {
      const here = impossible(resolved.problem);
      return [
        light(() => send({ kind: "here", id, here })),
        light(() => send({ kind: "done", id })),
      ];
    }
    const { parts } = resolved;
    const points = new WorkingPoints(parts);
    const matched = points.at(points.asDesigned(driveW));
    const own = {
      conductanceSiemens: parts.conductanceSiemens,
      susceptanceSiemens: parts.susceptanceSiemens,
    };
    const here = (): Here => {
      const tune = tuneUp(parts, own);
      const designed = points.asDesigned(driveW);
      return {
        problem: "",
        components: componentsOf(parts),
        plateLoadOhm: intendedPlateOhm(parts),
        matched: matched === null ? null : pointOf(matched),
        stresses: matched === null ? [] : partStress(parts, matched),
        load: own,
        asTuned: pointOrNull(points.at({ ...designed, load: own })),
        retuned:
          tune.kind === "found"
            ? pointOrNull(points.at({ ...designed, ...settings(tune), load: own }))
            : null,
        tune,
      };
    };
    const lines = (): void => {
      const line = matched === null ? [] : loadLine(station.tube, matched, LINE_POINTS);
      const curves = matched === null ? [] : tubeCurves(station.tube, line, CURVES, CURVE_POINTS);
      send({ kind: "line", id, line, curves });
    };
    const most = OVERDRIVE * Math.max(driveW, LEAST_DRIVE_W);
    return [
      light(() => send({ kind: "here", id, here: here() })),
      light(lines),
      ...oneBandEach(station).map((one, index, { length: of }) =>
        light(() => {
          const row = bandResult(one, driveW);
          if (row !== null) send({ kind: "band", id, index, of, row });
        }),
      ),
      heavy(() => {
        const rows = driveSweep(points, most, DRIVES).map((row) => ({
          driveW: row.driveW,
          point: pointOrNull(row.working),
        }));
        send({ kind: "drive", id, rows });
      }),
      heavy(() => {
        const rows = swrCircle(points, swr, driveW, PHASES).map((row) => ({
          phaseRad: row.phaseRad,
          plateOhm: row.plateOhm,
          asTuned: pointOrNull(row.asTuned),
          retuned: pointOrNull(row.retuned),
          stops: row.stops,
        }));
        send({ kind: "circle", id, rows });
      }),
      light(() => send({ kind: "done", id })),
    ];
  }
}

function light(run: () => void): Slice {
  return { heavy: false, run };
}

function heavy(run: () => void): Slice {
  return { heavy: true, run };
}

/** The station with one band of its tank at a time, so that each is a slice of its own. */
function oneBandEach(station: Station): readonly Station[] {
  const { tank } = station;
  if (!("bands" in tank)) return [station];
  return tank.bands.map((band) => ({ ...station, tank: { ...tank, bands: [band] } }));
}

function bandResult(station: Station, driveW: number): BandResult | null {
  const [row] = bandTable(station, driveW);
  if (row === undefined) return null;
  const { band, freqHz, result } = row;
  const empty = { band, freqHz, point: null, stresses: [] };
  if (result.kind === "impossible") return { ...empty, problem: result.problem, components: null };
  const components = componentsOf(result.parts);
  if (result.kind === "unsettled") {
    return { ...empty, problem: "no settled working point is found", components };
  }
  const { parts, working } = result;
  const stresses = partStress(parts, working);
  return { band, freqHz, problem: "", components, point: pointOf(working), stresses };
}

function impossible(problem: string): Here {
  return {
    problem,
    components: null,
    plateLoadOhm: Number.NaN,
    matched: null,
    stresses: [],
    load: { conductanceSiemens: 0, susceptanceSiemens: 0 },
    asTuned: null,
    retuned: null,
    tune: { kind: "impossible" },
  };
}

function settings({ tuningF, loadingF }: { readonly tuningF: number; readonly loadingF: number }) {
  return { tuningF, loadingF };
}

function componentsOf(p: Components): Components {
  const { turnsRatio, cathodeF, cathodeH, tuningF, strayF, coilH, coilOhm, loadingF, chokeH } = p;
  const { outputCoilH, outputCoilOhm } = p;
  return {
    turnsRatio,
    cathodeF,
    cathodeH,
    tuningF,
    strayF,
    coilH,
    coilOhm,
    loadingF,
    chokeH,
    outputCoilH,
    outputCoilOhm,
  };
}

function pointOf(working: Working): Point {
  const { state: _, ...point } = working;
  return point;
}

function pointOrNull(working: Working | null): Point | null {
  return working === null ? null : pointOf(working);
}
