/**
 * The coupled envelope equations of tube, input circuit, tank, load, supply, cathode return and arcs,
 * and the linear solve that the transient and the settled solver share.
 *
 *   Ck Vk' = Src - gk Vk - ILk + Ik_h - j h w Ck Vk          Lk ILk' = Vk - j h w Lk ILk
 *   C1 V1' = -Ip_h - ILr - ILa - (g1 + g) V1 - j h w C1 V1   Lr ILr' = V1 - j h w Lr ILr
 *   L  IL' = V1 - V2 - (r + j h w L) IL                      (split in two at a burning tap)
 *   C2 V2' = IL - (G + jB_h + g) V2 - j h w C2 V2
 *   Cf Vc' = max(0, (Eo - Vc)/Rs) - (Vc - Eb)/Rsurge - Vc Gbleed
 *   Cb Eb' = (Vc - Eb)/Rsurge - Ip0 - Eb Gshort
 *   Cc Ek' = Ik0 - (Ek - Ebias) Gbias - Ek Gcut
 *   d(ln g)/dt = (sum_h |Va_h|^2 / Varc^2 - 1)/tau           (resistive plasma after Cassie)
 *
 * x(t) = x0 + Re sum X_h e^{jhwt}, X peak. B_h = B h for a capacitive, B/h for an inductive load.
 * Each implicit matrix sigma M - J reduces by a Schur complement to the tube's ports: Vk_h, V1_h, Eb, Ek
 * and ln g of the burning arcs. sigma = 0 gives Newton's matrix of the settled state.
 * Energy storage at harmonics above the second, skin effect and mutual inductance inside the coil are
 * left out. Derivation: by hand from Kirchhoff's laws; checked against a full-waveform circuit simulator.
 */
import { exp } from "../../math/elementary";
import {
  CATHODE_BY_CATHODE,
  CATHODE_BY_PLATE,
  HARMONICS,
  PLATE_BY_CATHODE,
  PLATE_BY_PLATE,
  TriodeAverages,
} from "../tube/triode";
import type { StageCircuit } from "./circuit";
import { DenseSolver } from "./denseSolve";
import {
  ARC_COUNT,
  ARC_NODE,
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  EB,
  EK,
  ILA,
  ILB,
  ILK,
  ILR,
  LNG,
  STRIDE,
  V1,
  V2,
  VC,
  VK,
  VT,
} from "./layout";

const PORT_EB = 4 * HARMONICS;
const PORT_EK = PORT_EB + 1;
const PORT_ARCS = PORT_EB + 2;

/** Complex numbers a harmonic keeps between factoring and solving. */
const KEEP = 26;
const INV_LKS = 0;
const INV_LRS = 2;
const INV_Y2 = 4;
const YB = 6;
const T2_TAP = 8;
const YA = 10;
const INV_YT = 12;
const TT = 14;
const T2 = 16;
const ZTT = 18;
const ZT2 = 20;
const Z22 = 22;
const Y1 = 24;

export class StageSystem {
  readonly averages = new TriodeAverages();
  /** exp(ln g) of each place, 0 where no arc burns; refreshed by `derivative`. */
  readonly arcSiemens = new Float64Array(ARC_COUNT);
  private readonly dense = new DenseSolver(PORT_ARCS + ARC_COUNT);
  private readonly rhs = new Float64Array(PORT_ARCS + ARC_COUNT);
  private readonly keep = new Float64Array(HARMONICS * KEEP);
  private readonly arcs = new Int32Array(ARC_COUNT);
  private arcOrder = 0;
  private filterDiagonal = 1;

  /** Averages of the tube at state `y`. */
  evaluateTube(c: StageCircuit, y: Float64Array): void {
    this.averages.evaluate(c.tube, y[EK] as number, y[EB] as number, y, VK, V1, STRIDE);
    this.restoreArcs(c, y);
  }

  /** Arc conductances of state `y`. */
  restoreArcs(c: StageCircuit, y: Float64Array): void {
    for (let a = 0; a < ARC_COUNT; a++) {
      this.arcSiemens[a] = c.burning[a] ? exp(y[LNG + a] as number) : 0;
    }
  }

  /** Right-hand sides (before division by M) at `y`, after `evaluateTube`; `sourceA` is the drive now. */
  derivative(c: StageCircuit, y: Float64Array, sourceA: number, f: Float64Array): void {
    const t = this.averages;
    const g = this.arcSiemens;
    const split = c.burning[AT_TAP] === 1;
    const gk = 1 / (c.turnsRatio * c.turnsRatio * c.driveOhm) + c.cathodeLossSiemens;
    const g1 = c.plateLossSiemens + (g[AT_PLATE] as number);
    const g2 = c.loadSiemens + (g[AT_LOADING] as number) + (g[AT_BEYOND] as number);
    for (let h = 1; h <= HARMONICS; h++) {
      const o = (h - 1) * STRIDE;
      const w = h * c.omega;
      const b =
        c.loadSusceptanceSiemens >= 0 ? c.loadSusceptanceSiemens * h : c.loadSusceptanceSiemens / h;
      const vkr = y[o + VK] as number;
      const vki = y[o + VK + 1] as number;
      const ikr = y[o + ILK] as number;
      const iki = y[o + ILK + 1] as number;
      const v1r = y[o + V1] as number;
      const v1i = y[o + V1 + 1] as number;
      const irr = y[o + ILR] as number;
      const iri = y[o + ILR + 1] as number;
      const iar = y[o + ILA] as number;
      const iai = y[o + ILA + 1] as number;
      const v2r = y[o + V2] as number;
      const v2i = y[o + V2 + 1] as number;
      const k = 2 * (h - 1);
      const wck = w * c.cathodeF;
      f[o + VK] = (h === 1 ? sourceA : 0) - gk * vkr - ikr + (t.cathode[k] as number) + wck * vki;
      f[o + VK + 1] = -gk * vki - iki + (t.cathode[k + 1] as number) - wck * vkr;
      const wlk = w * c.cathodeH;
      f[o + ILK] = vkr + wlk * iki;
      f[o + ILK + 1] = vki - wlk * ikr;
      const wc1 = w * c.plateF;
      f[o + V1] = -(t.plate[k] as number) - irr - iar - g1 * v1r + wc1 * v1i;
      f[o + V1 + 1] = -(t.plate[k + 1] as number) - iri - iai - g1 * v1i - wc1 * v1r;
      const wlr = w * c.chokeH;
      f[o + ILR] = v1r + wlr * iri;
      f[o + ILR + 1] = v1i - wlr * irr;
      const wc2 = w * c.loadingF + b;
      if (split) {
        const vtr = y[o + VT] as number;
        const vti = y[o + VT + 1] as number;
        const ibr = y[o + ILB] as number;
        const ibi = y[o + ILB + 1] as number;
        const gt = g[AT_TAP] as number;
        const near = 1 - c.tapFraction;
        f[o + ILA] = v1r - vtr - near * (c.coilOhm * iar - w * c.coilH * iai);
        f[o + ILA + 1] = v1i - vti - near * (c.coilOhm * iai + w * c.coilH * iar);
        f[o + VT] = iar - ibr - gt * vtr;
        f[o + VT + 1] = iai - ibi - gt * vti;
        const far = c.tapFraction;
        f[o + ILB] = vtr - v2r - far * (c.coilOhm * ibr - w * c.coilH * ibi);
        f[o + ILB + 1] = vti - v2i - far * (c.coilOhm * ibi + w * c.coilH * ibr);
        f[o + V2] = ibr - g2 * v2r + wc2 * v2i;
        f[o + V2 + 1] = ibi - g2 * v2i - wc2 * v2r;
      } else {
        f[o + ILA] = v1r - v2r - (c.coilOhm * iar - w * c.coilH * iai);
        f[o + ILA + 1] = v1i - v2i - (c.coilOhm * iai + w * c.coilH * iar);
        f[o + VT] = f[o + VT + 1] = f[o + ILB] = f[o + ILB + 1] = 0;
        f[o + V2] = iar - g2 * v2r + wc2 * v2i;
        f[o + V2 + 1] = iai - g2 * v2i - wc2 * v2r;
      }
    }
    const vc = y[VC] as number;
    const eb = y[EB] as number;
    const ek = y[EK] as number;
    const surgeA = (vc - eb) * c.surgeSiemens;
    f[VC] = c.stiffSupply
      ? 0
      : Math.max(0, (c.noLoadV - vc) * c.sourceSiemens) - surgeA - vc * c.bleederSiemens;
    f[EB] = surgeA - t.plateDcA - eb * c.shortSiemens;
    f[EK] = t.cathodeDcA - (ek - c.biasV) * c.biasSiemens - ek * c.cutoffSiemens;
    for (let a = 0; a < ARC_COUNT; a++) {
      f[LNG + a] = c.burning[a] ? this.arcDrive(c, y, a) : 0;
    }
  }

  /** (sum_h |Va_h|^2 / Varc^2 - 1)/tau of the arc at place `a`. */
  private arcDrive(c: StageCircuit, y: Float64Array, a: number): number {
    const node = ARC_NODE[a] as number;
    let square = 0;
    for (let h = 0; h < HARMONICS; h++) {
      const r = y[h * STRIDE + node] as number;
      const i = y[h * STRIDE + node + 1] as number;
      square += r * r + i * i;
    }
    const v = c.maintainingV[a] as number;
    return (square / (v * v) - 1) / (c.arcTimeConstantS[a] as number);
  }

  /** Newton's matrix of the settled state over one sample: RF and arcs algebraic, slow states over 1/dt. */
  factorSettled(c: StageCircuit, y: Float64Array, invDt: number): boolean {
    return this.factor(c, y, 0, invDt, 2 * invDt);
  }

  /** Builds and factors sigma M - J at `y` (after `evaluateTube`). `sigmaSlow` is for Vc, Eb, Ek. */
  factor(
    c: StageCircuit,
    y: Float64Array,
    sigma: number,
    sigmaSlow: number,
    sigmaFilter = sigmaSlow,
  ): boolean {
    const g = this.arcSiemens;
    const split = c.burning[AT_TAP] === 1;
    this.arcOrder = 0;
    for (let a = 0; a < ARC_COUNT; a++) if (c.burning[a]) this.arcs[this.arcOrder++] = a;
    const order = PORT_ARCS + this.arcOrder;
    const { dense } = this;
    dense.clear(order);
    const m = dense.matrix;
    const gk = 1 / (c.turnsRatio * c.turnsRatio * c.driveOhm) + c.cathodeLossSiemens;
    for (let h = 1; h <= HARMONICS; h++) {
      this.factorHarmonic(c, h, sigma, split);
      const k = (h - 1) * KEEP;
      const w = h * c.omega;
      // cathode diagonal: Ck s + gk + 1/(Lk s)
      const yr = sigma * c.cathodeF + gk + (this.keep[k + INV_LKS] as number);
      const yi = w * c.cathodeF + (this.keep[k + INV_LKS + 1] as number);
      const vk = 4 * (h - 1);
      m[vk * order + vk] = yr;
      m[vk * order + vk + 1] = -yi;
      m[(vk + 1) * order + vk] = yi;
      m[(vk + 1) * order + vk + 1] = yr;
      const v1 = vk + 2;
      const pr = this.keep[k + Y1] as number;
      const pi = this.keep[k + Y1 + 1] as number;
      m[v1 * order + v1] = pr;
      m[v1 * order + v1 + 1] = -pi;
      m[(v1 + 1) * order + v1] = pi;
      m[(v1 + 1) * order + v1 + 1] = pr;
    }
    this.addTube(order);
    // slow ports
    const rectifying = !c.stiffSupply && c.noLoadV > (y[VC] as number);
    this.filterDiagonal =
      sigmaFilter * c.filterF +
      (rectifying ? c.sourceSiemens : 0) +
      c.surgeSiemens +
      c.bleederSiemens;
    const through = c.stiffSupply ? 0 : (c.surgeSiemens * c.surgeSiemens) / this.filterDiagonal;
    const eb = PORT_EB * order + PORT_EB;
    m[eb] = (m[eb] as number) + c.bypassF * sigmaSlow + c.surgeSiemens - through + c.shortSiemens;
    const ek = PORT_EK * order + PORT_EK;
    m[ek] = (m[ek] as number) + c.returnF * sigmaSlow + c.biasSiemens + c.cutoffSiemens;
    this.addArcs(c, y, sigma, order, g);
    return dense.factor();
  }

  private factorHarmonic(c: StageCircuit, h: number, sigma: number, split: boolean): void {
    const q = this.keep;
    const k = (h - 1) * KEEP;
    const w = h * c.omega;
    const g = this.arcSiemens;
    const b =
      c.loadSusceptanceSiemens >= 0 ? c.loadSusceptanceSiemens * h : c.loadSusceptanceSiemens / h;
    invert(q, k + INV_LKS, c.cathodeH * sigma, c.cathodeH * w);
    invert(q, k + INV_LRS, c.chokeH * sigma, c.chokeH * w);
    invert(
      q,
      k + INV_Y2,
      c.loadingF * sigma + c.loadSiemens + (g[AT_LOADING] as number) + (g[AT_BEYOND] as number),
      c.loadingF * w + b,
    );
    const zr = c.coilH * sigma + c.coilOhm;
    const zi = c.coilH * w;
    const far = split ? c.tapFraction : 1;
    const i2r = q[k + INV_Y2] as number;
    const i2i = q[k + INV_Y2 + 1] as number;
    invert(q, k + YB, far * zr + i2r, far * zi + i2i);
    multiply(q, k + T2_TAP, q, k + YB, q, k + INV_Y2);
    if (split) {
      invert(q, k + INV_YT, (g[AT_TAP] as number) + (q[k + YB] as number), q[k + YB + 1] as number);
      const near = 1 - c.tapFraction;
      invert(
        q,
        k + YA,
        near * zr + (q[k + INV_YT] as number),
        near * zi + (q[k + INV_YT + 1] as number),
      );
      multiply(q, k + TT, q, k + YA, q, k + INV_YT);
      oneMinusTimes(q, k + ZTT, k + TT, k + INV_YT);
      multiply(q, k + T2, q, k + T2_TAP, q, k + TT);
      multiply(q, k + ZT2, q, k + T2_TAP, q, k + ZTT);
      multiply(q, k + Z22, q, k + T2_TAP, q, k + ZT2);
      // + (1 - t2)/y2
      const ar = 1 - (q[k + T2_TAP] as number);
      const ai = -(q[k + T2_TAP + 1] as number);
      q[k + Z22] = (q[k + Z22] as number) + ar * i2r - ai * i2i;
      q[k + Z22 + 1] = (q[k + Z22 + 1] as number) + ar * i2i + ai * i2r;
    } else {
      q[k + YA] = q[k + YB] as number;
      q[k + YA + 1] = q[k + YB + 1] as number;
      q[k + T2] = q[k + T2_TAP] as number;
      q[k + T2 + 1] = q[k + T2_TAP + 1] as number;
      oneMinusTimes(q, k + Z22, k + T2, k + INV_Y2);
    }
    q[k + Y1] =
      c.plateF * sigma +
      c.plateLossSiemens +
      (g[AT_PLATE] as number) +
      (q[k + INV_LRS] as number) +
      (q[k + YA] as number);
    q[k + Y1 + 1] = c.plateF * w + (q[k + INV_LRS + 1] as number) + (q[k + YA + 1] as number);
  }

  /** The tube's derivatives: rows of plate current enter with +, rows of cathode current with -. */
  private addTube(n: number): void {
    const m = this.dense.matrix;
    for (let part = 0; part < 2; part++) {
      // part 0: cathode rows, -d(ik); part 1: plate rows, +d(ip)
      const sign = part === 0 ? -1 : 1;
      const byCathode = part === 0 ? CATHODE_BY_CATHODE : PLATE_BY_CATHODE;
      const byPlate = part === 0 ? CATHODE_BY_PLATE : PLATE_BY_PLATE;
      const dcRow = (part === 0 ? PORT_EK : PORT_EB) * n;
      for (let h = 1; h <= HARMONICS; h++) {
        const row = (4 * (h - 1) + 2 * part) * n;
        for (let l = 1; l <= HARMONICS; l++) {
          this.addPhasor(row, n, 4 * (l - 1), byCathode, h, l, sign);
          this.addPhasor(row, n, 4 * (l - 1) + 2, byPlate, h, l, sign);
        }
        this.addDc(row, n, PORT_EK, byCathode, h, sign);
        this.addDc(row, n, PORT_EB, byPlate, h, sign);
        this.addDcRow(dcRow, 4 * (h - 1), byCathode, h, sign);
        this.addDcRow(dcRow, 4 * (h - 1) + 2, byPlate, h, sign);
      }
      m[dcRow + PORT_EK] =
        (m[dcRow + PORT_EK] as number) + sign * this.averages.cosAt(byCathode, 0);
      m[dcRow + PORT_EB] = (m[dcRow + PORT_EB] as number) + sign * this.averages.cosAt(byPlate, 0);
    }
  }

  private addPhasor(
    row: number,
    n: number,
    col: number,
    by: number,
    h: number,
    l: number,
    sign: number,
  ): void {
    const m = this.dense.matrix;
    const t = this.averages;
    const cd = t.cosAt(by, h - l);
    const cs = t.cosAt(by, h + l);
    const sd = t.sinAt(by, l - h);
    const ss = t.sinAt(by, h + l);
    m[row + col] = (m[row + col] as number) + sign * (cd + cs);
    m[row + col + 1] = (m[row + col + 1] as number) - sign * (ss + sd);
    m[row + n + col] = (m[row + n + col] as number) - sign * (ss - sd);
    m[row + n + col + 1] = (m[row + n + col + 1] as number) + sign * (cd - cs);
  }

  private addDc(row: number, n: number, col: number, by: number, h: number, sign: number): void {
    const m = this.dense.matrix;
    m[row + col] = (m[row + col] as number) + 2 * sign * this.averages.cosAt(by, h);
    m[row + n + col] = (m[row + n + col] as number) - 2 * sign * this.averages.sinAt(by, h);
  }

  private addDcRow(row: number, col: number, by: number, h: number, sign: number): void {
    const m = this.dense.matrix;
    m[row + col] = (m[row + col] as number) + sign * this.averages.cosAt(by, h);
    m[row + col + 1] = (m[row + col + 1] as number) - sign * this.averages.sinAt(by, h);
  }

  private addArcs(
    c: StageCircuit,
    y: Float64Array,
    sigma: number,
    n: number,
    g: Float64Array,
  ): void {
    const m = this.dense.matrix;
    const q = this.keep;
    for (let i = 0; i < this.arcOrder; i++) {
      const a = this.arcs[i] as number;
      const col = PORT_ARCS + i;
      const row = col * n;
      m[row + col] = (m[row + col] as number) + sigma;
      const v = c.maintainingV[a] as number;
      const gain = 2 / (v * v * (c.arcTimeConstantS[a] as number));
      for (let h = 0; h < HARMONICS; h++) {
        const k = h * KEEP;
        const node = h * STRIDE + (ARC_NODE[a] as number);
        const vr = y[node] as number;
        const vi = y[node + 1] as number;
        const tr = transferRe(q, k, a);
        const ti = transferIm(q, k, a);
        const ga = g[a] as number;
        const v1 = 4 * h + 2;
        // column: injection -g V ln g' at the node, seen by the plate row through T
        m[v1 * n + col] = (m[v1 * n + col] as number) + ga * (tr * vr - ti * vi);
        m[(v1 + 1) * n + col] = (m[(v1 + 1) * n + col] as number) + ga * (tr * vi + ti * vr);
        // row: -gain Re(conj(V) T KV1)
        const wr = vr * tr + vi * ti;
        const wi = vr * ti - vi * tr;
        m[row + v1] = (m[row + v1] as number) - gain * wr;
        m[row + v1 + 1] = (m[row + v1 + 1] as number) + gain * wi;
        // row against the other arcs, through the passive network
        for (let l = 0; l < this.arcOrder; l++) {
          const b = this.arcs[l] as number;
          const zAt = impedanceAt(a, b);
          if (zAt < 0) continue;
          const other = h * STRIDE + (ARC_NODE[b] as number);
          const gb = g[b] as number;
          const jr = -gb * (y[other] as number);
          const ji = -gb * (y[other + 1] as number);
          const zr = q[k + zAt] as number;
          const zi = q[k + zAt + 1] as number;
          const kr = zr * jr - zi * ji;
          const ki = zr * ji + zi * jr;
          const at = row + PORT_ARCS + l;
          m[at] = (m[at] as number) - gain * (vr * kr + vi * ki);
        }
      }
    }
  }

  /**
   * Solves (sigma M - J) K = r with the factors of the last `factor`; `r` and `k` are full state arrays.
   * Rows that are not in play (an unlit tap, unlit arcs) give 0.
   */
  solve(c: StageCircuit, y: Float64Array, r: Float64Array, out: Float64Array): void {
    const q = this.keep;
    const x = this.rhs;
    const split = c.burning[AT_TAP] === 1;
    for (let i = 0; i < this.arcOrder; i++)
      x[PORT_ARCS + i] = r[LNG + (this.arcs[i] as number)] as number;
    for (let h = 0; h < HARMONICS; h++) {
      const o = h * STRIDE;
      const k = h * KEEP;
      // cathode: rVk - rILk/(Lk s)
      const lr = q[k + INV_LKS] as number;
      const li = q[k + INV_LKS + 1] as number;
      const ar = r[o + ILK] as number;
      const ai = r[o + ILK + 1] as number;
      x[4 * h] = (r[o + VK] as number) - (lr * ar - li * ai);
      x[4 * h + 1] = (r[o + VK + 1] as number) - (lr * ai + li * ar);
      // choke
      const cr = q[k + INV_LRS] as number;
      const ci = q[k + INV_LRS + 1] as number;
      const br = r[o + ILR] as number;
      const bi = r[o + ILR + 1] as number;
      let pr = (r[o + V1] as number) - (cr * br - ci * bi);
      let pi = (r[o + V1 + 1] as number) - (cr * bi + ci * br);
      // coil and output: what the sources at V2, tap and in the coil put into the plate node
      const s2r = r[o + V2] as number;
      const s2i = r[o + V2 + 1] as number;
      const y2r = q[k + INV_Y2] as number;
      const y2i = q[k + INV_Y2 + 1] as number;
      // e = rIL(far) - s2/y2
      const farAt = split ? ILB : ILA;
      const er = (r[o + farAt] as number) - (s2r * y2r - s2i * y2i);
      const ei = (r[o + farAt + 1] as number) - (s2r * y2i + s2i * y2r);
      const ybr = q[k + YB] as number;
      const ybi = q[k + YB + 1] as number;
      // current it drives through the far section: Yb e
      const jr = ybr * er - ybi * ei;
      const ji = ybr * ei + ybi * er;
      if (split) {
        // q = rT - Yb e ; plate += -Ya (rILa - q/yt)
        const qr = (r[o + VT] as number) - jr;
        const qi = (r[o + VT + 1] as number) - ji;
        const tr = q[k + INV_YT] as number;
        const ti = q[k + INV_YT + 1] as number;
        const dr = (r[o + ILA] as number) - (qr * tr - qi * ti);
        const di = (r[o + ILA + 1] as number) - (qr * ti + qi * tr);
        const yar = q[k + YA] as number;
        const yai = q[k + YA + 1] as number;
        const fr = yar * dr - yai * di;
        const fi = yar * di + yai * dr;
        pr -= fr;
        pi -= fi;
        out[o + VT] = qr;
        out[o + VT + 1] = qi;
        out[o + ILA] = fr;
        out[o + ILA + 1] = fi;
        out[o + ILB] = jr;
        out[o + ILB + 1] = ji;
      } else {
        pr -= jr;
        pi -= ji;
        out[o + ILA] = jr;
        out[o + ILA + 1] = ji;
      }
      x[4 * h + 2] = pr;
      x[4 * h + 3] = pi;
      // arcs that sit behind the plate node see the same sources directly
      for (let i = 0; i < this.arcOrder; i++) {
        const a = this.arcs[i] as number;
        if (a === AT_PLATE) continue;
        let nr: number;
        let ni: number;
        if (a === AT_TAP) {
          // KVt without KV1: (q + Ya' sources)/yt  with Ia = Ya(rILa - q/yt)
          const qr = out[o + VT] as number;
          const qi = out[o + VT + 1] as number;
          const sr = (out[o + ILA] as number) + qr;
          const si = (out[o + ILA + 1] as number) + qi;
          const tr = q[k + INV_YT] as number;
          const ti = q[k + INV_YT + 1] as number;
          nr = sr * tr - si * ti;
          ni = sr * ti + si * tr;
        } else {
          // KV2 = (s2 + KIL)/y2
          let ir = out[o + farAt] as number;
          let ii = out[o + farAt + 1] as number;
          if (split) {
            const tr = q[k + INV_YT] as number;
            const ti = q[k + INV_YT + 1] as number;
            const sr = (out[o + ILA] as number) + (out[o + VT] as number);
            const si = (out[o + ILA + 1] as number) + (out[o + VT + 1] as number);
            const vr = sr * tr - si * ti;
            const vi = sr * ti + si * tr;
            ir += ybr * vr - ybi * vi;
            ii += ybr * vi + ybi * vr;
          }
          ir += s2r;
          ii += s2i;
          nr = ir * y2r - ii * y2i;
          ni = ir * y2i + ii * y2r;
        }
        const v = c.maintainingV[a] as number;
        const gain = 2 / (v * v * (c.arcTimeConstantS[a] as number));
        const node = o + (ARC_NODE[a] as number);
        x[PORT_ARCS + i] =
          (x[PORT_ARCS + i] as number) +
          gain * ((y[node] as number) * nr + (y[node + 1] as number) * ni);
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
    const q = this.keep;
    const x = this.rhs;
    const g = this.arcSiemens;
    for (let a = 0; a < ARC_COUNT; a++) out[LNG + a] = 0;
    for (let i = 0; i < this.arcOrder; i++)
      out[LNG + (this.arcs[i] as number)] = x[PORT_ARCS + i] as number;
    out[EB] = x[PORT_EB] as number;
    out[EK] = x[PORT_EK] as number;
    out[VC] = c.stiffSupply
      ? 0
      : ((r[VC] as number) + c.surgeSiemens * (x[PORT_EB] as number)) / this.filterDiagonal;
    for (let h = 0; h < HARMONICS; h++) {
      const o = h * STRIDE;
      const k = h * KEEP;
      const vkr = x[4 * h] as number;
      const vki = x[4 * h + 1] as number;
      const v1r = x[4 * h + 2] as number;
      const v1i = x[4 * h + 3] as number;
      out[o + VK] = vkr;
      out[o + VK + 1] = vki;
      out[o + V1] = v1r;
      out[o + V1 + 1] = v1i;
      branch(
        out,
        o + ILK,
        q,
        k + INV_LKS,
        vkr + (r[o + ILK] as number),
        vki + (r[o + ILK + 1] as number),
      );
      branch(
        out,
        o + ILR,
        q,
        k + INV_LRS,
        v1r + (r[o + ILR] as number),
        v1i + (r[o + ILR + 1] as number),
      );
      // injections at V2 and tap, arcs included
      let s2r = r[o + V2] as number;
      let s2i = r[o + V2 + 1] as number;
      const lk =
        (g[AT_LOADING] as number) * (out[LNG + AT_LOADING] as number) +
        (g[AT_BEYOND] as number) * (out[LNG + AT_BEYOND] as number);
      s2r -= lk * (y[o + V2] as number);
      s2i -= lk * (y[o + V2 + 1] as number);
      const y2r = q[k + INV_Y2] as number;
      const y2i = q[k + INV_Y2 + 1] as number;
      const dropR = s2r * y2r - s2i * y2i;
      const dropI = s2r * y2i + s2i * y2r;
      let nodeR = v1r;
      let nodeI = v1i;
      let far = ILA;
      if (split) {
        far = ILB;
        const lt = (g[AT_TAP] as number) * (out[LNG + AT_TAP] as number);
        const er = (r[o + ILB] as number) - dropR;
        const ei = (r[o + ILB + 1] as number) - dropI;
        const ybr = q[k + YB] as number;
        const ybi = q[k + YB + 1] as number;
        const qr = (r[o + VT] as number) - lt * (y[o + VT] as number) - (ybr * er - ybi * ei);
        const qi =
          (r[o + VT + 1] as number) - lt * (y[o + VT + 1] as number) - (ybr * ei + ybi * er);
        const tr = q[k + INV_YT] as number;
        const ti = q[k + INV_YT + 1] as number;
        branch(
          out,
          o + ILA,
          q,
          k + YA,
          v1r + (r[o + ILA] as number) - (qr * tr - qi * ti),
          v1i + (r[o + ILA + 1] as number) - (qr * ti + qi * tr),
        );
        branch(
          out,
          o + VT,
          q,
          k + INV_YT,
          (out[o + ILA] as number) + qr,
          (out[o + ILA + 1] as number) + qi,
        );
        nodeR = out[o + VT] as number;
        nodeI = out[o + VT + 1] as number;
      } else {
        out[o + VT] = out[o + VT + 1] = out[o + ILB] = out[o + ILB + 1] = 0;
      }
      branch(
        out,
        o + far,
        q,
        k + YB,
        nodeR + (r[o + far] as number) - dropR,
        nodeI + (r[o + far + 1] as number) - dropI,
      );
      branch(
        out,
        o + V2,
        q,
        k + INV_Y2,
        (out[o + far] as number) + s2r,
        (out[o + far + 1] as number) + s2i,
      );
    }
  }
}

/** M of each row, the storage element behind it; 1 for ln g, 0 for the tap node. */
export function storage(c: StageCircuit, into: Float64Array): void {
  const split = c.burning[AT_TAP] === 1;
  for (let h = 0; h < HARMONICS; h++) {
    const o = h * STRIDE;
    for (let p = 0; p < 2; p++) {
      into[o + VK + p] = c.cathodeF;
      into[o + ILK + p] = c.cathodeH;
      into[o + V1 + p] = c.plateF;
      into[o + ILR + p] = c.chokeH;
      into[o + ILA + p] = split ? c.coilH * (1 - c.tapFraction) : c.coilH;
      into[o + VT + p] = 0;
      into[o + ILB + p] = split ? c.coilH * c.tapFraction : 0;
      into[o + V2 + p] = c.loadingF;
    }
  }
  into[VC] = c.filterF;
  into[EB] = c.bypassF;
  into[EK] = c.returnF;
  for (let a = 0; a < ARC_COUNT; a++) into[LNG + a] = 1;
}

/** q[to] = 1/(re + j im) */
function invert(q: Float64Array, to: number, re: number, im: number): void {
  const d = 1 / (re * re + im * im);
  q[to] = re * d;
  q[to + 1] = -im * d;
}

function multiply(
  q: Float64Array,
  to: number,
  a: Float64Array,
  at: number,
  b: Float64Array,
  bt: number,
): void {
  const ar = a[at] as number;
  const ai = a[at + 1] as number;
  const br = b[bt] as number;
  const bi = b[bt + 1] as number;
  q[to] = ar * br - ai * bi;
  q[to + 1] = ar * bi + ai * br;
}

/** q[to] = (1 - q[one]) q[times] */
function oneMinusTimes(q: Float64Array, to: number, one: number, times: number): void {
  const ar = 1 - (q[one] as number);
  const ai = -(q[one + 1] as number);
  const br = q[times] as number;
  const bi = q[times + 1] as number;
  q[to] = ar * br - ai * bi;
  q[to + 1] = ar * bi + ai * br;
}

/** out[to] = q[by] (re + j im) */
function branch(
  out: Float64Array,
  to: number,
  q: Float64Array,
  by: number,
  re: number,
  im: number,
): void {
  const yr = q[by] as number;
  const yi = q[by + 1] as number;
  out[to] = yr * re - yi * im;
  out[to + 1] = yr * im + yi * re;
}

/** Voltage at an arc's node per volt at the plate node. */
function transferRe(q: Float64Array, k: number, place: number): number {
  if (place === AT_PLATE) return 1;
  return q[k + (place === AT_TAP ? TT : T2)] as number;
}

function transferIm(q: Float64Array, k: number, place: number): number {
  if (place === AT_PLATE) return 0;
  return q[k + (place === AT_TAP ? TT : T2) + 1] as number;
}

/** Where the impedance from an injection at arc b to the voltage at arc a is kept; -1 for the plate node. */
function impedanceAt(a: number, b: number): number {
  if (a === AT_PLATE || b === AT_PLATE) return -1;
  if (a === AT_TAP && b === AT_TAP) return ZTT;
  if (a === AT_TAP || b === AT_TAP) return ZT2;
  return Z22;
}
