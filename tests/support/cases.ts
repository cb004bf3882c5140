/**
 * The cases behind the README's table: one fault each on the demonstration station, key down at 0 and the fault at
 * 0.30037 s, off the scan edge, when everything has settled. Each is run protected and unprotected.
 */
import { beadDiameterM } from "../../src/physics/heat/bead";
import { METALS } from "../../src/physics/heat/metals";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { usualSeverity } from "../../src/project/faults";
import type { FaultName, MonitorChange, PartName, ScenarioEntry } from "../../src/project/scenario";
import type { AirCapacitor, Station } from "../../src/project/station";
import type { Project } from "../../src/project/types";
import { type Bench, createBench } from "../../src/simulation/bench";
import type { Race } from "../../src/simulation/race";
import { faultResult } from "../../src/simulation/simulate";

/** 0.37 ms past a whole scan. */
export const FAULT_S = 0.30037;

export interface TableCase {
  readonly id: CaseId;
  readonly title: string;
  readonly project: Project;
  /** The protected run ends this long after the fault. */
  readonly runS: number;
  /** The unprotected run ends this long after the fault. */
  readonly followS: number;
}

export type CaseId =
  | "insect"
  | "inhibitFails"
  | "contactorAlone"
  | "shadow"
  | "thickPlates"
  | "pureAluminium"
  | "highArc"
  | "lowDrive"
  | "loadingArc"
  | "tapArc"
  | "beyondArc"
  | "openLoad"
  | "shortLoad"
  | "supplyShort"
  | "supplyLost"
  | "overdrive"
  | "offTune10"
  | "offTune20"
  | "lightLoading"
  | "heavyLoading"
  | "biasLost";

/** What one case comes to. Seconds from the fault's time zero; null for what does not happen while it is followed. */
export interface CaseFigures {
  readonly id: CaseId;
  readonly title: string;
  readonly race: Race;
  readonly firstId: string | null;
  readonly firstName: string | null;
  readonly operateS: number | null;
  readonly clearingS: number | null;
  readonly onsetEarlyS: number | null;
  readonly onsetS: number | null;
  readonly margin: number | null;
  readonly marginEarly: number | null;
  /** Protected: where the run ends. Unprotected: when the operator opens the key. */
  readonly moltenKg: number;
  readonly moltenUnprotectedKg: number | null;
  readonly beadM: number | null;
  readonly followS: number;
  readonly bench: Bench;
  readonly twin: Bench;
}

function withStation(station: Partial<Station>, scenario: readonly ScenarioEntry[]): Project {
  const base = defaultProject(scenario);
  return { ...base, station: { ...base.station, ...station } };
}

function tuningCapacitor(change: Partial<AirCapacitor>): Partial<Station> {
  return { tuningCapacitor: { ...DEFAULT_STATION.tuningCapacitor, ...change } };
}

/** Key down at 0, then one fault of its usual severity unless said otherwise. */
export function faultScenario(
  fault: FaultName,
  part: PartName,
  severity = usualSeverity(fault, part),
  atS = FAULT_S,
): readonly ScenarioEntry[] {
  return [
    { atS: 0, do: "key", down: true },
    { atS, do: "placeFault", fault, part, severity },
  ];
}

/** What else is so from the start. */
function latent(fault: FaultName): ScenarioEntry {
  return { atS: 0, do: "placeFault", fault, part: "protection", severity: 1 };
}

function monitor(id: string, change: MonitorChange): ScenarioEntry {
  return { atS: 0, do: "configureMonitor", monitor: id, change };
}

const INSECT = faultScenario("insect", "tuningCapacitor");

function row(
  id: CaseId,
  title: string,
  scenario: readonly ScenarioEntry[],
  station: Partial<Station> = {},
  followS = 2.6,
  runS = 0.25,
): TableCase {
  return { id, title, project: withStation(station, scenario), followS, runS };
}

/** A case in which nothing burns: what trips does so within a second, and nothing melts. */
function quiet(id: CaseId, title: string, scenario: readonly ScenarioEntry[]): TableCase {
  return row(id, title, scenario, {}, 1);
}

export const CASES: readonly TableCase[] = [
  row("insect", "Insect in the tuning capacitor, 62 W drive", INSECT),
  row("inhibitFails", "the same, drive inhibit fails", [latent("driveInhibitFailed"), ...INSECT]),
  row("contactorAlone", "the same, contactor alone", [latent("contactorOnly"), ...INSECT]),
  row(
    "shadow",
    "the same, low gain in shadow, operator after 2.5 s",
    [
      monitor("lowGain", { role: "shadow" }),
      ...INSECT,
      { atS: FAULT_S + 2.5, do: "key", down: false },
    ],
    {},
    2.6,
    2.6,
  ),
  row(
    "thickPlates",
    "the same, plates 1.2 mm",
    INSECT,
    tuningCapacitor({ plateThicknessM: 1.2e-3 }),
  ),
  row(
    "pureAluminium",
    "the same, plates of pure aluminium",
    INSECT,
    tuningCapacitor({ metal: "aluminium" }),
  ),
  row("highArc", "the same, arc of 400 V", INSECT, tuningCapacitor({ maintainingV: 400 })),
  row("lowDrive", "the same, 20 W drive", [
    { atS: 0, do: "set", control: "driveW", value: 20 },
    ...INSECT,
  ]),
  row(
    "loadingArc",
    "Arc at the loading capacitor, 160 V",
    faultScenario("arc", "loadingCapacitor"),
  ),
  row("tapArc", "Arc from the coil tap, 250 V", faultScenario("arc", "bandSwitch")),
  row("beyondArc", "Arc beyond the coupler, 200 V", faultScenario("arc", "outputContact")),
  quiet("openLoad", "Antenna lost", faultScenario("openLoad", "load")),
  quiet("shortLoad", "Shorted line, 0.5 ohm", faultScenario("shortLoad", "load")),
  quiet("supplyShort", "Plate supply shorted, 5 ohm", faultScenario("plateSupplyShort", "supply")),
  quiet("supplyLost", "Plate supply lost under drive", faultScenario("plateSupplyLost", "supply")),
  quiet("overdrive", "Drive three times as high", faultScenario("overdrive", "exciter")),
  quiet("offTune10", "Tuning 10 % off", faultScenario("offResonance", "tank", 0.1)),
  quiet("offTune20", "Tuning 20 % off", faultScenario("offResonance", "tank", 0.2)),
  quiet(
    "lightLoading",
    "Loading capacitance 1.5 times, dipped",
    faultScenario("lightLoading", "tank"),
  ),
  quiet(
    "heavyLoading",
    "Loading capacitance 0.7 times, dipped",
    faultScenario("heavyLoading", "tank"),
  ),
  quiet("biasLost", "Cathode bias lost", faultScenario("biasLost", "tube")),
];

const done = new Map<CaseId, CaseFigures>();

/** Runs a case, once in each test file. */
export function caseFigures(id: CaseId): CaseFigures {
  const known = done.get(id);
  if (known !== undefined) return known;
  const wanted = CASES.find((c) => c.id === id);
  if (wanted === undefined) throw new Error(`no case ${id}`);
  const figures = runCase(wanted);
  done.set(id, figures);
  return figures;
}

/** A bench of a project that can be built. */
export function benchOf(project: Project): Bench {
  const created = createBench(project);
  if (!created.ok) throw new Error(created.problem);
  return created.bench;
}

/** The run left alone of a case that differs in its actuators alone: nothing of these acts in it, so one run serves. */
function leftAloneAs(id: CaseId): Bench | undefined {
  return id === "inhibitFails" || id === "contactorAlone" ? caseFigures("insect").twin : undefined;
}

function runCase(c: TableCase): CaseFigures {
  const bench = benchOf(c.project);
  bench.advanceTo(Math.round((FAULT_S + c.runS) * 1e9));
  const start = bench.zeros[0];
  if (start === undefined) throw new Error(`no fault in ${c.id}`);
  const twin = leftAloneAs(c.id) ?? bench.fork(start);
  twin.advanceTo(start.zero.atNs + Math.round(c.followS * 1e9));
  const { race, moltenKg, moltenUnprotectedKg } = faultResult(bench, start, Infinity, twin);
  const struck = race.damage.find((d) => d.struck);
  const { station } = c.project;
  const metal =
    race.zero.struck === "tuningCapacitor"
      ? station.tuningCapacitor.metal
      : race.zero.struck === "loadingCapacitor"
        ? station.loadingCapacitor.metal
        : race.zero.struck === "coilTap"
          ? station.bandSwitch.metal
          : station.outputContact.metal;
  const first = race.firstTrip;
  return {
    id: c.id,
    title: c.title,
    race,
    firstId: first?.id ?? null,
    firstName: first?.name ?? null,
    operateS: first?.atS ?? null,
    clearingS: race.clearingS,
    onsetEarlyS: struck?.onsetUnprotectedEarlyS ?? null,
    onsetS: struck?.onsetUnprotectedS ?? null,
    margin: race.margin,
    marginEarly: race.marginEarly,
    moltenKg,
    moltenUnprotectedKg: struck === undefined ? null : moltenUnprotectedKg,
    beadM:
      struck === undefined || moltenUnprotectedKg === null
        ? null
        : beadDiameterM(METALS[metal], moltenUnprotectedKg),
    followS: c.followS,
    bench,
    twin,
  };
}
