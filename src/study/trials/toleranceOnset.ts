/**
 * When an edge begins to melt under an arc whose power settles: the melting edge of `physics/heat`, cell by cell on the same
 * grid with the same metal, but in long implicit steps instead of some thousand short explicit ones.
 *
 *   (1 - g dt J) k1 = F(h)
 *   (1 - g dt J) k2 = F(h + dt k1) - 2 k1              g = 1 - 1/sqrt 2
 *   h' = h + dt (3 k1 + k2)/2
 *
 * h specific enthalpy of the cells, F its rate, J its Jacobian, tridiagonal. Second order, L-stable (Verwer, Spee, Blom &
 * Hundsdorfer, SIAM J. Sci. Comput. 20 (1999) 1456; from memory, the order checked in the tests by halving the step). Steps grow with
 * the time gone by, for what the heat has reached changes ever more slowly.
 *
 * Validity: up to the onset, so that nothing has melted yet; the nominal power and peak current go from their first
 * value to their last with one time constant.
 */
import { exp, ln } from "../../math/elementary";
import { type EnthalpyTable, enthalpyAt } from "../../physics/heat/enthalpyTable";
import { PLATE_EDGE_CELLS, type PlateEdge, spreadSource } from "../../physics/heat/plateEdge";
import type { ErosionEdge } from "../../project/station";

/** Power and peak current of an arc, from its strike on. */
export interface ArcHeat {
  readonly firstW: number;
  readonly lastW: number;
  readonly firstPeakA: number;
  readonly lastPeakA: number;
  readonly timeConstantS: number;
}

const GAMMA = 1 - Math.SQRT1_2;
const FIRST_STEP_S = 15e-6;
const GROWTH = 1.25;

export class OnsetSolver {
  private readonly h = new Float64Array(PLATE_EDGE_CELLS);
  private readonly stage = new Float64Array(PLATE_EDGE_CELLS);
  private readonly k1 = new Float64Array(PLATE_EDGE_CELLS);
  private readonly k2 = new Float64Array(PLATE_EDGE_CELLS);
  private readonly theta = new Float64Array(PLATE_EDGE_CELLS);
  private readonly slope = new Float64Array(PLATE_EDGE_CELLS);
  private readonly upper = new Float64Array(PLATE_EDGE_CELLS);
  private readonly pivot = new Float64Array(PLATE_EDGE_CELLS);
  private readonly lower = new Float64Array(PLATE_EDGE_CELLS);

  /** `growth` of the steps; the tests halve it. */
  constructor(private readonly growth = GROWTH) {}

  /**
   * Seconds from the strike to the onset; null when it takes longer than `longestS`. `edge` gives grid and metal, its thickness
   * counts `thicknessRatio` times.
   */
  onsetS(
    edge: PlateEdge,
    thicknessRatio: number,
    startK: number,
    estimate: ErosionEdge,
    heat: ArcHeat,
    longestS: number,
  ): number | null {
    const { h } = this;
    const unit = { ...edge, def: { ...edge.def, ...estimate } };
    h.fill(enthalpyAt(edge.table, startK));
    const solidus = edge.table.solidusJPerKg;
    let t = 0;
    let step = FIRST_STEP_S;
    while (t < longestS) {
      const before = h[0] as number;
      const left = exp(-(t + 0.5 * step) / heat.timeConstantS);
      const watts = heat.lastW + (heat.firstW - heat.lastW) * left;
      const peakA = heat.lastPeakA + (heat.firstPeakA - heat.lastPeakA) * left;
      // a sheet of twice the thickness takes twice the heat everywhere
      spreadSource(unit, (watts * estimate.electrodeShare) / thicknessRatio, peakA);
      this.advance(unit, step);
      const after = h[0] as number;
      if (after >= solidus) {
        // the root's temperature goes with the logarithm of time
        const share = (solidus - before) / (after - before);
        const s = t > 0 ? t * exp(share * ln(1 + step / t)) : share * step;
        return s <= longestS ? s : null;
      }
      t += step;
      step *= this.growth;
    }
    return null;
  }

  private advance(edge: PlateEdge, dt: number): void {
    const { h, stage, k1, k2, theta, slope } = this;
    const n = PLATE_EDGE_CELLS;
    conduction(edge.table, h, theta, slope);
    this.factor(edge, GAMMA * dt);
    rates(edge, theta, k1);
    this.solve(k1);
    for (let i = 0; i < n; i++) stage[i] = (h[i] as number) + dt * (k1[i] as number);
    conduction(edge.table, stage, theta, slope);
    rates(edge, theta, k2);
    for (let i = 0; i < n; i++) k2[i] = (k2[i] as number) - 2 * (k1[i] as number);
    this.solve(k2);
    for (let i = 0; i < n; i++) {
      h[i] = (h[i] as number) + dt * (1.5 * (k1[i] as number) + 0.5 * (k2[i] as number));
    }
  }

  /** Factors 1 - `part` J with the slopes found last. */
  private factor({ faceM, perMass }: PlateEdge, part: number): void {
    const { slope, upper, pivot, lower } = this;
    const n = PLATE_EDGE_CELLS;
    let inner = 0;
    for (let i = 0; i < n; i++) {
      const outer = faceM[i] as number;
      const scale = part * (perMass[i] as number);
      const below = i > 0 ? -scale * inner * (slope[i - 1] as number) : 0;
      const above = i + 1 < n ? -scale * outer * (slope[i + 1] as number) : 0;
      const d = 1 + scale * (inner + outer) * (slope[i] as number);
      lower[i] = below;
      pivot[i] = 1 / (i > 0 ? d - below * (upper[i - 1] as number) : d);
      upper[i] = above * (pivot[i] as number);
      inner = outer;
    }
  }

  /** Solves in place with the factors made last. */
  private solve(x: Float64Array): void {
    const { upper, pivot, lower } = this;
    const n = PLATE_EDGE_CELLS;
    let before = 0;
    for (let i = 0; i < n; i++) {
      before = ((x[i] as number) - (lower[i] as number) * before) * (pivot[i] as number);
      x[i] = before;
    }
    for (let i = n - 2; i >= 0; i--) {
      before = (x[i] as number) - (upper[i] as number) * before;
      x[i] = before;
    }
  }
}

/**
 * Conduction integral of the solid and its slope, cell by cell; beyond the melting they go on straight, for the step in which
 * it melts must not know that yet.
 */
function conduction(
  { solidTheta, stepsPerJPerKg }: EnthalpyTable,
  h: Float64Array,
  theta: Float64Array,
  slope: Float64Array,
): void {
  const last = solidTheta.length - 2;
  for (let i = 0; i < PLATE_EDGE_CELLS; i++) {
    const position = (h[i] as number) * stepsPerJPerKg;
    const k = Math.min(position | 0, last);
    const low = solidTheta[k] as number;
    const rise = (solidTheta[k + 1] as number) - low;
    theta[i] = low + rise * (position - k);
    slope[i] = rise * stepsPerJPerKg;
  }
}

/** Rate of every cell's enthalpy, with the source spread last. */
function rates(edge: PlateEdge, theta: Float64Array, into: Float64Array): void {
  const { faceM, perMass, sourceW } = edge;
  const n = PLATE_EDGE_CELLS;
  let inflow = 0;
  for (let i = 0; i < n; i++) {
    const rest = i + 1 < n ? (theta[i] as number) - (theta[i + 1] as number) : 0;
    const outflow = (faceM[i] as number) * rest;
    into[i] = (inflow - outflow + (sourceW[i] as number)) * (perMass[i] as number);
    inflow = outflow;
  }
}
