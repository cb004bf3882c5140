/** Order of the test files: what takes longest begins first, so that the end does not wait for one core. */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Whole minutes and seconds of simulated time; every other file takes a few seconds at most. */
const LONG = ["ordinaryUse", "tableOfCases", "faults", "liveEngine"];

function rank(file: TestSpecification): number {
  const place = LONG.findIndex((name) => file.moduleId.endsWith(`/${name}.test.ts`));
  return place < 0 ? LONG.length : place;
}

/** A fresh clone knows no durations yet; the long files are therefore named. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}
