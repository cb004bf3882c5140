import { describe, expect, it } from "vitest";
import { compareWithCsv, csvOf } from "./golden";

const trace = { timeS: [0, 0.001, 0.002], plateCurrentA: [0, 0.7123456, -0.81] };

describe("a golden trace", () => {
  it("agrees with itself within its six digits", () => {
    expect(csvOf(trace).split("\n")[2]).toBe("0.00100000,0.712346");
    compareWithCsv(csvOf(trace), trace, 5e-6, "half a unit of the sixth digit");
  });

  it("fails on a changed value, a missing row and another column", () => {
    const compare = (columns: Readonly<Record<string, readonly number[]>>) => () =>
      compareWithCsv(csvOf(trace), columns, 1e-4, "as in use");
    expect(compare({ ...trace, plateCurrentA: [0, 0.7124456, -0.81] })).toThrow("row 1");
    expect(compare({ timeS: [0, 0.001], plateCurrentA: [0, 0.7123456] })).toThrow("rows of timeS");
    expect(compare({ timeS: trace.timeS })).toThrow();
  });
});
