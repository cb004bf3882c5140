/**
 * LU of a small dense matrix with row pivoting, in place, no allocation. Rows are scaled by their
 * largest entry when pivots are compared, since amperes, volts and ln g stand side by side.
 */
export class DenseSolver {
  readonly matrix: Float64Array;
  private readonly pivot: Int32Array;
  private readonly scale: Float64Array;
  private order = 0;

  constructor(readonly capacity: number) {
    this.matrix = new Float64Array(capacity * capacity);
    this.pivot = new Int32Array(capacity);
    this.scale = new Float64Array(capacity);
  }

  clear(order: number): void {
    this.order = order;
    this.matrix.fill(0, 0, order * order);
  }

  /** Factors the matrix; false when it is singular to rounding. */
  factor(): boolean {
    const { matrix: m, pivot, scale, order: n } = this;
    for (let r = 0; r < n; r++) {
      let big = 0;
      for (let c = 0; c < n; c++) {
        const v = Math.abs(m[r * n + c] as number);
        if (v > big) big = v;
      }
      if (!(big > 0) || big === Infinity) return false;
      scale[r] = 1 / big;
    }
    for (let k = 0; k < n; k++) {
      let best = k;
      let bestSize = 0;
      for (let r = k; r < n; r++) {
        const size = Math.abs(m[r * n + k] as number) * (scale[r] as number);
        if (size > bestSize) {
          bestSize = size;
          best = r;
        }
      }
      if (!(bestSize > 1e-300)) return false;
      pivot[k] = best;
      if (best !== k) {
        for (let c = 0; c < n; c++) {
          const t = m[k * n + c] as number;
          m[k * n + c] = m[best * n + c] as number;
          m[best * n + c] = t;
        }
        scale[best] = scale[k] as number;
      }
      const inv = 1 / (m[k * n + k] as number);
      for (let r = k + 1; r < n; r++) {
        const f = (m[r * n + k] as number) * inv;
        if (f === 0) continue;
        m[r * n + k] = f;
        for (let c = k + 1; c < n; c++)
          m[r * n + c] = (m[r * n + c] as number) - f * (m[k * n + c] as number);
      }
    }
    return true;
  }

  /** Solves for the right-hand side in `x`, in place. */
  solve(x: Float64Array): void {
    const { matrix: m, pivot, order: n } = this;
    for (let k = 0; k < n; k++) {
      const p = pivot[k] as number;
      if (p !== k) {
        const t = x[k] as number;
        x[k] = x[p] as number;
        x[p] = t;
      }
    }
    for (let k = 0; k < n; k++) {
      const v = x[k] as number;
      for (let r = k + 1; r < n; r++) x[r] = (x[r] as number) - (m[r * n + k] as number) * v;
    }
    for (let k = n - 1; k >= 0; k--) {
      let v = x[k] as number;
      for (let c = k + 1; c < n; c++) v -= (m[k * n + c] as number) * (x[c] as number);
      x[k] = v / (m[k * n + k] as number);
    }
  }
}
