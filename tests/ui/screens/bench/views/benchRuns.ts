/** Races of real runs, made as the engine makes them for the page, and the words of a view as plain strings. */
import { readFileSync } from "node:fs";
import { readProject } from "../../../../../src/formats/projectFile";
import type { ScenarioEntry } from "../../../../../src/project/scenario";
import type { Project } from "../../../../../src/project/types";
import { NO_FAILURES } from "../../../../../src/protection/actuators/schedule";
import { type FaultChoice, Forecast } from "../../../../../src/shells/bench/forecast";
import type { ForecastReport, RaceReport } from "../../../../../src/shells/bench/protocol";
import { raceReport } from "../../../../../src/shells/bench/raceReport";
import { UnprotectedRun } from "../../../../../src/shells/bench/unprotectedRun";
import { type Bench, createBench } from "../../../../../src/simulation/bench";
import type { ExpectedGain } from "../../../../../src/simulation/gainTable";
import { type RaceViewInput, raceViewOf } from "../../../../../src/ui/screens/bench/views/raceView";

export interface Run {
  readonly project: Project;
  readonly bench: Bench;
  readonly report: RaceReport;
}

/** A project of public/projects; `scenario` replaces its own where given. */
export function projectFile(name: string, scenario?: readonly ScenarioEntry[]): Project {
  const read = readProject(readFileSync(`public/projects/${name}.json`, "utf8"));
  if (!read.ok) throw new Error(`cannot read ${name}`);
  return scenario === undefined ? read.project : { ...read.project, scenario };
}

export function benchAt(project: Project, atS: number): Bench {
  const created = createBench(project);
  if (!created.ok) throw new Error(created.problem);
  created.bench.advanceTo(Math.round(atS * 1e9));
  return created.bench;
}

/** The first fault of a run: protected to `atS`, left alone for `aloneS` after the fault. */
export function runOf(project: Project, atS: number, aloneS: number): Run {
  const bench = benchAt(project, atS);
  const start = bench.zeros[0];
  if (start === undefined) throw new Error("no fault");
  const alone = new UnprotectedRun(bench, start);
  alone.work(Math.round((aloneS * 1e9) / bench.sampleNs));
  return { project, bench, report: raceReport(bench, start, alone) };
}

/** A forecast from the state of a bench, left alone for about `aloneS` after the strike. */
export function forecastOf(bench: Bench, choice: FaultChoice, aloneS: number): ForecastReport {
  const forecast = new Forecast(bench, bench.snapshot(), choice);
  const most = Math.round(((aloneS + 0.05) * 1e9) / bench.sampleNs);
  forecast.work(most);
  const start = forecast.acting.zeros[0];
  const { alone } = forecast;
  return {
    choice,
    placedNs: forecast.placedNs,
    standing: !forecast.strikes ? "noStrike" : "working",
    actingEvents: forecast.acting.events.slice(),
    report:
      alone === null || start === undefined ? null : raceReport(forecast.acting, start, alone),
  };
}

/** The expected gain the bench's own monitors are held against. */
export function expectedGainOf(bench: Bench): ExpectedGain {
  return bench.system.context.expectedForwardGainDb;
}

export function inputOf(run: Run, sinceFaultS: number): RaceViewInput {
  const { bench, project, report } = run;
  return {
    report,
    forecast: null,
    project,
    monitors: bench.system.programs.map((p) => p.def),
    mode: bench.logic.mode,
    failures: bench.logic.failures ?? NO_FAILURES,
    playNs: report.zero.atNs + Math.round(sinceFaultS * 1e9),
    events: bench.events,
    row: bench.recorder.row,
    clocks: [],
    expectedGain: expectedGainOf(bench),
    offAir: "",
  };
}

export function viewAt(run: Run, sinceFaultS: number) {
  return raceViewOf(inputOf(run, sinceFaultS));
}

/** Every string anywhere in a view. */
export function stringsIn(value: unknown): readonly string[] {
  if (typeof value === "string") return [value];
  if (Array.isArray(value)) return value.flatMap(stringsIn);
  if (value !== null && typeof value === "object") return Object.values(value).flatMap(stringsIn);
  return [];
}

/** Every number anywhere in a view. */
export function numbersIn(value: unknown): readonly number[] {
  if (typeof value === "number") return [value];
  if (Array.isArray(value)) return value.flatMap(numbersIn);
  if (value !== null && typeof value === "object") return Object.values(value).flatMap(numbersIn);
  return [];
}

/** Ordinary spaces for the no-break and thin ones. */
export function plainText(text: string): string {
  return text.replaceAll("\u00a0", " ").replaceAll("\u202f", "");
}
