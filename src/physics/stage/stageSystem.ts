/**
 * The linear solve that the transient and the settled solver share.
 *
 * Each implicit matrix sigma M - J of the stage equations reduces by a Schur complement to the tube's
 * ports: Vk_h, V1_h, Eb, Ek and ln g of the burning arcs, 10 to 14 unknowns instead of 39. sigma = 0
 * gives Newton's matrix of the settled state, so that both solvers have the same fixed point.
 */
import { exp } from "../../math/elementary";
import { HARMONICS, TriodeAverages } from "../tube/triode";
import { hasOutputCoil, isTapNode, type StageCircuit } from "./circuit";
import { DenseSolver } from "./denseSolve";
import {
  ARC_COUNT,
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  arcNodes,
  EB,
  EK,
  LNG,
  STATE_LENGTH,
  STRIDE,
  V1,
  V2,
  V3,
  VC,
  VK,
  VT,
} from "./layout";
import { INV_LKS, OutputLadder, Y1 } from "./outputLadder";
import { cathodeSiemens, derivative, rectifierSiemens } from "./stageEquations";
import { addTubeJacobian, PORT_ARCS, PORT_EB, PORT_EK } from "./tubeJacobian";

export class StageSystem {
  readonly averages = new TriodeAverages();
  /** exp(ln g) of each place, 0 where no arc burns. */
  readonly arcSiemens = new Float64Array(ARC_COUNT);
  /** The same with the metal that bridges the gap. */
  readonly nodeSiemens = new Float64Array(ARC_COUNT);
  private readonly dense = new DenseSolver(PORT_ARCS + ARC_COUNT);
  private readonly ladder = new OutputLadder();
  private readonly rhs = new Float64Array(PORT_ARCS + ARC_COUNT);
  private readonly injected = new Float64Array(STATE_LENGTH);
  private readonly arcs = new Int32Array(ARC_COUNT);
  private arcOrder = 0;
  private filterDiagonal = 1;

  /** Averages of the tube and arc conductances at state `y`. */
  evaluateTube(c: StageCircuit, y: Float64Array, withSlopes = true): void {
    const { averages } = this;
    averages.evaluate(c.tube, y[EK] as number, y[EB] as number, y, VK, V1, STRIDE, withSlopes);
    this.restoreArcs(c, y);
  }

  /** Arc conductances of state `y`. */
  restoreArcs(c: StageCircuit, y: Float64Array): void {
    for (let a = 0; a < ARC_COUNT; a++) {
      const g = c.burning[a] ? exp(y[LNG + a] as number) : 0;
      this.arcSiemens[a] = g;
      this.nodeSiemens[a] = g + (c.bridgedSiemens[a] as number);
    }
  }

  /** Right-hand sides at `y`, after `evaluateTube`; `sourceA` is the drive phasor now. */
  derivative(c: StageCircuit, y: Float64Array, sourceA: number, f: Float64Array): void {
    derivative(c, this.averages, this.nodeSiemens, y, sourceA, f);
  }

  /** Newton's matrix of the settled state over one sample: RF and arcs algebraic, slow states over 1/dt. */
  factorSettled(c: StageCircuit, y: Float64Array, invDt: number): boolean {
    return this.factor(c, y, 0, invDt, 2 * invDt);
  }

  /**
   * Builds and factors sigma M - J at `y` (after `evaluateTube`). `sigmaSlow` stands for sigma in the rows
   * of Eb and Ek, `sigmaFilter` in that of Vc. False when the matrix is singular.
   */
  factor(
    c: StageCircuit,
    y: Float64Array,
    sigma: number,
    sigmaSlow: number,
    sigmaFilter = sigmaSlow,
  ): boolean {
    const { dense, ladder, nodeSiemens } = this;
    this.arcOrder = 0;
    for (let a = 0; a < ARC_COUNT; a++) if (c.burning[a]) this.arcs[this.arcOrder++] = a;
    const order = PORT_ARCS + this.arcOrder;
    dense.clear(order);
    const m = dense.matrix;
    const gk = cathodeSiemens(c);
    for (let h = 1; h <= HARMONICS; h++) {
      ladder.factor(c, nodeSiemens, h, sigma);
      const k = ladder.at(h - 1);
      const p = 4 * (h - 1);
      // cathode diagonal: Ck s + gk + 1/(Lk s)
      const yr = sigma * c.cathodeF + gk + (ladder.keep[k + INV_LKS] as number);
      const yi = h * c.omega * c.cathodeF + (ladder.keep[k + INV_LKS + 1] as number);
      putComplex(m, order, p, yr, yi);
      putComplex(m, order, p + 2, ladder.keep[k + Y1] as number, ladder.keep[k + Y1 + 1] as number);
    }
    addTubeJacobian(this.averages, m, order);
    const rectifier = c.stiffSupply ? 0 : rectifierSiemens(c, y[VC] as number);
    this.filterDiagonal =
      sigmaFilter * c.filterF + rectifier + c.surgeSiemens + c.bleederSiemens + c.crowbarSiemens;
    const through = c.stiffSupply ? 0 : (c.surgeSiemens * c.surgeSiemens) / this.filterDiagonal;
    const eb = PORT_EB * order + PORT_EB;
    m[eb] = (m[eb] as number) + c.bypassF * sigmaSlow + c.surgeSiemens - through + c.shortSiemens;
    m[eb] = (m[eb] as number) + c.dcArcSiemens + c.stray.plateSiemens;
    const ek = PORT_EK * order + PORT_EK;
    m[ek] = (m[ek] as number) + c.returnF * sigmaSlow + c.biasSiemens + c.cutoffSiemens;
    m[ek] = (m[ek] as number) + c.touchSiemens;
    this.addArcs(c, y, sigma, order);
    return dense.factor();
  }

  private addArcs(c: StageCircuit, y: Float64Array, sigma: number, n: number): void {
    const m = this.dense.matrix;
    const { ladder, arcSiemens: g } = this;
    const nodes = arcNodes(hasOutputCoil(c));
    for (let i = 0; i < this.arcOrder; i++) {
      const a = this.arcs[i] as number;
      const col = PORT_ARCS + i;
      const row = col * n;
      m[row + col] = (m[row + col] as number) + sigma;
      const gain = arcGain(c, a);
      const ga = g[a] as number;
      for (let h = 0; h < HARMONICS; h++) {
        const node = h * STRIDE + (nodes[a] as number);
        const vr = y[node] as number;
        const vi = y[node + 1] as number;
        const tr = ladder.transferRe(h, a);
        const ti = ladder.transferIm(h, a);
        const v1 = 4 * h + 2;
        // column: the arc injects -g V (ln g)' at its node, which the plate row sees through T
        m[v1 * n + col] = (m[v1 * n + col] as number) + ga * (tr * vr - ti * vi);
        m[(v1 + 1) * n + col] = (m[(v1 + 1) * n + col] as number) + ga * (tr * vi + ti * vr);
        // row: -gain Re(conj(V) T V1')
        m[row + v1] = (m[row + v1] as number) - gain * (vr * tr + vi * ti);
        m[row + v1 + 1] = (m[row + v1 + 1] as number) + gain * (vr * ti - vi * tr);
        for (let l = 0; l < this.arcOrder; l++) {
          const b = this.arcs[l] as number;
          const z = ladder.impedance(h, a, b);
          if (z < 0) continue;
          const other = h * STRIDE + (nodes[b] as number);
          const jr = -(g[b] as number) * (y[other] as number);
          const ji = -(g[b] as number) * (y[other + 1] as number);
          const zr = ladder.keep[z] as number;
          const zi = ladder.keep[z + 1] as number;
          const at = row + PORT_ARCS + l;
          m[at] = (m[at] as number) - gain * (vr * (zr * jr - zi * ji) + vi * (zr * ji + zi * jr));
        }
      }
    }
  }

  /**
   * Solves (sigma M - J) K = r with the factors of the last `factor`; `r` and `out` are full state arrays
   * and must differ. Rows that are not in play (an unlit tap, unlit arcs) give 0.
   */
  solve(c: StageCircuit, y: Float64Array, r: Float64Array, out: Float64Array): void {
    const { rhs: x, ladder } = this;
    const split = isTapNode(c);
    const piL = hasOutputCoil(c);
    const nodes = arcNodes(piL);
    for (let i = 0; i < this.arcOrder; i++)
      x[PORT_ARCS + i] = r[LNG + (this.arcs[i] as number)] as number;
    for (let h = 0; h < HARMONICS; h++) {
      const o = h * STRIDE;
      ladder.gather(split, piL, h, o, r, out, x, 4 * h);
      // arcs behind the plate node see the sources directly
      for (let i = 0; i < this.arcOrder; i++) {
        const a = this.arcs[i] as number;
        if (a === AT_PLATE) continue;
        const node = o + (nodes[a] as number);
        x[PORT_ARCS + i] =
          (x[PORT_ARCS + i] as number) +
          arcGain(c, a) *
            ((y[node] as number) * (out[node] as number) +
              (y[node + 1] as number) * (out[node + 1] as number));
      }
    }
    const rVc = c.stiffSupply ? 0 : (r[VC] as number);
    x[PORT_EB] = (r[EB] as number) + (c.surgeSiemens * rVc) / this.filterDiagonal;
    x[PORT_EK] = r[EK] as number;
    this.dense.solve(x);
    this.expand(c, y, r, out, split);
  }

  private expand(
    c: StageCircuit,
    y: Float64Array,
    r: Float64Array,
    out: Float64Array,
    split: boolean,
  ): void {
    const { rhs: x, arcSiemens: g, ladder } = this;
    for (let a = 0; a < ARC_COUNT; a++) out[LNG + a] = 0;
    for (let i = 0; i < this.arcOrder; i++) {
      out[LNG + (this.arcs[i] as number)] = x[PORT_ARCS + i] as number;
    }
    out[EB] = x[PORT_EB] as number;
    out[EK] = x[PORT_EK] as number;
    out[VC] = c.stiffSupply
      ? 0
      : ((r[VC] as number) + c.surgeSiemens * (x[PORT_EB] as number)) / this.filterDiagonal;
    let sources = r;
    if (this.arcOrder > 0) {
      // what the arcs' changing conductance injects joins the given sources
      sources = this.injected;
      sources.set(r);
      const connector = hasOutputCoil(c) ? V3 : V2;
      const loading = (g[AT_LOADING] as number) * (out[LNG + AT_LOADING] as number);
      const beyond = (g[AT_BEYOND] as number) * (out[LNG + AT_BEYOND] as number);
      const tap = (g[AT_TAP] as number) * (out[LNG + AT_TAP] as number);
      for (let i = 0; i < HARMONICS * STRIDE; i += STRIDE) {
        for (let p = 0; p < 2; p++) {
          const at = i + connector + p;
          sources[i + V2 + p] =
            (sources[i + V2 + p] as number) - loading * (y[i + V2 + p] as number);
          sources[at] = (sources[at] as number) - beyond * (y[at] as number);
          sources[i + VT + p] = (sources[i + VT + p] as number) - tap * (y[i + VT + p] as number);
        }
      }
    }
    const piL = hasOutputCoil(c);
    for (let h = 0; h < HARMONICS; h++) {
      ladder.expand(split, piL, h, h * STRIDE, sources, out, x, 4 * h);
    }
  }
}

/** How fast ln g answers to |V|^2 at an arc's node, times 2. */
function arcGain(c: StageCircuit, a: number): number {
  const v = c.maintainingV[a] as number;
  return 2 / (v * v * (c.arcTimeConstantS[a] as number));
}

/** A complex number as the 2 x 2 block of its real form, on the diagonal at `p`. */
function putComplex(m: Float64Array, n: number, p: number, re: number, im: number): void {
  m[p * n + p] = re;
  m[p * n + p + 1] = -im;
  m[(p + 1) * n + p] = im;
  m[(p + 1) * n + p + 1] = re;
}
