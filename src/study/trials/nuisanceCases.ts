/** The cases of a nuisance trial: kinds of use over conditions and seeds, and the exceptions that are counted apart. */
import { RandomStream } from "../../math/random";
import type { Project } from "../../project/types";
import type { NuisanceOptions } from "./nuisanceOptions";
import {
  CONDITIONS,
  type Condition,
  withAgedTube,
  withMismatch,
  withOvershoot,
} from "./ordinaryConditions";
import {
  tuneUpInOperateMode,
  USE_S,
  USE_SHARES,
  USE_WORDS,
  type Use,
  useScenario,
} from "./ordinaryUse";

export interface NuisanceCase {
  readonly label: string;
  /** Null for an exception, which is no ordinary use and is counted apart. */
  readonly use: Use | null;
  readonly condition: string;
  readonly seed: number;
  /** The station with the use and its condition, protection as the project has it. */
  readonly project: () => Project;
}

const LARGEST_SEED = 0x7fff_ffff;
const PHASES = 8;
/** Uses that bring a load or a tuning of their own. */
const OWN_LOAD: readonly Use[] = ["tuneUp", "antennaChange", "sway"];

/** Cases in their order; the same for the same project, seed and options. */
export function nuisanceCases(
  project: Project,
  seed: number,
  options: NuisanceOptions,
): readonly NuisanceCase[] {
  const { total, uses, conditions } = options;
  const station = withDetectors(project, options);
  const seeds = new RandomStream(seed);
  const next = (): number => Math.floor(seeds.uniform() * LARGEST_SEED);
  const sum = uses.reduce((all, use) => all + USE_SHARES[use], 0);
  const cases: NuisanceCase[] = [];
  let share = 0;
  for (const use of uses) {
    const from = Math.round((share / sum) * total);
    share += USE_SHARES[use];
    const to = Math.round((share / sum) * total);
    const fitting = conditions.filter((c) => !OWN_LOAD.includes(use) || !c.id.startsWith("swr"));
    const list = fitting.length > 0 ? fitting : CONDITIONS.slice(0, 1);
    for (let i = 0; i < to - from; i++) {
      cases.push(ordinaryCase(station, use, list[i % list.length] as Condition, next()));
    }
  }
  return options.exceptions ? [...cases, ...exceptions(station, next)] : cases;
}

function ordinaryCase(
  station: Project,
  use: Use,
  condition: Condition,
  seed: number,
): NuisanceCase {
  return {
    label: `${USE_WORDS[use]}; ${condition.words}; seed ${seed}`,
    use,
    condition: condition.id,
    seed,
    project: () => condition.apply(withUse(station, useScenario(use, seed), seed)),
  };
}

/** What is known to trip, or may: said openly beside the ordinary use. */
function exceptions(station: Project, next: () => number): readonly NuisanceCase[] {
  const cases: NuisanceCase[] = [];
  const add = (
    condition: string,
    words: string,
    use: Use,
    change: (p: Project) => Project,
  ): void => {
    const seed = next();
    cases.push({
      label: `${words}; ${USE_WORDS[use]}; seed ${seed}`,
      use: null,
      condition,
      seed,
      project: () => change(withUse(station, useScenario(use, seed), seed)),
    });
  };
  for (let k = 0; k < 4; k++) {
    const seed = next();
    cases.push({
      label: `tuning up by hand at full drive in operate mode; seed ${seed}`,
      use: null,
      condition: "tuneUpInOperateMode",
      seed,
      project: () => withUse(station, tuneUpInOperateMode(seed), seed),
    });
  }
  for (let k = 0; k < PHASES; k++) {
    const phaseRad = (2 * Math.PI * k) / PHASES;
    const at = `at ${(360 * k) / PHASES} degrees`;
    add("agedAndSwr1.5", `tube aged by 30 %, VSWR 1.5 ${at}`, "processedSpeech", (p) =>
      withAgedTube(withMismatch(p, 0.2, phaseRad), 0.3),
    );
    add("overshootAndSwr1.5", `edges 3 dB over, VSWR 1.5 ${at}`, "morse", (p) =>
      withOvershoot(withMismatch(p, 0.2, phaseRad), 3),
    );
    add("swr2", `VSWR 2 ${at}`, "processedSpeech", (p) => withMismatch(p, 1 / 3, phaseRad));
  }
  return cases;
}

function withUse(project: Project, scenario: Project["scenario"], seed: number): Project {
  return { ...project, scenario, seed, endS: USE_S };
}

/** Detectors and smoothing as the options have them. */
export function withDetectors(
  project: Project,
  { detectors, smoothing }: Pick<NuisanceOptions, "detectors" | "smoothing">,
): Project {
  const { sensors, monitors } = project;
  const timeConstantS = UNMATCHED * sensors.driveForwardW.timeConstantS;
  const outputForwardW = { ...sensors.outputForwardW, timeConstantS };
  return {
    ...project,
    sensors: detectors === "unmatched" ? { ...sensors, outputForwardW } : sensors,
    monitors:
      smoothing === "none"
        ? monitors.map((m) => (m.id === "lowGain" ? { ...m, smoothingS: 0 } : m))
        : monitors,
  };
}

/** 0.5 ms beside 0.2 ms. */
const UNMATCHED = 2.5;
