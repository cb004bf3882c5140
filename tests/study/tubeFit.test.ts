import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findRegisteredTube } from "../../src/project/tubes";
import { minimise } from "../../src/shells/fit/leastSquares";
import { fitTube, type HeldValues, type TubeFit } from "../../src/study/tubeFit";
import type { CurvePoint, OperationPoint, TubePoint } from "../../src/study/tubePoints";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";
import { columnPoints } from "./columnPoints";

type Fitted = Extract<TubeFit, { ok: true }>;

function fitted(points: readonly TubePoint[], held: HeldValues): Fitted {
  const fit = fitTube(points, held, minimise);
  if (!fit.ok) throw new Error(JSON.stringify(fit.problems));
  return fit;
}

function columnsOf(type: string): readonly OperationPoint[] {
  const tube = findRegisteredTube(type);
  if (tube === null) throw new Error(`no type ${type}`);
  return columnPoints(tube);
}

const kinds = (fit: Fitted) => fit.warnings.map((warning) => warning.kind);

describe("a fit to columns of typical operation", () => {
  // Fits of the sharp law by another program (scipy least_squares, 360 points a cycle): K, mu, v0, delta, rms.
  it.each([
    ["3-500Z", { mu: 130, offsetV: 0 }, 1.528e-3, 130, 0, 1.049, 0.042],
    ["3-500Z", { offsetV: 0 }, 2.012e-3, 151.2, 0, 0.962, 0.032],
    ["8877", { mu: 200, offsetV: 0 }, 6.384e-3, 200, 0, 3.383, 0.072],
    ["8877", { mu: 200 }, 5.768e-3, 200, 1.03, 3.453, 0.062],
  ] as const)(
    "of the %s, held %o, finds the published parameters",
    (type, held, K, mu, v0, delta, rms) => {
      const points = columnsOf(type).filter((point) => type === "8877" || point.plateV <= 3000);
      const fit = fitted(points, held);
      const soft =
        "soft edges lower the idle current at zero bias by 1 to 2 %, which K and mu make up for";
      expectWithin(fit.tube.perveanceAPerV1p5, K, 0.04 * K, soft);
      expectWithin(fit.tube.mu, mu, 0.02 * mu, soft);
      expectWithin(fit.tube.offsetV, v0, 0.05, soft);
      expectWithin(fit.tube.divisionRatio, delta, 0.015 * delta, soft);
      expectWithin(fit.rmsResidual, rms, 0.003, soft);
      expect(kinds(fit)).toEqual([]);
    },
  );

  it("leaves at each figure what the published table leaves", () => {
    // Fit "v0 free": model over column of the 8877, 2700 V and 3500 V.
    const fit = fitted(columnsOf("8877"), { mu: 200 });
    const expected: readonly (readonly [string, number, number])[] = [
      ["idleA", 0.092, 0.092],
      ["gridCurrentA", 0.046, 0.046],
      ["driveW", 41, 40],
      ["outputW", 1260, 1260],
      ["idleA", 0.182, 0.191],
      ["gridCurrentA", 0.074, 0.074],
      ["driveW", 64, 65.5],
      ["outputW", 2075, 2457],
    ];
    expect(fit.residuals.map(({ quantity, stated }) => [quantity, stated])).toEqual(
      expected.map(([quantity, stated]) => [quantity, stated]),
    );
    for (const [index, [quantity, stated, modelled]] of expected.entries()) {
      const got = fit.residuals[index];
      const printed = `${quantity}: printed digits and soft edges`;
      expectWithin(got?.modelled ?? 0, modelled, 0.01 * modelled, printed);
      const weight = quantity === "idleA" ? 0.5 : 1;
      expectWithin(got?.residual ?? 0, weight * Math.log(modelled / stated), 0.01, printed);
    }
  });

  it("is rounded to six digits, the offset to a tenth of a millivolt", () => {
    const { tube } = fitted(columnsOf("8877"), { mu: 200 });
    for (const value of [tube.perveanceAPerV1p5, tube.mu, tube.divisionRatio]) {
      expect(Number(value.toPrecision(6))).toBe(value);
    }
    expect(Number(tube.offsetV.toFixed(4))).toBe(tube.offsetV);
  });
});

/** Points of the sharp law, written from its formulas; `noise` gives one factor for every figure. */
function curves(
  K: number,
  mu: number,
  v0: number,
  delta: number,
  noise: readonly number[],
): CurvePoint[] {
  const points: CurvePoint[] = [];
  for (const gridV of [-5, 5, 15, 30, 50, 80]) {
    for (const plateV of [500, 1000, 1700, 2500, 3500]) {
      const u = gridV + plateV / mu + v0;
      if (u < 3 || (gridV > 0 && gridV < 3)) continue; // clear of the soft edges
      const ik = K * u ** 1.5;
      const ratio = gridV > 0 ? delta * Math.sqrt(plateV / gridV) : Infinity;
      const at = 2 * points.length;
      const gridA = gridV > 0 ? ik / (1 + ratio) : 0;
      points.push({
        kind: "curve",
        gridV,
        plateV,
        plateCurrentA: (ik - gridA) * (1 + 0.01 * (noise[at] ?? 0)),
        gridCurrentA: gridA * (1 + 0.01 * (noise[at + 1] ?? 0)),
      });
    }
  }
  return points;
}

describe("a fit to points of the curves", () => {
  it("finds the law that made them, read with one per cent of error", () => {
    fc.assert(
      fc.property(
        fc.record({
          K: fc.double({ min: 5e-4, max: 1e-2, noNaN: true }),
          mu: fc.double({ min: 50, max: 250, noNaN: true }),
          v0: fc.double({ min: -2, max: 2, noNaN: true }),
          delta: fc.double({ min: 0.8, max: 4, noNaN: true }),
        }),
        // uniform over +-sqrt(3): standard deviation 1
        fc.array(fc.double({ min: -1.732, max: 1.732, noNaN: true }), {
          minLength: 60,
          maxLength: 60,
        }),
        ({ K, mu, v0, delta }, noise) => {
          const { tube, rmsResidual } = fitted(curves(K, mu, v0, delta, noise), {});
          const why = "five times the spread over 150 draws: 0.26 %, 0.40 %, 0.04 V, 0.32 %";
          expectWithin(tube.perveanceAPerV1p5, K, 0.013 * K, why);
          expectWithin(tube.mu, mu, 0.02 * mu, why);
          expectWithin(tube.offsetV, v0, 0.2, why);
          expectWithin(tube.divisionRatio, delta, 0.016 * delta, why);
          expect(rmsResidual).toBeLessThan(0.02);
        },
      ),
      fixedRuns(6),
    );
  });

  it("takes zero grid current as a figure like any other", () => {
    const points = curves(2e-3, 100, 0, 2, []);
    expect(points.some(({ gridCurrentA }) => gridCurrentA === 0)).toBe(true);
    const fit = fitted(points, { offsetV: 0 });
    // No noise: what is left is the soft edge of 20 V on a plate of 500 V and more, and of 2 V on a grid of 5 V.
    expectWithin(fit.tube.mu, 100, 0.2, "exact law, clear of its soft edges");
    expect(kinds(fit)).toEqual([]);
  });
});

describe("a fit that cannot be trusted says why", () => {
  const column = columnsOf("8877")[0] as OperationPoint;

  it("poor: a figure ten times too large", () => {
    const wrong = columnsOf("8877").map((point) => ({
      ...point,
      gridCurrentA: 10 * (point.gridCurrentA ?? 0),
      idleA: 0.02,
    }));
    const fit = fitted(wrong, { mu: 200, offsetV: 0 });
    expect(kinds(fit)).toContain("poorFit");
    expect(fit.warnings.find(({ kind }) => kind === "poorFit")?.message).toMatch(/\d %/);
  });

  it("all points at one plate voltage: the offset is held at zero and said to be", () => {
    const fit = fitted([column], {});
    expect(fit.tube.offsetV).toBe(0);
    expect(kinds(fit)).toContain("held");
  });

  it("as many figures as unknowns: nothing is left to check", () => {
    const fit = fitted([{ ...column, idleA: null, outputW: null }], { mu: 200, offsetV: 0 });
    expect(kinds(fit)).toContain("nothingToCheck");
    expectWithin(fit.rmsResidual, 0, 1e-4, "two figures met by two unknowns, after rounding");
  });

  it("amplification and offset from two columns alone: uncertain, in per cent", () => {
    const fit = fitted(columnsOf("8877"), {});
    const about = fit.warnings.filter(({ kind }) => kind === "uncertain");
    expect(about.map(({ message }) => message)).toEqual([
      expect.stringMatching(/amplification factor only to \d+ %; give points at other plate volt/),
    ]);
    expect(fit.uncertainty.mu).toBeGreaterThan(0.2);
  });

  it("a column no drive can reach is named", () => {
    const far = { ...column, plateLoadOhm: 200e3 };
    const fit = fitted([...columnsOf("8877"), far], { mu: 200, offsetV: 0 });
    expect(fit.warnings.find(({ kind }) => kind === "unreachable")?.message).toContain("point 3");
  });
});

describe("points that cannot be fitted", () => {
  const column = columnsOf("8877")[0] as OperationPoint;
  const problemsOf = (points: readonly TubePoint[], held: HeldValues = {}) => {
    const fit = fitTube(points, held, ({ start }) => start);
    if (fit.ok) throw new Error("fitted, against expectation");
    return fit.problems.map(({ point, message, remedy }) => `${point}: ${message}; ${remedy}`);
  };

  it.each([
    ["no point at all", [], {}, "null: there is no point to fit"],
    [
      "a voltage that is no number",
      [{ ...column, plateV: Number.NaN }],
      {},
      "0: the plate voltage is NaN",
    ],
    [
      "a negative plate current",
      [{ ...column, plateCurrentA: -1 }],
      {},
      "0: the plate current is -1",
    ],
    [
      "milliamperes for amperes at rest",
      [{ ...column, idleA: 92 }],
      {},
      "0: the idle current, 92 A, is not below",
    ],
    ["half a tube", [{ ...column, tubes: 0.5 }], {}, "0: the number of tubes is not whole"],
    [
      "too few figures",
      [{ ...column, driveW: null, outputW: null }],
      {},
      "null: 2 figures for 3 unknowns",
    ],
    [
      "no grid current",
      [{ ...column, gridCurrentA: null }],
      { mu: 200 },
      "null: no point tells the grid current",
    ],
    ["an amplification of zero", [column], { mu: 0 }, "null: the amplification factor held is 0"],
  ] as const)("%s: the cause and what to do", (_, points, held, start) => {
    const [first] = problemsOf(points, held);
    expect(first).toContain(start);
    expect(first?.split("; ")[1]).toMatch(/\S/);
  });

  it("never throw, whatever they are", () => {
    const figure = fc.oneof(
      fc.double(),
      fc.constantFrom(0, -1, 1e-9, 1e6, Number.NaN, Number.POSITIVE_INFINITY),
      fc.double({ min: 0.01, max: 4000, noNaN: true }),
    );
    const open = fc.oneof(figure, fc.constant(null));
    const point = fc.oneof(
      fc.record({
        kind: fc.constant("operation" as const),
        tubes: fc.oneof(fc.constant(1), figure),
        plateV: figure,
        cathodeV: figure,
        plateCurrentA: figure,
        plateLoadOhm: open,
        idleA: open,
        gridCurrentA: open,
        driveW: open,
        outputW: open,
      }),
      fc.record({
        kind: fc.constant("curve" as const),
        gridV: figure,
        plateV: figure,
        plateCurrentA: figure,
        gridCurrentA: open,
      }),
    );
    const sound = fc.double({ min: 0.01, max: 4000, noNaN: true });
    const soundCurve = fc.record({
      kind: fc.constant("curve" as const),
      gridV: fc.double({ min: -500, max: 500, noNaN: true }),
      plateV: sound,
      plateCurrentA: sound,
      gridCurrentA: sound,
    });
    const lists = fc.oneof(
      fc.array(point, { maxLength: 3 }),
      fc.array(soundCurve, { minLength: 4, maxLength: 6 }),
    );
    fc.assert(
      fc.property(lists, (points) => {
        const fit = fitTube(points, {}, minimise);
        if (fit.ok) {
          for (const value of Object.values(fit.tube)) expect(Number.isFinite(value)).toBe(true);
          expect(Number.isFinite(fit.rmsResidual)).toBe(true);
        } else expect(fit.problems.length).toBeGreaterThan(0);
      }),
      fixedRuns(25),
    );
  });
});
