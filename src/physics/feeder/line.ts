/**
 * A transmission line with loss, from the admittance at its far end to what its near end shows.
 *
 *   Zin = Z0 (ZL + Z0 tanh gl)/(Z0 + ZL tanh gl),  g = a + jb,  b = 2 pi f/(v c)
 *   worked as  rho_in = rho_L e^{-2al} e^{-2jbl},   Y = (1/Z0) (1 - rho)/(1 + rho)
 *   attenuation (dB/m) = Ac sqrt(f/f1) + Ad f/f1     skin effect + dielectric
 *   A = 10^(matched loss in dB/10), r = |rho_L|:
 *   total loss (dB) = 10 log10((A^2 - r^2)/(A (1 - r^2)))
 *   lost in the line = Pf (1 - 1/A)(1 + r^2/A),      taken by the line = Pf (1 - r^2/A^2)
 *
 * Z0 characteristic impedance, ohm, taken as real; l length, m; v velocity factor; c speed of
 * light; Pf forward power at the near end; f1 the frequency at which Ac and Ad are given. 1 - r^2
 * is worked as 4 G Y0/|Y0 + Y|^2, so that nothing cancels near total reflection.
 *
 * Validity: 0.1 to 100 MHz, lines whose loss a wavelength is small. Left out: the reactive part of
 * Z0 of a lossy line (-4 % of Z0 for a 5 mm cable at 1.8 MHz, less than 1 % for a 10 mm one from 14
 * MHz on). What it costs: 30 m of the latter at 1.82 MHz, 1.7 %, SWR 1.3, put a pi-L stage 0.7 % off
 * in output, 2.0 % in plate RF and 5.7 % in grid current against a full waveform. Also left out:
 * currents on the outside of a shield, temperature (copper: +0.2 % of attenuation a kelvin), age and
 * water.
 * Source: Pozar, Microwave Engineering, ch. 2, and the ARRL Antenna Book on line loss (both from
 * memory).
 */
import { cos, exp, expm1, log10, sin } from "../../math/elementary";
import type { FeedLine } from "../../project/station";

/** SI definition of the metre. */
const LIGHT_M_PER_S = 299_792_458;
const NEPER_PER_DB = Math.LN10 / 20;
/** |1 + rho|^2 under which the near end is taken for a wire. */
const WIRE_SQUARE = 1e-24;
const WIRE_SIEMENS = 1e9;

/** A parallel pair of conductance and susceptance that is written in place. */
export interface MutableAdmittance {
  conductanceSiemens: number;
  susceptanceSiemens: number;
}

/** What a line does at one frequency with one load. */
export interface LineFigures {
  swrAtLoad: number;
  swrAtInput: number;
  /** Loss with a matched load. */
  matchedLossDb: number;
  /** Net power in over power delivered. */
  totalLossDb: number;
  /** What the mismatch adds to the matched loss. */
  addedLossDb: number;
  /** Of the net power the line takes: turned to heat in it. */
  lostShare: number;
}

/** Attenuation of the matched line at a frequency, dB/m. Law and validity: module header. */
export function attenuationDbPerM(line: FeedLine, freqHz: number): number {
  const ratio = freqHz / line.lossAtHz;
  return line.conductorDbPerM * Math.sqrt(ratio) + line.dielectricDbPerM * ratio;
}

/** Loss of the matched line over its whole length, dB. */
export function matchedLossDb(line: FeedLine, freqHz: number): number {
  return attenuationDbPerM(line, freqHz) * line.lengthM;
}

/** Both parts of the attenuation law, at `lossAtHz`, through two published points. */
export function lossLawThrough(
  low: { readonly freqHz: number; readonly dbPerM: number },
  high: { readonly freqHz: number; readonly dbPerM: number },
  lossAtHz: number,
): { readonly conductorDbPerM: number; readonly dielectricDbPerM: number } {
  const p = low.freqHz / lossAtHz;
  const q = high.freqHz / lossAtHz;
  const rootP = Math.sqrt(p);
  const rootQ = Math.sqrt(q);
  const determinant = rootP * q - rootQ * p;
  return {
    conductorDbPerM: (low.dbPerM * q - high.dbPerM * p) / determinant,
    dielectricDbPerM: (rootP * high.dbPerM - rootQ * low.dbPerM) / determinant,
  };
}

/**
 * Admittance the near end shows when the far end carries G + jB; into `out`, which may be the load
 * itself. G and B must be finite. A perfect short is answered with a very large conductance.
 * Source: module header.
 */
export function lineInput(
  line: FeedLine,
  freqHz: number,
  loadSiemens: number,
  loadSusceptanceSiemens: number,
  out: MutableAdmittance,
): void {
  const y0 = 1 / line.lineOhm;
  const lossNp = matchedLossDb(line, freqHz) * NEPER_PER_DB;
  const turnRad = (4 * Math.PI * freqHz * line.lengthM) / (line.velocityFactor * LIGHT_M_PER_S);
  const p = y0 + loadSiemens;
  const square = p * p + loadSusceptanceSiemens * loadSusceptanceSiemens;
  const m = y0 - loadSiemens;
  const loadRe = (m * p - loadSusceptanceSiemens * loadSusceptanceSiemens) / square;
  const loadIm = (-2 * y0 * loadSusceptanceSiemens) / square;
  const accepted = (4 * loadSiemens * y0) / square; // 1 - r^2
  const back = exp(-2 * lossNp);
  const c = back * cos(turnRad);
  const s = back * sin(turnRad);
  const re = loadRe * c + loadIm * s;
  const im = loadIm * c - loadRe * s;
  const taken = -expm1(-4 * lossNp) + back * back * accepted; // 1 - |rho_in|^2
  const d = (1 + re) * (1 + re) + im * im;
  if (d < WIRE_SQUARE) {
    out.conductanceSiemens = WIRE_SIEMENS;
    out.susceptanceSiemens = 0;
    return;
  }
  out.conductanceSiemens = (y0 * taken) / d;
  out.susceptanceSiemens = (-2 * y0 * im) / d;
}

/**
 * Standing-wave ratios and losses, into `out`. A lossless load takes nothing: its SWR and total
 * loss are Infinity, unless the line has no loss either; then nothing is lost. Source: module
 * header.
 */
export function lineFigures(
  line: FeedLine,
  freqHz: number,
  loadSiemens: number,
  loadSusceptanceSiemens: number,
  out: LineFigures,
): void {
  const y0 = 1 / line.lineOhm;
  const p = y0 + loadSiemens;
  const square = p * p + loadSusceptanceSiemens * loadSusceptanceSiemens;
  const accepted = (4 * loadSiemens * y0) / square;
  const r = Math.sqrt(Math.max(1 - accepted, 0));
  const matchedDb = matchedLossDb(line, freqHz);
  const powerNp = 2 * matchedDb * NEPER_PER_DB;
  const once = exp(-powerNp); // 1/A
  const taken = -expm1(-2 * powerNp) + once * once * accepted;
  const lost = -expm1(-powerNp) * (1 + once * r * r);
  out.swrAtLoad = swrFrom(r, accepted);
  out.swrAtInput = swrFrom(once * r, taken);
  out.matchedLossDb = matchedDb;
  const delivered = once * accepted;
  out.totalLossDb = delivered > 0 ? 10 * log10(taken / delivered) : taken > 0 ? Infinity : 0;
  out.addedLossDb = out.totalLossDb - matchedDb;
  out.lostShare = taken > 0 ? lost / taken : 0;
}

/** (1 + r)/(1 - r) with 1 - r^2 at hand, so that a large ratio keeps its digits. */
function swrFrom(r: number, oneMinusSquare: number): number {
  return oneMinusSquare > 0 ? ((1 + r) * (1 + r)) / oneMinusSquare : Infinity;
}
