/**
 * The coupled envelope equations of tube, input circuit, tank, load, supply, cathode return and arcs.
 *
 *   Ck Vk' = Src - gk Vk - ILk + Ik_h - j h w Ck Vk          Lk ILk' = Vk - j h w Lk ILk
 *   C1 V1' = -Ip_h - ILr - ILa - (g1 + g) V1 - j h w C1 V1   Lr ILr' = V1 - j h w Lr ILr
 *   L  IL' = V1 - V2 - (r + j h w L) IL                      (split in two at a burning tap)
 *   C2 V2' = IL - (G + jB_h + g) V2 - j h w C2 V2
 *   pi-L: C2 V2' = IL - IL2 - g V2 - j h w C2 V2             L2 IL2' = V2 - V3 - (r2 + j h w L2) IL2
 *         C3 V3' = IL2 - (G + jB_h + g beyond) V3         (j h w C3 counts as part of B_h)
 *   Cf Vc' = max(0, (Eo - Vc)/Rs) + max(0, -Vc) Gd - (Vc - Eb)/Rsurge - Vc (Gbleed + Gcrowbar)
 *   Cb Eb' = (Vc - Eb)/Rsurge - Ip0 - Eb (Gshort + Gstray) - (Eb - Vdc) Gdc   (Vdc: an arc fed with direct current)
 *   Cc Ek' = Ik0 - (Ek - Ebias) Gbias - Ek (Gcut + Gtouch)
 *   d(ln g)/dt = (sum_h |Va_h|^2 / Varc^2 - 1)/tau           (resistive plasma after Cassie)
 *   where metal bridges a gap its conductance stands beside the arc's in g; it never changes by itself
 *
 * x(t) = x0 + Re sum X_h e^{jhwt}, X peak. B_h = B h for a capacitive, B/h for an inductive load.
 * Energy storage at harmonics above the second, skin effect and mutual inductance inside the coil are
 * left out. Derivation: by hand from Kirchhoff's laws; checked against a full-waveform circuit simulator.
 */
import { logConductanceRatePerS } from "../arc/cassie";
import { dcArcA } from "../supply/dcArc";
import { HARMONICS, type TriodeAverages } from "../tube/triode";
import { CONNECTOR_F, hasOutputCoil, isTapNode, type StageCircuit } from "./circuit";
import {
  ARC_COUNT,
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  arcNodes,
  EB,
  EK,
  ILA,
  ILB,
  ILC,
  ILK,
  ILR,
  LNG,
  STRIDE,
  V1,
  V2,
  V3,
  VC,
  VK,
  VT,
} from "./layout";

/** Conductance of source, loss and a touching grid at the cathode node, the same at every harmonic. */
export function cathodeSiemens(c: StageCircuit): number {
  return 1 / (c.turnsRatio * c.turnsRatio * c.driveOhm) + c.cathodeLossSiemens + c.touchSiemens;
}

/** Conductance of the rectifier's own diodes when the filter voltage would turn over. */
const TURNED_OVER_SIEMENS = 1;

/** What the rectifier gives at a filter voltage: it only charges, and its diodes keep the filter from turning over. */
export function rectifierA(c: StageCircuit, filterV: number): number {
  return (
    Math.max(0, (c.noLoadV - filterV) * c.sourceSiemens) +
    Math.max(0, -filterV) * TURNED_OVER_SIEMENS
  );
}

/** -d(rectifierA)/d(filterV). */
export function rectifierSiemens(c: StageCircuit, filterV: number): number {
  return (c.noLoadV > filterV ? c.sourceSiemens : 0) + (filterV < 0 ? TURNED_OVER_SIEMENS : 0);
}

/** Load susceptance at harmonic h: a capacitor's grows, an inductor's falls. */
export function loadSusceptanceAt(c: StageCircuit, h: number): number {
  const b = c.loadSusceptanceSiemens;
  return b >= 0 ? b * h : b / h;
}

/** Right-hand sides (before division by M) at `y`: tube averages `t` and conductances `g` of arcs and bridges at their places. */
export function derivative(
  c: StageCircuit,
  t: TriodeAverages,
  g: Float64Array,
  y: Float64Array,
  sourceA: number,
  f: Float64Array,
): void {
  const split = isTapNode(c);
  const gk = cathodeSiemens(c);
  const g1 = c.plateLossSiemens + (g[AT_PLATE] as number);
  const piL = hasOutputCoil(c);
  const gOut = c.loadSiemens + (g[AT_BEYOND] as number);
  const g2 = piL ? (g[AT_LOADING] as number) : gOut + (g[AT_LOADING] as number);
  for (let h = 1; h <= HARMONICS; h++) {
    const o = (h - 1) * STRIDE;
    const w = h * c.omega;
    const b = loadSusceptanceAt(c, h);
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
    const wc2 = piL ? w * c.loadingF : w * c.loadingF + b;
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
    if (piL) outputCoil(c, o, w, b, gOut, y, f);
    else f[o + ILC] = f[o + ILC + 1] = f[o + V3] = f[o + V3 + 1] = 0;
  }
  const vc = y[VC] as number;
  const eb = y[EB] as number;
  const ek = y[EK] as number;
  const surgeA = (vc - eb) * c.surgeSiemens;
  f[VC] = c.stiffSupply
    ? 0
    : rectifierA(c, vc) - surgeA - vc * c.bleederSiemens - vc * c.crowbarSiemens;
  const aside = c.shortSiemens + c.stray.plateSiemens;
  f[EB] = surgeA - t.plateDcA - eb * aside - dcArcA(eb, c.dcArcV, c.dcArcSiemens);
  f[EK] = t.cathodeDcA - (ek - c.biasV) * c.biasSiemens - ek * (c.cutoffSiemens + c.touchSiemens);
  for (let a = 0; a < ARC_COUNT; a++) {
    f[LNG + a] = c.burning[a] ? arcDrive(c, y, a) : 0;
  }
}

/** Rows of a pi-L's output coil and connector, and what the coil takes from the loading node. */
function outputCoil(
  c: StageCircuit,
  o: number,
  w: number,
  b: number,
  g: number,
  y: Float64Array,
  f: Float64Array,
): void {
  const icr = y[o + ILC] as number;
  const ici = y[o + ILC + 1] as number;
  const v3r = y[o + V3] as number;
  const v3i = y[o + V3 + 1] as number;
  f[o + V2] = (f[o + V2] as number) - icr;
  f[o + V2 + 1] = (f[o + V2 + 1] as number) - ici;
  const wl = w * c.outputCoilH;
  f[o + ILC] = (y[o + V2] as number) - v3r - c.outputCoilOhm * icr + wl * ici;
  f[o + ILC + 1] = (y[o + V2 + 1] as number) - v3i - c.outputCoilOhm * ici - wl * icr;
  f[o + V3] = icr - g * v3r + b * v3i;
  f[o + V3 + 1] = ici - g * v3i - b * v3r;
}

/** (sum_h |Va_h|^2 / Varc^2 - 1)/tau of the arc at place `a`. */
function arcDrive(c: StageCircuit, y: Float64Array, a: number): number {
  const node = arcNodes(hasOutputCoil(c))[a] as number;
  let square = 0;
  for (let h = 0; h < HARMONICS; h++) {
    const r = y[h * STRIDE + node] as number;
    const i = y[h * STRIDE + node + 1] as number;
    square += r * r + i * i;
  }
  return logConductanceRatePerS(
    square,
    c.maintainingV[a] as number,
    c.arcTimeConstantS[a] as number,
  );
}

/** M of each row, the storage element behind it; 1 for ln g, 0 for the tap node. */
export function storage(c: StageCircuit, into: Float64Array): void {
  const piL = hasOutputCoil(c);
  const split = isTapNode(c);
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
      into[o + ILC + p] = c.outputCoilH;
      into[o + V3 + p] = piL ? CONNECTOR_F : 0;
    }
  }
  into[VC] = c.filterF;
  into[EB] = c.bypassF;
  into[EK] = c.returnF;
  for (let a = 0; a < ARC_COUNT; a++) into[LNG + a] = 1;
}
