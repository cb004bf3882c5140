/**
 * Forward gain over drive as a table of plain numbers, read by straight lines over the square root of the drive: what
 * is solved where the run is made can be read wherever it is shown.
 */
export const GAIN_STEPS = 48;
const HIGHEST_W = 300;
const ROOT_STEP = Math.sqrt(HIGHEST_W) / GAIN_STEPS;

/** Expected forward gain in dB at an available drive in watts; NaN where none is known. */
export type ExpectedGain = (driveW: number) => number;

export interface GainTable {
  /** dB at the drives of `gainStepW`, GAIN_STEPS + 1 of them; NaN from the first that is not known. */
  readonly gainsDb: readonly number[];
  /**
   * Highest drive in watts at which a working point was found: Infinity where the whole table settled (above
   * its end it stays as it is there), -Infinity where nothing did.
   */
  readonly knownToW: number;
}

/** Drive of a step of the table, W. */
export function gainStepW(step: number): number {
  const root = ROOT_STEP * step;
  return root * root;
}

/** A table whose steps are known up to the given one. */
export function gainTable(gainsDb: readonly number[], known: number): GainTable {
  const knownToW = known === GAIN_STEPS ? Infinity : known === 0 ? -Infinity : gainStepW(known);
  return { gainsDb, knownToW };
}

/** The table as a law. */
export function expectedGainFrom({ gainsDb, knownToW }: GainTable): ExpectedGain {
  let known = 0;
  while (known < GAIN_STEPS && !Number.isNaN(gainsDb[known + 1] as number)) known++;
  return (driveW) => {
    // the last known drive itself is known, whichever way its root is rounded
    const end = driveW <= knownToW ? known : GAIN_STEPS;
    const at = Math.min(Math.max(Math.sqrt(Math.max(driveW, 0)) / ROOT_STEP, 0), end);
    const k = Math.min(Math.floor(at), GAIN_STEPS - 1);
    const a = gainsDb[k] as number;
    if (at === k) return a;
    return a + ((gainsDb[k + 1] as number) - a) * (at - k);
  };
}

/** The table behind a law that reads one. */
export function tableBehind(law: ExpectedGain, knownToW = Infinity): GainTable {
  return { gainsDb: Array.from({ length: GAIN_STEPS + 1 }, (_, k) => law(gainStepW(k))), knownToW };
}
