/**
 * The passive part of one implicit matrix, harmonic by harmonic, reduced to the tube's ports: cathode
 * tank, plate choke, coil (split at a burning tap) and output node, seen from the plate node.
 *
 *   y2 = C2 s + G + jB + g2     Yb = 1/(z_far + 1/y2)     t2 = Yb/y2
 *   yt = g_tap + Yb             Ya = 1/(z_near + 1/yt)    Tt = Ya/yt       (split coil only)
 *
 * with s = sigma + jhw. V_t = Tt V1 + Ztt i_t + Zt2 i_2 and V_2 = T2 V1 + Z2t i_t + Z22 i_2 for currents
 * injected at the tap and at the output; the same T carry those injections back to the plate node.
 */
import { invertAt, multiplyAt, oneMinusTimesAt, timesAt } from "../../math/complexAt";
import { HARMONICS } from "../tube/triode";
import type { StageCircuit } from "./circuit";
import {
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  ILA,
  ILB,
  ILK,
  ILR,
  V1,
  V2,
  VK,
  VT,
} from "./layout";
import { loadSusceptanceAt } from "./stageEquations";

/** Complex numbers a harmonic keeps between factoring and solving. */
const KEEP = 26;
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

export class OutputLadder {
  /** Kept numbers of harmonic index h (from 0) begin at `at(h)`. */
  readonly keep = new Float64Array(HARMONICS * KEEP);

  at(h: number): number {
    return h * KEEP;
  }

  /** Prepares harmonic number `h` (from 1) for arcs of conductance `g`. */
  factor(c: StageCircuit, g: Float64Array, h: number, sigma: number): void {
    const q = this.keep;
    const k = this.at(h - 1);
    const w = h * c.omega;
    const split = c.burning[AT_TAP] === 1;
    invertAt(q, k + INV_LKS, c.cathodeH * sigma, c.cathodeH * w);
    invertAt(q, k + INV_LRS, c.chokeH * sigma, c.chokeH * w);
    invertAt(
      q,
      k + INV_Y2,
      c.loadingF * sigma + c.loadSiemens + (g[AT_LOADING] as number) + (g[AT_BEYOND] as number),
      c.loadingF * w + loadSusceptanceAt(c, h),
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
    q[k + Y1] =
      c.plateF * sigma +
      c.plateLossSiemens +
      (g[AT_PLATE] as number) +
      (q[k + INV_LRS] as number) +
      (q[k + YA] as number);
    q[k + Y1 + 1] = c.plateF * w + (q[k + INV_LRS + 1] as number) + (q[k + YA + 1] as number);
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
    return this.keep[this.at(h) + (place === AT_TAP ? TT : T2)] as number;
  }

  transferIm(h: number, place: number): number {
    if (place === AT_PLATE) return 0;
    return this.keep[this.at(h) + (place === AT_TAP ? TT : T2) + 1] as number;
  }

  /** Index of the impedance from an injection at arc b to the voltage at arc a; -1 at the plate node. */
  impedance(h: number, a: number, b: number): number {
    if (a === AT_PLATE || b === AT_PLATE) return -1;
    const k = this.at(h);
    if (a === AT_TAP && b === AT_TAP) return k + ZTT;
    if (a === AT_TAP || b === AT_TAP) return k + ZT2;
    return k + Z22;
  }

  /**
   * Right-hand side of harmonic index h (from 0), rows at `o` of `r`, carried to the ports: cathode row to
   * `x[p], x[p + 1]`, plate row to `x[p + 2], x[p + 3]`. What the sources alone do inside is left in `out`.
   */
  gather(
    split: boolean,
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
    timesAt(out, o + V2, q, k + INV_Y2, r[o + V2] as number, r[o + V2 + 1] as number);
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
      (r[o + V2] as number) + (out[o + far] as number),
      (r[o + V2 + 1] as number) + (out[o + far + 1] as number),
    );
    x[p + 2] = (r[o + V1] as number) - (out[o + ILR] as number) - (out[o + ILA] as number);
    x[p + 3] =
      (r[o + V1 + 1] as number) - (out[o + ILR + 1] as number) - (out[o + ILA + 1] as number);
  }

  /** All rows of harmonic index h from the port voltages; `r` must include the arcs' own injections. */
  expand(
    split: boolean,
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
    this.gather(split, h, o, r, out, x, p);
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
