/**
 * The registered types against the columns of typical operation they carry. Columns are remembered, not read from paper.
 * Tolerances are those that a law of four numbers can honestly claim against a sheet whose tubes differ by more.
 */
import { describe, expect, it } from "vitest";
import { operationForPlateCurrent } from "../../src/physics/tube/operation";
import type { RegisteredTube } from "../../src/project/registeredTube";
import { findRegisteredTube, REGISTERED_TUBES } from "../../src/project/tubes";
import { residualsOf, rmsOf } from "../../src/study/tubeFit";
import { expectWithin } from "../support/expectWithin";
import { columnPoints } from "./columnPoints";

const SPREAD = "data sheet against a law of four numbers; tubes of one type differ by more";

/** Idle 10 %, 20 % where bias is applied and mu held; grid current 10 %, drive 15 %, output 10 %. */
function toleranceOf(quantity: string, biased: boolean): number {
  if (quantity === "idleA") return biased ? 0.2 : 0.1;
  return quantity === "driveW" ? 0.15 : 0.1;
}

describe("a registered type", () => {
  const fitted = REGISTERED_TUBES.filter(({ fit }) => fit !== null);

  it.each(fitted.map((tube) => [tube.type, tube] as const))(
    "%s meets its columns of typical operation",
    (type, tube) => {
      if (tube.fit === null) return;
      const points = columnPoints(tube);
      const residuals = residualsOf(tube.fit, points);
      expect(residuals.length).toBeGreaterThanOrEqual(2);
      for (const { quantity, stated, modelled, point } of residuals) {
        const at = points[point];
        const biased = at?.kind === "operation" && at.cathodeV > 0;
        // Known gap: the sheet's I1/I0 = 1.44 is under the three-halves law's 1.57; the figure may be useful power.
        const gap = type === "8877" && at?.plateV === 3500 && quantity === "outputW";
        const share = gap ? 0.2 : toleranceOf(quantity, biased);
        expectWithin(modelled, stated, share * stated, `${quantity}: ${SPREAD}`);
      }
    },
  );

  it.each(fitted.map((tube) => [tube.type, tube] as const))(
    "%s is missed by about as much as it says",
    (_, tube) => {
      const { fit } = tube;
      if (fit === null) return;
      // The 3-500Z's fit leaves out the 3500 V column; see its remark.
      const points = columnPoints(tube).filter(
        (point) => point.plateV <= 3000 || tube.type !== "3-500Z",
      );
      const rms = rmsOf(residualsOf(fit, points));
      if (fit.rmsResidual === null) expectWithin(rms, 0, 0.001, "as many figures as unknowns");
      else expectWithin(rms, fit.rmsResidual, 0.005, "fitted with sharp edges, met with soft ones");
    },
  );

  it("draws the column's plate current within 2 % at the drive that the fit names", () => {
    // Vk 101.8 V and 63.7 V by the fit
    for (const [type, driveV] of [
      ["3-500Z", 101.8],
      ["8877", 63.7],
    ] as const) {
      const { fit, columns } = findRegisteredTube(type) as RegisteredTube;
      const column = columns[type === "8877" ? 0 : 2];
      if (fit === null || column?.plateLoadOhm == null) throw new Error(`no column of ${type}`);
      const search = operationForPlateCurrent(
        { perveance: fit.perveanceAPerV1p5, ...fit },
        {
          plateV: column.plateV.value,
          cathodeV: column.cathodeV.value,
          plateLoadOhm: column.plateLoadOhm.value,
        },
        column.plateCurrentA.value,
      );
      if (!search.ok) throw new Error(search.reason);
      expectWithin(search.operation.drivePeakV, driveV, 0.02 * driveV, "2 % of the model");
    }
  });
});
