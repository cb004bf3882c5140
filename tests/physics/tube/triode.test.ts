/**
 * The tube's law at rest and averaged over a cycle. Data-sheet figures are those of a least-squares fit of the sharp
 * law (ik = K max(0, u)^1.5, no soft edges) to typical-operation columns remembered from tube manuals and not checked
 * on paper; what is tested is that the averages give what the fit gave, not that the sheets are right.
 */
import { describe, expect, it } from "vitest";
import { lowestOnCycleV, TriodeAverages, type TriodeLaw } from "../../../src/physics/tube/triode";
import { expectWithin } from "../../support/expectWithin";

const LAW: TriodeLaw = { perveance: 0.0042, mu: 200, divisionRatio: 3, offsetV: 0 };

interface Currents {
  readonly Ip: number;
  readonly Ig: number;
  readonly I1: number;
  readonly G1: number;
}

/**
 * In phase as behind a tuned input circuit: cathode most negative and plate lowest at half a cycle, so the phasors
 * are the peaks `Vk` and `Vp` themselves, both against ground. Currents are counted positive at that instant.
 */
function averages(law: TriodeLaw, Vc: number, Eb: number, Vk: number, Vp: number): Currents {
  const t = new TriodeAverages();
  // one array for both: cathode phasors at 0, plate at 2, stride 4
  t.evaluate(law, Vc, Eb, Float64Array.from([Vk, 0, Vp, 0, 0, 0, 0, 0]), 0, 2, 4);
  const I1 = -(t.plate[0] as number);
  return {
    Ip: t.plateDcA,
    Ig: t.cathodeDcA - t.plateDcA,
    I1,
    G1: -(t.cathode[0] as number) - I1,
  };
}

/** Uniform midpoint rule of 20,000 points over the softened law, written from its formulas. */
function fineAverages(law: TriodeLaw, Vc: number, Eb: number, Vk: number, Vp: number): Currents {
  const pos = (x: number, s: number): number =>
    x < -s ? 0 : x > s ? x : ((x + s) * (x + s)) / (4 * s);
  const n = 20_000;
  let Ip = 0;
  let Ik = 0;
  let I1 = 0;
  let K1 = 0;
  for (let i = 0; i < n; i++) {
    const c = Math.cos(((i + 0.5) * 2 * Math.PI) / n); // from the trough on: the cycle is even
    const vk = Vc - Vk * c;
    const vp = Eb - Vp * c - vk;
    const ik = law.perveance * pos(-vk + vp / law.mu + law.offsetV, 1) ** 1.5;
    const a = Math.sqrt(pos(-vk, 2));
    const b = law.divisionRatio * Math.sqrt(pos(vp, 20));
    const ip = a + b === 0 ? ik : (ik * b) / (a + b);
    Ip += ip / n;
    Ik += ik / n;
    I1 += (2 * ip * c) / n;
    K1 += (2 * ik * c) / n;
  }
  return { Ip, Ig: Ik - Ip, I1, G1: K1 - I1 };
}

describe("triode at rest", () => {
  it("emits after the three-halves law of u = -vk + vp/mu", () => {
    // vk = -50, plate 2350 to ground: vp = 2400, u = 50 + 12 = 62, 0.0042 x 62^1.5 = 0.0042 x 488.188 = 2.05039 A
    const { Ip, Ig } = averages(LAW, -50, 2350, 0, 0);
    expectWithin(Ip + Ig, 2.05039, 1e-5, "one unit of the last digit");
  });

  it("divides as delta sqrt(vp/vg)", () => {
    // 3 sqrt(2400/50) = 20.7846
    const { Ip, Ig } = averages(LAW, -50, 2350, 0, 0);
    expectWithin(Ip / Ig, 20.7846, 1e-4, "one unit of the last digit");
  });

  it("takes no grid current from a cathode more than the soft edge above ground", () => {
    expect(averages(LAW, 2, 3000, 0, 0).Ig).toBe(0);
    expect(averages(LAW, 1.5, 3000, 0, 0).Ig).toBeGreaterThan(0);
  });

  it("is cut off when the drive potential is a volt below zero", () => {
    // (Eb - vk)/200 - vk = -1 at vk = (3000/200 + 1)/(1 + 1/200) = 15.9204
    expect(averages(LAW, 15.93, 3000, 0, 0).Ip).toBe(0);
    expect(averages(LAW, 15.9, 3000, 0, 0).Ip).toBeGreaterThan(0);
  });

  it("gives all to the grid when the plate is more than the soft edge below the cathode", () => {
    // vk = -60, plate to ground -90: vp = -30; u = 60 - 0.15 = 59.85, 0.0042 x 59.85^1.5 = 1.94467
    const { Ip, Ig } = averages(LAW, -60, -90, 0, 0);
    expect(Ip).toBe(0);
    expectWithin(Ig, 1.94467, 1e-5, "one unit of the last digit");
  });

  it("judges the plate against the cathode, not against ground", () => {
    // plate at +10 V to ground, cathode at -60: vp = 70 is a plate that still draws
    const { Ip, Ig } = averages(LAW, -60, 10, 0, 0);
    // 3 sqrt(70/60) = 3.24037
    expectWithin(Ip / Ig, 3.24037, 1e-5, "one unit of the last digit");
  });

  it("meets the sharp law one soft edge away and is smooth in between", () => {
    // pos(0, 1 V) = 1/4 V: ik = K/8 at the corner; vk = 12, vp = 2400, u = 0
    const { Ip } = averages(LAW, 12, 2412, 0, 0);
    expectWithin(Ip, 0.0042 / 8, 1e-12, "exact by the polynomial");
  });
});

describe("averages over a cycle", () => {
  it.each([
    // Vc, Eb, Vk, Vp: full drive, half, small, clamped, plate below the cathode
    [9, 3000, 88, 2465, 0.004, 0.004],
    [9, 3000, 65, 1716, 0.004, 0.004],
    [9, 3000, 8.6, 205, 0.004, 0.004],
    [9, 3000, 82, 250, 0.004, 0.004],
    [9, 2500, 88, 2364, 0.004, 0.004],
    // plate below the cathode at the trough: the edge is steeper than the points are close
    [9, 3000, 88, 3200, 0.03, 0.03],
    [9, 3000, 88, 3400, 0.07, 0.05],
  ])(
    "agree with a fine rule: bias %d, plate %d, drive %d, swing %d",
    (Vc, Eb, Vk, Vp, plate, grid) => {
      const got = averages(LAW, Vc, Eb, Vk, Vp);
      const fine = fineAverages(LAW, Vc, Eb, Vk, Vp);
      const why = "32 graded points across the law's edges";
      expectWithin(got.Ip / fine.Ip, 1, plate, why);
      expectWithin(got.I1 / fine.I1, 1, plate, why);
      expectWithin(got.Ig, fine.Ig, grid * Math.max(fine.Ig, 0.07), why);
      expectWithin(got.G1, fine.G1, grid * Math.max(fine.G1, 0.13), why);
    },
  );

  it("do not depend on which way round the phases lean", () => {
    // conjugate phasors mirror the cycle
    const t = new TriodeAverages();
    const u = new TriodeAverages();
    t.evaluate(LAW, 9, 3000, Float64Array.from([88, 7, 2300, 400, 5, 3, 40, -30]), 0, 2, 4);
    u.evaluate(LAW, 9, 3000, Float64Array.from([88, -7, 2300, -400, 5, -3, 40, 30]), 0, 2, 4);
    expectWithin(t.plateDcA, u.plateDcA, 1e-14, "rounding");
    expectWithin(t.plate[1] as number, -(u.plate[1] as number), 1e-14, "rounding");
    expectWithin(t.cathode[2] as number, u.cathode[2] as number, 1e-14, "rounding");
  });

  it("find the lowest plate voltage of a swing with a second harmonic", () => {
    // 3000 + 2000 cos th + 100 cos 2th is lowest at th = pi while 4 x 100 < 2000: 1100 V
    const y = Float64Array.from([2000, 0, 100, 0]);
    expectWithin(
      lowestOnCycleV(3000, y, 0, 2),
      1100,
      1,
      "points 3.4 degrees apart: 1.7 degrees off the trough, 0.04 % of 2000 V",
    );
  });
});

/** Fit "mu fixed" of the 3-500Z and fit "v0 free" of the 8877; columns and figures of the same fit. */
const TYPE_3_500Z: TriodeLaw = { perveance: 1.528e-3, mu: 130, divisionRatio: 1.049, offsetV: 0 };
const TYPE_8877: TriodeLaw = { perveance: 5.768e-3, mu: 200, divisionRatio: 3.453, offsetV: 1.03 };

describe("typical operation of registered types by the fitted law", () => {
  const FITTED = "fitted to the column; the fit's own residual is 4 to 7 % rms";

  it("3-500Z, 2500 V: idles near 129 mA", () => {
    const { Ip, Ig } = averages(TYPE_3_500Z, 0, 2500, 0, 0);
    expectWithin(Ip + Ig, 0.129, 0.0005, "printed to 1 mA");
    expectWithin(Ip, 0.129, 0.02 * 0.129, "at zero bias the soft edge lends the grid 1.3 %");
  });

  it("3-500Z, 2500 V, 101.8 V of drive: 400 mA, 118 mA, 635 W, 126 ohm", () => {
    const { Ip, Ig, I1, G1 } = averages(TYPE_3_500Z, 0, 2500, 101.8, 2094);
    expectWithin(Ip, 0.4, 0.02 * 0.4, "drive was solved for this; soft edges and printed digits");
    expectWithin(Ig, 0.118, 0.1 * 0.118, FITTED);
    expectWithin(0.5 * I1 * 2094, 635, 0.1 * 635, FITTED);
    expectWithin(101.8 / (I1 + G1), 126, 0.02 * 126, "2 % of the model: printed digits");
  });

  it.each([
    // Eb to ground = quoted plate-to-cathode voltage + bias
    [2700, 63.7, 2142, 0.74, 0.046, 40.0, 1260, 0.1],
    [3500, 77.2, 3135, 1.0, 0.074, 65.5, 2457, 0.15],
  ])("8877, %d V, %d V of drive", (Vb, Vk, Vp, ip, ig, drive, out, spread) => {
    const { Ip, Ig, I1, G1 } = averages(TYPE_8877, 8.2, Vb + 8.2, Vk, Vp);
    expectWithin(Ip, ip, 0.02 * ip, "drive was solved for this; soft edges and printed digits");
    expectWithin(Ig, ig, spread * ig, FITTED);
    expectWithin(0.5 * Vk * (I1 + G1), drive, spread * drive, FITTED);
    expectWithin(0.5 * I1 * Vp, out, spread * out, FITTED);
  });
});

describe("plate swing clamped by an arc while the drive voltage stays", () => {
  const before = averages(TYPE_3_500Z, 0, 2500, 101.8, 2094);
  const clamped = averages(TYPE_3_500Z, 0, 2500, 101.8, 250);
  const SOFT =
    "of the sharp law's figure: soft edges of 1, 2 and 20 V against swings of 100 and 2000 V, printed digits";

  it("raises the plate current to 1.315 times", () => {
    expectWithin(clamped.Ip / before.Ip, 1.315, 0.03 * 1.315, SOFT);
  });

  it("lowers the grid current to 0.76 times", () => {
    expectWithin(clamped.Ig / before.Ig, 0.76, 0.05 * 0.76, SOFT);
  });

  it("triples the plate dissipation: 396 W to 1254 W", () => {
    // Pp = Vb I0 + Vk I1/2 - Vp I1/2
    const lost = (c: Currents, Vp: number): number => 2500 * c.Ip + 0.5 * c.I1 * (101.8 - Vp);
    expectWithin(lost(before, 2094), 396, 0.03 * 396, SOFT);
    expectWithin(lost(clamped, 250), 1254, 0.03 * 1254, SOFT);
  });

  it("draws 541 mA and 89 mA with the plate's RF shorted", () => {
    const { Ip, Ig } = averages(TYPE_3_500Z, 0, 2500, 101.8, 0);
    expectWithin(Ip, 0.541, 0.02 * 0.541, SOFT);
    expectWithin(Ig, 0.089, 0.05 * 0.089, SOFT);
  });
});
