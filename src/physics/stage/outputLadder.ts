/**
 * The passive part of one implicit matrix, harmonic by harmonic, reduced to the tube's ports: cathode
 * tank, plate choke, coil (split at a burning tap) and output node, seen from the plate node.
 *
 *   y2 = C2 s + G + jB + g2     Yb = 1/(z_far + 1/y2)     t2 = Yb/y2
 *   yt = g_tap + Yb             Ya = 1/(z_near + 1/yt)    Tt = Ya/yt       (split coil only)
 *
 *   pi-L: y3 = C3 s + G + jB + g beyond, Yc = 1/(z_out + 1/y3), t3 = Yc/y3, and y2 = C2 s + g2 + Yc
 *
 * with s = sigma + jhw. V_t = Tt V1 + Ztt i_t + Zt2 i_2 and V_2 = T2 V1 + Z2t i_t + Z22 i_2 for currents
 * injected at the tap and at the output; the same T carry those injections back to the plate node. What is injected
 * at a pi-L's connector reaches the loading node times t3: T3 = t3 T2, Zt3 = t3 Zt2, Z23 = t3 Z22,
 * Z33 = t3^2 Z22 + (1 - t3)/y3.
 */
import { invertAt, multiplyAt, oneMinusTimesAt, timesAt } from "../../math/complexAt";
import { HARMONICS } from "../tube/triode";
import { CONNECTOR_F, hasOutputCoil, isTapNode, type StageCircuit } from "./circuit";
import {
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  ILA,
  ILB,
  ILC,
  ILK,
  ILR,
  V1,
  V2,
  V3,
  VK,
  VT,
} from "./layout";
import { loadSusceptanceAt } from "./stageEquations";

/** Complex numbers a harmonic keeps between factoring and solving. */
const KEEP = 40;
export const INV_LKS = 0;
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
export const Y1 = 24;
const INV_Y3 = 26;
const YC = 28;
const T3_LOADING = 30;
const T3 = 32;
const ZT3 = 34;
const Z23 = 36;
const Z33 = 38;

export class OutputLadder {
  /** Kept numbers of harmonic index h (from 0) begin at `at(h)`. */
  readonly keep = new Float64Array(HARMONICS * KEEP);
  private piL = false;

  at(h: number): number {
    return h * KEEP;
  }

  /** Prepares harmonic number `h` (from 1) for arcs and bridges of conductance `g`. */
  factor(c: StageCircuit, g: Float64Array, h: number, sigma: number): void {
    const q = this.keep;
    const k = this.at(h - 1);
    const w = h * c.omega;
    const split = isTapNode(c);
    invertAt(q, k + INV_LKS, c.cathodeH * sigma, c.cathodeH * w);
    invertAt(q, k + INV_LRS, c.chokeH * sigma, c.chokeH * w);
    let outR = c.loadSiemens + (g[AT_BEYOND] as number);
    let outI = loadSusceptanceAt(c, h);
    this.piL = hasOutputCoil(c);
    if (this.piL) {
      invertAt(q, k + INV_Y3, CONNECTOR_F * sigma + outR, outI);
      invertAt(
        q,
        k + YC,
        c.outputCoilH * sigma + c.outputCoilOhm + (q[k + INV_Y3] as number),
        c.outputCoilH * w + (q[k + INV_Y3 + 1] as number),
      );
      multiplyAt(q, k + T3_LOADING, q, k + YC, q, k + INV_Y3);
      outR = q[k + YC] as number;
      outI = q[k + YC + 1] as number;
    }
    invertAt(
      q,
      k + INV_Y2,
      c.loadingF * sigma + outR + (g[AT_LOADING] as number),
      c.loadingF * w + outI,
    );
    const zr = c.coilH * sigma + c.coilOhm;
    const zi = c.coilH * w;
    const far = split ? c.tapFraction : 1;
    const i2r = q[k + INV_Y2] as number;
    const i2i = q[k + INV_Y2 + 1] as number;
    invertAt(q, k + YB, far * zr + i2r, far * zi + i2i);
    multiplyAt(q, k + T2_TAP, q, k + YB, q, k + INV_Y2);
    if (split) this.factorSplit(c, g, k, zr, zi);
    else {
      q[k + YA] = q[k + YB] as number;
      q[k + YA + 1] = q[k + YB + 1] as number;
      q[k + T2] = q[k + T2_TAP] as number;
      q[k + T2 + 1] = q[k + T2_TAP + 1] as number;
      oneMinusTimesAt(q, k + Z22, k + T2, k + INV_Y2);
    }
    if (this.piL) this.factorConnector(k, split);
    q[k + Y1] =
      c.plateF * sigma +
      c.plateLossSiemens +
      (g[AT_PLATE] as number) +
      (q[k + INV_LRS] as number) +
      (q[k + YA] as number);
    q[k + Y1 + 1] = c.plateF * w + (q[k + INV_LRS + 1] as number) + (q[k + YA + 1] as number);
  }

  /** Transfers and impedances of a pi-L's connector, from those of its loading node. */
  private factorConnector(k: number, split: boolean): void {
    const q = this.keep;
    multiplyAt(q, k + T3, q, k + T3_LOADING, q, k + T2);
    if (split) multiplyAt(q, k + ZT3, q, k + T3_LOADING, q, k + ZT2);
    multiplyAt(q, k + Z23, q, k + T3_LOADING, q, k + Z22);
    multiplyAt(q, k + Z33, q, k + T3_LOADING, q, k + Z23);
    const ar = 1 - (q[k + T3_LOADING] as number);
    const ai = -(q[k + T3_LOADING + 1] as number);
    const br = q[k + INV_Y3] as number;
    const bi = q[k + INV_Y3 + 1] as number;
    q[k + Z33] = (q[k + Z33] as number) + ar * br - ai * bi;
    q[k + Z33 + 1] = (q[k + Z33 + 1] as number) + ar * bi + ai * br;
  }

  private factorSplit(c: StageCircuit, g: Float64Array, k: number, zr: number, zi: number): void {
    const q = this.keep;
    const near = 1 - c.tapFraction;
    invertAt(q, k + INV_YT, (g[AT_TAP] as number) + (q[k + YB] as number), q[k + YB + 1] as number);
    invertAt(
      q,
      k + YA,
      near * zr + (q[k + INV_YT] as number),
      near * zi + (q[k + INV_YT + 1] as number),
    );
    multiplyAt(q, k + TT, q, k + YA, q, k + INV_YT);
    oneMinusTimesAt(q, k + ZTT, k + TT, k + INV_YT);
    multiplyAt(q, k + T2, q, k + T2_TAP, q, k + TT);
    multiplyAt(q, k + ZT2, q, k + T2_TAP, q, k + ZTT);
    multiplyAt(q, k + Z22, q, k + T2_TAP, q, k + ZT2);
    // + (1 - t2)/y2, the output node's own part
    const ar = 1 - (q[k + T2_TAP] as number);
    const ai = -(q[k + T2_TAP + 1] as number);
    const br = q[k + INV_Y2] as number;
    const bi = q[k + INV_Y2 + 1] as number;
    q[k + Z22] = (q[k + Z22] as number) + ar * br - ai * bi;
    q[k + Z22 + 1] = (q[k + Z22 + 1] as number) + ar * bi + ai * br;
  }

  /** Voltage at an arc's node per volt at the plate node. */
  transferRe(h: number, place: number): number {
    if (place === AT_PLATE) return 1;
    return this.keep[this.at(h) + this.transferTo(place)] as number;
  }

  transferIm(h: number, place: number): number {
    if (place === AT_PLATE) return 0;
    return this.keep[this.at(h) + this.transferTo(place) + 1] as number;
  }

  private transferTo(place: number): number {
    if (place === AT_TAP) return TT;
    return this.piL && place === AT_BEYOND ? T3 : T2;
  }

  /** Index of the impedance from an injection at arc b to the voltage at arc a; -1 at the plate node. */
  impedance(h: number, a: number, b: number): number {
    if (a === AT_PLATE || b === AT_PLATE) return -1;
    const k = this.at(h);
    if (a === AT_TAP && b === AT_TAP) return k + ZTT;
    const atConnector = this.piL ? (a === AT_BEYOND ? 1 : 0) + (b === AT_BEYOND ? 1 : 0) : 0;
    if (a === AT_TAP || b === AT_TAP) return k + (atConnector === 0 ? ZT2 : ZT3);
    return k + (atConnector === 0 ? Z22 : atConnector === 1 ? Z23 : Z33);
  }

  /**
   * Right-hand side of harmonic index h (from 0), rows at `o` of `r`, carried to the ports: cathode row to
   * `x[p], x[p + 1]`, plate row to `x[p + 2], x[p + 3]`. What the sources alone do inside is left in `out`.
   */
  gather(
    split: boolean,
    piL: boolean,
    h: number,
    o: number,
    r: Float64Array,
    out: Float64Array,
    x: Float64Array,
    p: number,
  ): void {
    const q = this.keep;
    const k = this.at(h);
    timesAt(out, o + ILK, q, k + INV_LKS, r[o + ILK] as number, r[o + ILK + 1] as number);
    x[p] = (r[o + VK] as number) - (out[o + ILK] as number);
    x[p + 1] = (r[o + VK + 1] as number) - (out[o + ILK + 1] as number);
    timesAt(out, o + ILR, q, k + INV_LRS, r[o + ILR] as number, r[o + ILR + 1] as number);
    // far section driven by its own source and by what is injected at the output node
    const far = split ? ILB : ILA;
    let j2r = r[o + V2] as number;
    let j2i = r[o + V2 + 1] as number;
    if (piL) {
      // output coil driven by its own source and by what is injected at the connector
      timesAt(out, o + V3, q, k + INV_Y3, r[o + V3] as number, r[o + V3 + 1] as number);
      timesAt(
        out,
        o + ILC,
        q,
        k + YC,
        (r[o + ILC] as number) - (out[o + V3] as number),
        (r[o + ILC + 1] as number) - (out[o + V3 + 1] as number),
      );
      j2r -= out[o + ILC] as number;
      j2i -= out[o + ILC + 1] as number;
    }
    timesAt(out, o + V2, q, k + INV_Y2, j2r, j2i);
    timesAt(
      out,
      o + far,
      q,
      k + YB,
      (r[o + far] as number) - (out[o + V2] as number),
      (r[o + far + 1] as number) - (out[o + V2 + 1] as number),
    );
    if (split) {
      // injection left at the tap, then the near section driven by it
      const jr = (r[o + VT] as number) - (out[o + ILB] as number);
      const ji = (r[o + VT + 1] as number) - (out[o + ILB + 1] as number);
      timesAt(out, o + VT, q, k + INV_YT, jr, ji);
      timesAt(
        out,
        o + ILA,
        q,
        k + YA,
        (r[o + ILA] as number) - (out[o + VT] as number),
        (r[o + ILA + 1] as number) - (out[o + VT + 1] as number),
      );
      // tap voltage with the plate node at rest
      timesAt(
        out,
        o + VT,
        q,
        k + INV_YT,
        (out[o + ILA] as number) + jr,
        (out[o + ILA + 1] as number) + ji,
      );
      const vr = out[o + VT] as number;
      const vi = out[o + VT + 1] as number;
      const br = q[k + YB] as number;
      const bi = q[k + YB + 1] as number;
      out[o + ILB] = (out[o + ILB] as number) + br * vr - bi * vi;
      out[o + ILB + 1] = (out[o + ILB + 1] as number) + br * vi + bi * vr;
    }
    // output voltage with the plate node at rest
    timesAt(
      out,
      o + V2,
      q,
      k + INV_Y2,
      j2r + (out[o + far] as number),
      j2i + (out[o + far + 1] as number),
    );
    if (piL) this.connector(h, o, r, out, out[o + V2] as number, out[o + V2 + 1] as number);
    x[p + 2] = (r[o + V1] as number) - (out[o + ILR] as number) - (out[o + ILA] as number);
    x[p + 3] =
      (r[o + V1 + 1] as number) - (out[o + ILR + 1] as number) - (out[o + ILA + 1] as number);
  }

  /** All rows of harmonic index h from the port voltages; `r` must include the arcs' own injections. */
  expand(
    split: boolean,
    piL: boolean,
    h: number,
    o: number,
    r: Float64Array,
    out: Float64Array,
    x: Float64Array,
    p: number,
  ): void {
    const q = this.keep;
    const k = this.at(h);
    const vkr = x[p] as number;
    const vki = x[p + 1] as number;
    const v1r = x[p + 2] as number;
    const v1i = x[p + 3] as number;
    this.gather(split, piL, h, o, r, out, x, p);
    x[p] = vkr;
    x[p + 1] = vki;
    x[p + 2] = v1r;
    x[p + 3] = v1i;
    out[o + VK] = vkr;
    out[o + VK + 1] = vki;
    out[o + V1] = v1r;
    out[o + V1 + 1] = v1i;
    addTimes(out, o + ILK, q, k + INV_LKS, vkr, vki);
    addTimes(out, o + ILR, q, k + INV_LRS, v1r, v1i);
    addTimes(out, o + ILA, q, k + YA, v1r, v1i);
    if (split) {
      const tr = q[k + TT] as number;
      const ti = q[k + TT + 1] as number;
      const vtr = tr * v1r - ti * v1i;
      const vti = tr * v1i + ti * v1r;
      out[o + VT] = (out[o + VT] as number) + vtr;
      out[o + VT + 1] = (out[o + VT + 1] as number) + vti;
      addTimes(out, o + ILB, q, k + YB, vtr, vti);
    } else {
      out[o + VT] = out[o + VT + 1] = out[o + ILB] = out[o + ILB + 1] = 0;
    }
    addTimes(out, o + V2, q, k + T2, v1r, v1i);
    if (!piL) {
      out[o + ILC] = out[o + ILC + 1] = out[o + V3] = out[o + V3 + 1] = 0;
      return;
    }
    const tr = q[k + T2] as number;
    const ti = q[k + T2 + 1] as number;
    this.connector(h, o, r, out, tr * v1r - ti * v1i, tr * v1i + ti * v1r);
  }

  /** Output coil and connector of a pi-L once the loading node has moved by re + j im. */
  private connector(
    h: number,
    o: number,
    r: Float64Array,
    out: Float64Array,
    re: number,
    im: number,
  ): void {
    const q = this.keep;
    const k = this.at(h);
    addTimes(out, o + ILC, q, k + YC, re, im);
    timesAt(
      out,
      o + V3,
      q,
      k + INV_Y3,
      (r[o + V3] as number) + (out[o + ILC] as number),
      (r[o + V3 + 1] as number) + (out[o + ILC + 1] as number),
    );
  }
}

/** out[to] += q[by] (re + j im) */
function addTimes(
  out: Float64Array,
  to: number,
  q: Float64Array,
  by: number,
  re: number,
  im: number,
): void {
  const yr = q[by] as number;
  const yi = q[by + 1] as number;
  out[to] = (out[to] as number) + yr * re - yi * im;
  out[to + 1] = (out[to + 1] as number) + yr * im + yi * re;
}
