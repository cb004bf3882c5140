import { describe, expect, it } from "vitest";
import type { Plain, Trial, TrialPlan, TrialRequest } from "../../../src/study/trials/trial";
import { Desk } from "./trialDesk";

interface Cell {
  readonly kind: string;
  readonly accepted: string | null;
}

/** Trials whose summaries hold what the verdict reads: open cells, and false trips in the hours that were asked for. */
function desk(
  open: readonly Cell[],
  falseTrips = 0,
  leftOut: readonly Plain[] = [],
  problems: readonly Plain[] = [],
) {
  const asked: TrialRequest[] = [];
  const plan = (request: TrialRequest): TrialPlan => {
    asked.push(request);
    const { hours = 0, requiredMargin = null } = request.options ?? {};
    const cells = open.map((cell, index) => ({
      index,
      label: `cell ${index}`,
      reason: "melting begins before clearing",
      ...cell,
    }));
    const summary: Plain =
      request.kind === "coverage"
        ? {
            count: 6,
            done: 6,
            counts: { covered: 6 - open.length },
            open: cells,
            leftOut,
            requiredMargin,
          }
        : // the upper end of the exact 95 % interval of 0 and of 1 event: 3.689 and 5.572 (chi-square tables, halves of
          // 7.378 with 2 and 11.143 with 4 degrees of freedom at 0.975)
          {
            hours,
            notRun: problems.length,
            problems,
            all: {
              count: falseTrips,
              high: (falseTrips === 0 ? 3.689 : 5.572) / Number(hours),
            },
          };
    const trial: Trial = {
      kind: request.kind,
      count: 6,
      labelOf: (index: number) => `cell ${index}`,
      run: (index) => index,
      *steps(index) {
        yield;
        return index;
      },
      openOnBench: () => null,
      summarise: () => summary,
    };
    return { ok: true, trial };
  };
  const on = new Desk();
  on.plan = plan;
  return { on, asked };
}

const late = { kind: "late", accepted: null };
const accepted = { kind: "thin", accepted: "changed at every overhaul" };

describe("a requirement", () => {
  it("is met where every open cell is accepted, and the rate is shown by hours enough", async () => {
    const { on, asked } = desk([accepted]);
    const words = ["require", "p.json", "--margin", "4", "--nuisance-per-hour", "0.1"];
    const { status, out, error } = await on.run(...words);
    expect([status, error]).toEqual([0, ""]);
    expect(JSON.parse(out)).toMatchObject({
      isMet: true,
      margin: 4,
      nuisancePerHour: 0.1,
      failures: [],
      accepted: [{ label: "cell 0", accepted: "changed at every overhaul" }],
    });
    expect(asked.find((r) => r.kind === "coverage")?.options).toEqual({ requiredMargin: 4 });
    // 3.689 events are the upper end for none, so 36.89 h without a trip show 0.1 an hour
    expect(asked.find((r) => r.kind === "nuisance")?.options).toMatchObject({ hours: 37 });
  });

  it("is not met by a cell that is late, which is named", async () => {
    const { on } = desk([accepted, late]);
    const { status, out } = await on.run("require", "p.json");
    expect(status).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      isMet: false,
      margin: 3,
      nuisance: null,
      failures: [
        {
          cell: { index: 1, label: "cell 1", kind: "late" },
          reason: "melting begins before clearing",
        },
      ],
    });
  });

  it("is not met by more false trips than allowed", async () => {
    const { on } = desk([], 1);
    const { status, out } = await on.run("require", "p.json", "--nuisance-per-hour", "0.1");
    expect(status).toBe(1);
    expect(JSON.parse(out).failures).toHaveLength(1);
  });

  it("is not met by a band that cannot be run, until that is said to be right", async () => {
    const band = { what: "6 m", band: "6 m", why: "the coil is too large", accepted: null };
    const { on } = desk([], 0, [band]);
    const refused = await on.run("require", "p.json");
    expect(refused.status).toBe(1);
    expect(JSON.parse(refused.out)).toMatchObject({
      isMet: false,
      failures: [{ cell: null, reason: "the band 6 m has not been run: the coil is too large" }],
      leftOut: [band],
    });
    const passed = await on.run("require", "p.json", "--accept-left-out");
    expect(passed.status).toBe(0);
    expect(JSON.parse(passed.out)).toMatchObject({ isMet: true, failures: [], leftOut: [band] });
  });

  it("is not met where ordinary use cannot be run, and prints it", async () => {
    const problem = { index: 7, label: "two tones", problem: "the coil is too large" };
    const words = ["require", "p.json", "--nuisance-per-hour", "4"];
    const { on } = desk([], 0, [], [problem]);
    const refused = await on.run(...words);
    expect(refused.status).toBe(1);
    expect(JSON.parse(refused.out)).toMatchObject({
      failures: [{ cell: null, reason: expect.stringContaining("two tones") }],
      nuisance: { notRun: 1, problems: [problem] },
    });
    expect((await on.run(...words, "--accept-left-out")).status).toBe(0);
  });

  it("is no verdict where a case has failed", async () => {
    const { on } = desk([]);
    on.mischief = [{ index: 2, how: "throw", times: 9 }];
    const { status, error } = await on.run("require", "p.json");
    expect(status).toBe(1);
    expect(error).toMatch(/caseFailed/);
  });

  it("runs the trials with options of their own", async () => {
    const { on, asked } = desk([]);
    const options = '{"coverage":{"swr":1,"requiredMargin":9},"nuisance":{"hours":2}}';
    await on.run("require", "p.json", "--nuisance-per-hour", "4", "--options", options);
    expect(asked[0]?.options).toEqual({ swr: 1, requiredMargin: 3 });
    expect(asked[1]?.options).toEqual({ hours: 2, exceptions: false });
  });

  it.each([
    [["require"], /missingFile: require needs a project file/],
    [["require", "p.json", "--margin", "three"], /badNumber: --margin is "three"/],
    [["require", "p.json", "--nuisance-per-hour", "0"], /badNumber: .* from 0\.001 to/],
    [["require", "p.json", "--options", '{"window":{}}'], /^--options: unknownKey: "window"/],
    [["require", "p.json", "--options", '{"coverage":[]}'], /^--options: wrongType: "coverage"/],
    [["require", "p.json", "--kind", "coverage"], /unknownOption: "--kind"/],
  ] as const)("refuses %j with status 2", async (words, complaint) => {
    const { status, out, error } = await desk([]).on.run(...words);
    expect([status, out]).toEqual([2, ""]);
    expect(error).toMatch(complaint);
  });
});
