/**
 * The path a tube takes over its curves in one cycle, and the curves under it.
 *
 *   vg = -vk,  vp = (plate to ground) - vk,  both to the cathode, fundamental and second harmonic
 *
 * Currents by the same law as the stage (`staticCurrents` of physics/tube), all tubes together.
 */
import { cos, sin } from "../math/elementary";
import { staticCurrents } from "../physics/tube/operation";
import type { TriodeLaw } from "../physics/tube/triode";
import type { Triode } from "../project/station";
import { voltagesAt, type Working } from "./workingPoint";

export interface LinePoint {
  /** Angle of the carrier, radians. */
  readonly angleRad: number;
  readonly plateV: number;
  readonly gridV: number;
  readonly plateA: number;
  readonly gridA: number;
}

export interface TubeCurve {
  readonly gridV: number;
  readonly points: readonly { readonly plateV: number; readonly plateA: number }[];
}

/** All tubes of a station as one. */
export function lawOf(tube: Triode): TriodeLaw {
  return {
    perveance: tube.count * tube.perveanceAPerV1p5,
    mu: tube.mu,
    divisionRatio: tube.divisionRatio,
    offsetV: tube.offsetV,
  };
}

/** `count` points round the cycle, first and last the same angle. */
export function loadLine(tube: Triode, w: Working, count: number): readonly LinePoint[] {
  const law = lawOf(tube);
  return Array.from({ length: count + 1 }, (_, i) => {
    const angleRad = (2 * Math.PI * i) / count;
    const harmonics = [1, 2].map((h) => ({ cos: cos(h * angleRad), sin: sin(h * angleRad) }));
    const { cathodeV, plateV } = voltagesAt(w, harmonics);
    const at = { gridV: -cathodeV, plateV: plateV - cathodeV };
    const { plateCurrentA, gridCurrentA } = staticCurrents(law, at.gridV, at.plateV);
    return { angleRad, ...at, plateA: plateCurrentA, gridA: gridCurrentA };
  });
}

/** Plate current against plate voltage at even steps of grid voltage that hold the line. */
export function tubeCurves(
  tube: Triode,
  line: readonly LinePoint[],
  curves: number,
  count: number,
): readonly TubeCurve[] {
  const law = lawOf(tube);
  const grids = line.map((p) => p.gridV);
  const lowest = Math.min(...grids, 0);
  const highest = Math.max(...grids, 1);
  const mostV = Math.max(...line.map((p) => p.plateV), 1);
  return Array.from({ length: curves }, (_, k) => {
    const gridV = lowest + ((highest - lowest) * k) / Math.max(curves - 1, 1);
    const points = Array.from({ length: count + 1 }, (_, i) => {
      const plateV = (mostV * i) / count;
      return { plateV, plateA: staticCurrents(law, gridV, plateV).plateCurrentA };
    });
    return { gridV, points };
  });
}
