import { describe, expect, it } from "vitest";
import type { CoverageSummary, OpenCell } from "../../../src/study/trials/coverage";
import { type CellKind, KINDS } from "../../../src/study/trials/judgeCell";
import { requirementFailures } from "../../../src/study/trials/requirement";

function open(index: number, kind: CellKind, accepted: string | null = null): OpenCell {
  return {
    index,
    label: `cell ${index}`,
    fault: "arc",
    part: "outputContact",
    band: "20 m",
    kind,
    reason: "why",
    margin: kind === "notCovered" ? null : 2,
    marginEarly: kind === "notCovered" ? null : 1,
    accepted,
  };
}

function summary(
  cells: readonly OpenCell[],
  change: Partial<CoverageSummary> = {},
): CoverageSummary {
  const counts = Object.fromEntries(KINDS.map((kind) => [kind, 0])) as CoverageSummary["counts"];
  return {
    done: 10,
    count: 10,
    counts,
    coveredEarly: { late: 0, thin: 0 },
    rows: [],
    open: cells,
    leftOut: [],
    requiredMargin: 3,
    requiredMarginHalfMilligram: 5,
    ...change,
  };
}

const quiet = { falseTripsPerHourUpper: 0.1, notRun: 0, problems: [] };
const REQUIRED = { margin: 3, nuisancePerHour: 0.1, acceptsLeftOut: false };

describe("what is required of a scheme", () => {
  it("is met by a table without an open cell and a rate under the limit", () => {
    expect(requirementFailures(summary([]), quiet, REQUIRED)).toEqual([]);
    expect(requirementFailures(summary([]), null, REQUIRED)).toEqual([]);
  });

  it("fails by each open cell that nobody has accepted, in order", () => {
    const cells = [open(3, "thin"), open(4, "late", "cheap part"), open(7, "notCovered")];
    const failures = requirementFailures(summary(cells), null, REQUIRED);
    expect(failures.map((f) => f.cell?.index)).toEqual([3, 7]);
    expect(failures[0]?.cell).toEqual({
      index: 3,
      label: "cell 3",
      kind: "thin",
      margin: 2,
      marginEarly: 1,
    });
    expect(failures[1]?.cell).toMatchObject({ kind: "notCovered", margin: null });
  });

  it("fails by the upper end of the false trips, not by their mean", () => {
    const often = { ...quiet, falseTripsPerHourUpper: 0.37 };
    const [failure] = requirementFailures(summary([]), often, REQUIRED);
    expect(failure?.cell).toBeNull();
    expect(failure?.reason).toContain("0.37 times an hour");
  });

  it("is not met while a band has not been run, unless that is accepted", () => {
    const why = "the circuit finds no settled working point";
    const band = { what: "6 m", band: "6 m", why, accepted: null };
    const fault = { what: "Antenna sways", band: null, why: "no antenna", accepted: null };
    const reasonsOf = (leftOut: CoverageSummary["leftOut"], acceptsLeftOut = false) =>
      requirementFailures(summary([], { leftOut }), null, { ...REQUIRED, acceptsLeftOut }).map(
        ({ reason }) => reason,
      );
    expect(reasonsOf([fault, band])).toEqual([`the band 6 m has not been run: ${why}`]);
    expect(reasonsOf([fault, { ...band, accepted: "never used" }])).toEqual([]);
    expect(reasonsOf([fault, band], true)).toEqual([]);
  });

  it("is not met while ordinary use could not be run, unless that is accepted", () => {
    const at = (index: number, problem: string) => ({ index, label: `speech ${index}`, problem });
    const problems = [at(4, "no working point"), at(5, "no working point"), at(9, "no design")];
    const failing = { ...quiet, notRun: 5, problems };
    const reasonsOf = (acceptsLeftOut: boolean) =>
      requirementFailures(summary([]), failing, { ...REQUIRED, acceptsLeftOut }).map(
        ({ reason }) => reason,
      );
    expect(reasonsOf(false)).toEqual([
      '2 cases of ordinary use could not be run, such as "speech 4": no working point',
      '1 case of ordinary use could not be run, such as "speech 9": no design',
      "2 more cases of ordinary use could not be run",
    ]);
    expect(reasonsOf(true)).toEqual([]);
  });

  it("is not met by a table that is unfinished or was judged otherwise", () => {
    const failures = requirementFailures(
      summary([], { done: 8, requiredMargin: 2 }),
      null,
      REQUIRED,
    );
    expect(failures.map((f) => f.reason)).toEqual([
      "the coverage was judged by a margin of 2, not 3",
      "2 of 10 cells of the coverage have not been run",
    ]);
  });
});
