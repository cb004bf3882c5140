/**
 * Which cases a coverage trial consists of: every fault at every place it fits, on every band, at every drive, into a
 * matched load and, where the load matters and at the highest drive, into a standing-wave ratio at several phases.
 *
 * Cases are numbered condition by condition, so that neighbours share the run up to the fault.
 */
import { FAULT_NAMES, FAULTS, usualSeverity } from "../../project/faults";
import type { FaultName, Onset, PartName, ScenarioEntry } from "../../project/scenario";
import type { Station } from "../../project/station";
import type { Project } from "../../project/types";
import { nanoseconds } from "../../units/nanoseconds";
import { bandTable } from "../bandTable";
import type { CoverageOptions } from "./coverageOptions";

/** A fault at its place, as severe and as sudden as it usually is. */
export interface CoverageFault {
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
}

/** What the station does when the fault comes. */
export interface CoverageCondition {
  readonly band: string;
  readonly freqHz: number;
  readonly driveW: number;
  readonly swr: number;
  /** Of the reflection at the connector; 0 for a matched load. */
  readonly phaseRad: number;
}

export interface CoverageCase {
  readonly fault: CoverageFault;
  readonly condition: CoverageCondition;
}

/** Something that is not run, and why. */
export interface LeftOut {
  readonly what: string;
  /** Name of the band, where it is one that has no design or no working point; null for what this station cannot suffer. */
  readonly band: string | null;
  readonly why: string;
}

export interface CoverageCases {
  readonly faults: readonly CoverageFault[];
  readonly conditions: readonly CoverageCondition[];
  readonly cases: readonly CoverageCase[];
  readonly leftOut: readonly LeftOut[];
}

/** Knobs are set at 0 and at rest when the key goes down. */
const KEY_S = 0.06;
/** A steady carrier by then; 0.37 ms past a whole scan. */
const FAULT_S = 0.20037;
export const FAULT_NS = nanoseconds(FAULT_S);
/** A fault of the key's head is placed before the key. */
const BEFORE_KEY_S = 0.05537;
/** What has not become electrical by then does not. */
const WAIT_S = 0.1;

/** Need an antenna behind a line; a plain load does not feel them. */
const OF_AN_ANTENNA: readonly FaultName[] = [
  "feedPointBroken",
  "wrongAntenna",
  "ice",
  "sway",
  "gust",
];

/** What the load's mismatch has a say in. */
const FEELS_LOAD: readonly PartName[] = [
  "load",
  "tank",
  "tuningCapacitor",
  "loadingCapacitor",
  "bandSwitch",
  "outputContact",
  "exciter",
];

/** All cases of a project under these options. */
export function coverageCases(project: Project, options: CoverageOptions): CoverageCases {
  const leftOut: LeftOut[] = [];
  const faults = faultsOf(project.station, options, leftOut);
  const conditions = conditionsOf(project.station, options, leftOut);
  const cases = conditions.flatMap((condition) =>
    faults
      .filter((f) => condition.swr === 1 || feelsLoad(f))
      .map((fault) => ({ fault, condition })),
  );
  return { faults, conditions, cases, leftOut };
}

/** Whether the fault is run into the mismatched loads too. */
export function feelsLoad({ fault, part }: Pick<CoverageFault, "fault" | "part">): boolean {
  return !FAULTS[fault].latent && FEELS_LOAD.includes(part);
}

function faultsOf(
  { load }: Station,
  options: CoverageOptions,
  leftOut: LeftOut[],
): readonly CoverageFault[] {
  return FAULT_NAMES.filter((f) => options.faults === null || options.faults.includes(f)).flatMap(
    (fault) => {
      if (load.kind !== "antenna" && OF_AN_ANTENNA.includes(fault)) {
        leftOut.push({
          what: FAULTS[fault].name,
          band: null,
          why: "the station's load is no antenna behind a line",
        });
        return [];
      }
      return FAULTS[fault].parts.map((part) => ({
        fault,
        part,
        severity: usualSeverity(fault, part),
      }));
    },
  );
}

function conditionsOf(
  station: Station,
  options: CoverageOptions,
  leftOut: LeftOut[],
): readonly CoverageCondition[] {
  const drives =
    options.drivesW ?? [1, 0.5, 0.2].map((share) => share * station.exciter.availableW);
  const highestW = Math.max(...drives);
  const bands = bandTable(station, highestW).filter(
    ({ band }) => options.bands === null || options.bands.includes(band),
  );
  return bands.flatMap(({ band, freqHz, result }) => {
    if (result.kind !== "solved") {
      const why =
        result.kind === "impossible"
          ? result.problem
          : "the circuit finds no settled working point";
      leftOut.push({ what: band, band, why });
      return [];
    }
    return drives.flatMap((driveW) => {
      // a mismatch is hardest on the station where there is most power
      const loads = driveW === highestW ? loadsOf(station, options) : [MATCHED];
      return loads.map((load) => ({ band, freqHz, driveW, ...load }));
    });
  });
}

const MATCHED = { swr: 1, phaseRad: 0 };

function loadsOf(
  { load }: Station,
  { swr, phases }: CoverageOptions,
): readonly Pick<CoverageCondition, "swr" | "phaseRad">[] {
  if (load.kind === "antenna" || swr === 1) return [MATCHED];
  const turn = 2 * Math.PI;
  const around = Array.from({ length: phases }, (_, k) => ({ swr, phaseRad: (turn * k) / phases }));
  return [MATCHED, ...around];
}

/** The case as a project of its own: what the bench opens and what `runCase` runs. */
export function caseProject(project: Project, { fault, condition }: CoverageCase): Project {
  const healthy = healthyProject(project, condition);
  const atS = FAULTS[fault.fault].begins === "withDrive" ? BEFORE_KEY_S : FAULT_S;
  return {
    ...healthy,
    title: `${project.title}: ${caseLabel({ fault, condition })}`,
    scenario: [...healthy.scenario, { atS, ...placing(fault) }].sort((a, b) => a.atS - b.atS),
  };
}

/** The same without its fault. */
export function healthyProject(project: Project, condition: CoverageCondition): Project {
  return {
    ...project,
    station: { ...project.station, freqHz: condition.freqHz },
    scenario: healthyScenario(project, condition),
    endS: FAULT_S + WAIT_S,
  };
}

function healthyScenario(
  { station }: Project,
  { driveW, swr, phaseRad }: CoverageCondition,
): readonly ScenarioEntry[] {
  const knobs: ScenarioEntry[] = [];
  if (driveW !== station.exciter.availableW) {
    knobs.push({ atS: 0, do: "set", control: "driveW", value: driveW });
  }
  if (swr !== 1) {
    knobs.push({ atS: 0, do: "set", control: "loadSwr", value: swr });
    knobs.push({ atS: 0, do: "set", control: "loadPhaseRad", value: phaseRad });
  }
  return [...knobs, { atS: KEY_S, do: "key", down: true }];
}

/** Placed as it usually comes. */
export function placing({ fault, part, severity }: CoverageFault): {
  readonly do: "placeFault";
  readonly fault: FaultName;
  readonly part: PartName;
  readonly severity: number;
  readonly onset?: Onset;
} {
  const { usualOnset } = FAULTS[fault];
  const place = { do: "placeFault", fault, part, severity } as const;
  return usualOnset === undefined ? place : { ...place, onset: usualOnset };
}

/** What a person calls the case. */
export function caseLabel({ fault: f, condition: c }: CoverageCase): string {
  const load =
    c.swr === 1 ? "" : `, VSWR ${c.swr} at ${Math.round((c.phaseRad * 180) / Math.PI)} degrees`;
  return `${FAULTS[f.fault].name} (${f.part}), ${c.band}, ${Math.round(c.driveW * 10) / 10} W${load}`;
}
