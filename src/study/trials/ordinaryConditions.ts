/**
 * What a healthy station may meet: each condition is a change of the project, laid over any use. Nothing here is a fault a
 * monitor ought to find.
 *
 * Figures: overshoot of 3 dB with 10 ms and VSWR 1.5 at eight phases are commonly met (common practice, no source); a tube that
 * has lost a fifth of its perveance, couplers 5 % off in opposite directions and mains within 5 % are estimates [E].
 */
import type { ScenarioEntry } from "../../project/scenario";
import type { Project } from "../../project/types";

export interface Condition {
  readonly id: string;
  readonly words: string;
  readonly apply: (project: Project) => Project;
}

const SWR_MAGNITUDE = 0.2; // VSWR 1.5
const PHASES = 8;

const asDesigned: Condition = { id: "asDesigned", words: "as designed", apply: (p) => p };

const overshoot: Condition = {
  id: "overshoot",
  words: "leading edges 3 dB over for 10 ms",
  apply: (p) => withOvershoot(p, 3),
};

const agedTube: Condition = {
  id: "agedTube",
  words: "tube aged by a fifth",
  apply: (p) => withAgedTube(p, 0.2),
};

const couplerError: Condition = {
  id: "couplerError",
  words: "output coupler 5 % low, drive coupler 5 % high",
  apply: (p) => withCouplerError(p, 0.05),
};

const lowMains: Condition = {
  id: "lowMains",
  words: "mains 5 % low",
  apply: (p) => withMains(p, 0.95),
};

const highMains: Condition = {
  id: "highMains",
  words: "mains 5 % high",
  apply: (p) => withMains(p, 1.05),
};

const mismatched = Array.from({ length: PHASES }, (_, k): Condition => {
  const degrees = (360 * k) / PHASES;
  return {
    id: `swr1.5at${degrees}`,
    words: `VSWR 1.5 at ${degrees} degrees`,
    apply: (p) => withMismatch(p, SWR_MAGNITUDE, (2 * Math.PI * k) / PHASES),
  };
});

/** As designed twice: most of the time is spent there. */
export const CONDITIONS: readonly Condition[] = [
  asDesigned,
  overshoot,
  agedTube,
  couplerError,
  ...mismatched,
  asDesigned,
  lowMains,
  highMains,
];

/** A load of a reflection, left as it is tuned. */
export function withMismatch(project: Project, magnitude: number, phaseRad: number): Project {
  const load = { kind: "reflection", magnitude, phaseRad } as const;
  return { ...project, station: { ...project.station, load } };
}

export function withOvershoot(project: Project, overshootDb: number): Project {
  const { station } = project;
  const exciter = { ...station.exciter, overshootDb, overshootS: 10e-3 };
  return { ...project, station: { ...station, exciter } };
}

/** The tube has lost this share of its perveance; what is expected of it stays that of a new one. */
export function withAgedTube(project: Project, share: number): Project {
  return withEntry(project, {
    atS: 0,
    do: "placeFault",
    fault: "tubeAgeing",
    part: "tube",
    severity: share,
  });
}

export function withCouplerError(project: Project, error: number): Project {
  const { sensors } = project;
  const driveForwardW = { ...sensors.driveForwardW, gainError: error };
  const outputForwardW = { ...sensors.outputForwardW, gainError: -error };
  return { ...project, sensors: { ...sensors, driveForwardW, outputForwardW } };
}

function withMains(project: Project, ratio: number): Project {
  return withEntry(project, {
    atS: 0,
    do: "placeFault",
    fault: "mainsLevel",
    part: "supply",
    severity: ratio,
  });
}

/** One more thing at the very beginning. */
function withEntry(project: Project, entry: ScenarioEntry): Project {
  return { ...project, scenario: [entry, ...project.scenario] };
}
