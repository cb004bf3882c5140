/**
 * Typical operation of single tubes. Figures are those of a least-squares fit of the sharp law (no soft edges, 360
 * points) to columns remembered from data sheets and not checked on paper; fit "mu fixed" of the 3-500Z, "v0 free" of
 * the 8877. Plate loads and voltages are the columns'.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type OperationCircuit,
  operationAtDrive,
  operationForOutput,
  operationForPlateCurrent,
  staticCurrents,
} from "../../../src/physics/tube/operation";
import type { TriodeLaw } from "../../../src/physics/tube/triode";
import { expectWithin } from "../../support/expectWithin";
import { fixedRuns } from "../../support/properties";

const TYPE_3_500Z: TriodeLaw = { perveance: 1.528e-3, mu: 130, divisionRatio: 1.049, offsetV: 0 };
const TYPE_8877: TriodeLaw = { perveance: 5.768e-3, mu: 200, divisionRatio: 3.453, offsetV: 1.03 };

function solved(law: TriodeLaw, circuit: OperationCircuit, plateCurrentA: number) {
  const search = operationForPlateCurrent(law, circuit, plateCurrentA);
  if (!search.ok) throw new Error(search.reason);
  return search.operation;
}

const SOFT = "2 %: the law's soft edges, and printed digits";

describe("a stage whose drive is raised until the plate current is a column's", () => {
  it.each([
    // Vb, Vc, RL, Ip | Ig, drive, output, Vk, Zin, Vp, I1, lowest plate, plate loss, grid loss, feed-through
    ["3-500Z", 1500, 0, 1600, 0.4, 0.127, 44.7, 316, 106.1, 126, 1006, 0.629, 600, 317, 11.4, 33.4],
    ["3-500Z", 2000, 0, 2750, 0.4, 0.136, 45.5, 522, 107.2, 126, 1695, 0.616, 412, 311, 12.4, 33.0],
    ["3-500Z", 2500, 0, 3450, 0.4, 0.118, 41.1, 635, 101.8, 126, 2094, 0.607, 508, 396, 10.2, 30.9],
    ["8877", 2700, 8.2, 1820, 0.74, 0.046, 40, 1260, 63.7, 51, 2142, 1.177, 622, 775, 2.2, 37.5],
    ["8877", 3500, 8.2, 2000, 1, 0.074, 65.5, 2457, 77.2, 45, 3135, 1.567, 442, 1104, 4.4, 60.5],
  ])(
    "%s at %d V behaves as the fit says",
    (type, plateV, cathodeV, plateLoadOhm, ip, ig, pd, po, Vk, zin, Vp, i1, low, pp, pg, pft) => {
      const law = type === "8877" ? TYPE_8877 : TYPE_3_500Z;
      const got = solved(law, { plateV, cathodeV, plateLoadOhm }, ip);
      expectWithin(got.plateCurrentA, ip, 1e-6 * ip, "the drive is solved for it");
      const near = (value: number, expected: number) =>
        expectWithin(value, expected, 0.02 * expected, SOFT);
      near(got.gridCurrentA, ig);
      near(got.driveW, pd);
      near(got.outputW, po);
      near(got.drivePeakV, Vk);
      near(got.inputOhm, zin);
      near(got.swingPeakV, Vp);
      near(got.plateFundamentalA, i1);
      near(got.lowestPlateV, low);
      near(got.plateDissipationW, pp);
      expectWithin(got.gridDissipationW, pg, 0.02 * pg + 0.05, `${SOFT} to 0.1 W`);
      near(got.feedThroughW, pft);
    },
  );

  it("idles as the space-charge law says at rest", () => {
    // 1.528e-3 (2500/130)^1.5 = 0.12886 A; at zero bias the soft edge lends the grid 1.3 %
    const { idleA } = solved(TYPE_3_500Z, { plateV: 2500, cathodeV: 0, plateLoadOhm: 3450 }, 0.4);
    expectWithin(idleA, 0.12886, 0.02 * 0.12886, "soft edges of 1 and 2 V");
    // u = 3000/130 - 10 = 13.077 V: 1.528e-3 x 47.29 = 72.3 mA, all of it to the plate
    const { plateCurrentA, gridCurrentA } = staticCurrents(TYPE_3_500Z, -10, 3000);
    expectWithin(plateCurrentA, 0.07226, 1e-5, "one unit of the last digit");
    expect(gridCurrentA).toBe(0);
  });

  it("gives back power as it takes it: Vb Ip + Pd = Po + Pp + Pg + Vc Ig", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1000, max: 4000, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 500, max: 5000, noNaN: true }),
        fc.double({ min: 10, max: 120, noNaN: true }),
        (plateV, cathodeV, plateLoadOhm, drivePeakV) => {
          const at = operationAtDrive(TYPE_8877, { plateV, cathodeV, plateLoadOhm }, drivePeakV);
          const fed = plateV * at.plateCurrentA + at.driveW;
          const used =
            at.outputW + at.plateDissipationW + at.gridDissipationW + cathodeV * at.gridCurrentA;
          expectWithin(used, fed, 1e-9 * fed, "rounding");
          const load = at.swingPeakV / plateLoadOhm;
          expectWithin(load, at.plateFundamentalA, 1e-7 * load, "Vp = I1 RL, as close as searched");
        },
      ),
      fixedRuns(40),
    );
  });

  it("needs the same drive whether its load or its output is known", () => {
    const circuit = { plateV: 2700, cathodeV: 8.2, plateLoadOhm: 1820 };
    const byLoad = solved(TYPE_8877, circuit, 0.74);
    const byOutput = operationForOutput(TYPE_8877, circuit, 0.74, byLoad.outputW);
    if (!byOutput.ok) throw new Error(byOutput.reason);
    expectWithin(byOutput.operation.plateLoadOhm, 1820, 0.01, "two searches, each to 1e-10");
    expectWithin(byOutput.operation.drivePeakV, byLoad.drivePeakV, 1e-4, "the same");
  });

  it("says so when there is no such drive, instead of naming one", () => {
    const circuit = { plateV: 2500, cathodeV: 0, plateLoadOhm: 3450 };
    // 129 mA at rest
    const low = operationForPlateCurrent(TYPE_3_500Z, circuit, 0.1);
    expect(low).toMatchObject({ ok: false, reason: expect.stringContaining("without any drive") });
    // 10 A through 3450 ohm would need 17 kV of swing
    expect(operationForPlateCurrent(TYPE_3_500Z, circuit, 10).ok).toBe(false);
    // 0.4 A at 2500 V take 1000 W; with 41 W fed through no stage gives 3 kW
    expect(operationForOutput(TYPE_3_500Z, circuit, 0.4, 3000).ok).toBe(false);
  });
});

describe("two equal tones whose peak equals a single tone", () => {
  it.each([
    // mean of 24 midpoints of the envelope |cos|; the 3-500Z's sheet is remembered to say 280 mA as well
    ["3-500Z", { plateV: 2500, cathodeV: 0, plateLoadOhm: 3450 }, 0.4, 0.28],
    ["8877", { plateV: 2700, cathodeV: 8.2, plateLoadOhm: 1820 }, 0.74, 0.463],
  ] as const)("draw less plate current, %s", (type, circuit, peakA, twoToneA) => {
    const law = type === "8877" ? TYPE_8877 : TYPE_3_500Z;
    const { drivePeakV } = solved(law, circuit, peakA);
    let sum = 0;
    for (let k = 0; k < 24; k++) {
      const envelope = Math.abs(Math.cos(((k + 0.5) * Math.PI) / 24));
      sum += operationAtDrive(law, circuit, drivePeakV * envelope).plateCurrentA;
    }
    expectWithin(sum / 24, twoToneA, 0.02 * twoToneA, SOFT);
  });
});
