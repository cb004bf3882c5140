/**
 * A transmission line with loss, from the admittance at its far end to what its near end shows.
 *
 *   attenuation (dB/m) = Ac sqrt(f/f1) + Ad f/f1     skin effect + dielectric; a = ac + ad in nepers
 *   b = 2 pi f/(v c),  g = a + j(b + ac)             what the wave does in a metre
 *   Zc = Z0 (a + j(b + ac))/(2 ad + jb)              its impedance, complex
 *   Zin = Zc (ZL + Zc tanh gl)/(Zc + ZL tanh gl)
 *   worked as  rho_in = rho_L e^{-2gl},  rho = (Yc - Y)/(Yc + Y),  Yin = Yc (1 - rho)/(1 + rho)
 *   taken by the line = Re Yin |Vin|^2,  lost in it = that less Re YL |VL|^2
 *
 * Z0 nominal impedance sqrt(L/C), ohm; l length, m; v velocity factor; c speed of light; f1 the
 * frequency at which Ac and Ad are given. Standing-wave ratios are against Z0, as a meter has them;
 * the matched loss is that with Zc at the far end, where nothing returns.
 *
 * Zc and g are those of a line of G = 2 ad/Z0 and C = 1/(Z0 v c) across and R = 2 Z0 ac and
 * L = Z0/(v c) + R/w along it, but for (ac/b)^2: the attenuation stays what was published, and the
 * second-order part goes into R. R/w is the inductance inside the conductors; the skin effect that
 * makes Ac grow by sqrt(f) makes its reactance equal to its resistance. Thus 10 mm of coaxial cable
 * are 50.8 - j0.8 ohm at 1.82 MHz and 50.2 - j0.2 ohm at 29.7 MHz. Yc by Zc's law, x = ac/b,
 * z = ad/b:  Yc Z0 = (2z + j)/(x + z + j(1 + x)).
 *
 * Where Zc is complex, power is not forward less reflected wave: |rho| may exceed 1 on a passive
 * load. `taken` and `lost` below are the sums worked out so that nothing cancels near total
 * reflection or on a short line; S = |Yc + YL|^2, q = e^{-2al}, t = 2(b + ac)l, Yc = g0 + j b0.
 * `delivered` = Re YL |VL|^2 = 4 q Re YL |Yc|^2/S, for |VL|^2 = q |1 + rho_L|^2, 1 + rho_L = 2 Yc/(Yc + YL).
 *
 * Validity: 0.1 to 100 MHz, lines whose loss a wavelength is small (a conductance below zero, which
 * the law gives where ad exceeds b, is taken for none). Left out: currents on the outside of a
 * shield, temperature (copper: +0.2 % of attenuation a kelvin), age and water.
 * Source: Pozar, Microwave Engineering, ch. 2 (telegrapher's equations, lossy line); Chipman,
 * Transmission Lines, on Zc of a low-loss line, X/R = -(ac - ad)/b, and internal inductance; both
 * from memory.
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

/** Figures to be written into. */
export function emptyFigures(): LineFigures {
  return {
    swrAtLoad: 0,
    swrAtInput: 0,
    matchedLossDb: 0,
    totalLossDb: 0,
    addedLossDb: 0,
    lostShare: 0,
  };
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

/** What both ends have in common, at one frequency with one load; names and law in the header. */
interface Waves {
  /** Yc. */
  characteristicRe: number;
  characteristicIm: number;
  /** rho_in. */
  inRe: number;
  inIm: number;
  /** 1 - |rho_in|^2. */
  unreturned: number;
  /** Of the line, by 1/|1 + rho_in|^2 a conductance; never below zero. */
  taken: number;
  /** Of that: not delivered. */
  lost: number;
  /** What the far end's load gets, worked out by itself: taken less lost cancels on a line of much loss. */
  delivered: number;
}

/** Written and read within one call, so that the running bench allocates nothing. */
const waves: Waves = {
  characteristicRe: 0,
  characteristicIm: 0,
  inRe: 0,
  inIm: 0,
  unreturned: 0,
  taken: 0,
  lost: 0,
  delivered: 0,
};

function solveWaves(line: FeedLine, freqHz: number, g: number, b: number): void {
  const ratio = freqHz / line.lossAtHz;
  const phaseRadPerM = (2 * Math.PI * freqHz) / (line.velocityFactor * LIGHT_M_PER_S);
  const x = (line.conductorDbPerM * Math.sqrt(ratio) * NEPER_PER_DB) / phaseRadPerM;
  const z = (line.dielectricDbPerM * ratio * NEPER_PER_DB) / phaseRadPerM;
  const y0 = 1 / (line.lineOhm * ((x + z) * (x + z) + (1 + x) * (1 + x)));
  const g0 = y0 * (1 + x + 2 * z * (x + z));
  const b0 = y0 * (x - z - 2 * x * z);
  const lengthRad = phaseRadPerM * line.lengthM;
  const lossNp = (x + z) * lengthRad;
  const halfTurn = lengthRad * (1 + x);
  const sinHalf = sin(halfTurn);
  const s = 2 * sinHalf * cos(halfTurn);
  const c = 1 - 2 * sinHalf * sinHalf;

  const square = (g0 + g) * (g0 + g) + (b0 + b) * (b0 + b);
  const loadRe = (g0 * g0 + b0 * b0 - g * g - b * b) / square;
  const loadIm = (2 * (b0 * g - g0 * b)) / square;
  const back = exp(-2 * lossNp);
  const awayTwice = -expm1(-4 * lossNp); // 1 - q^2
  const away = -expm1(-2 * lossNp); // 1 - q
  const turned = 2 * sinHalf * sinHalf; // 1 - cos t
  // what the line takes beside what its load does: loss of the waves, and what their mixing moves
  const mixed =
    g0 * awayTwice + 2 * b0 * back * ((2 * g0 * b * (turned - away)) / square - s * loadRe);
  const load = (4 * g * back) / square;
  waves.characteristicRe = g0;
  waves.characteristicIm = b0;
  waves.inRe = back * (loadRe * c + loadIm * s);
  waves.inIm = back * (loadIm * c - loadRe * s);
  waves.unreturned = awayTwice + (back * back * 4 * (g0 * g + b0 * b)) / square;
  waves.taken = Math.max(mixed + load * (g0 * g0 * back + b0 * b0 * c), 0);
  waves.lost = Math.max(mixed - load * (g0 * g0 * away + b0 * b0 * turned), 0);
  waves.delivered = load * (g0 * g0 + b0 * b0);
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
  solveWaves(line, freqHz, loadSiemens, loadSusceptanceSiemens);
  const { characteristicRe: g0, characteristicIm: b0, inRe, inIm, unreturned, taken } = waves;
  const d = (1 + inRe) * (1 + inRe) + inIm * inIm;
  if (d < WIRE_SQUARE) {
    out.conductanceSiemens = WIRE_SIEMENS;
    out.susceptanceSiemens = 0;
    return;
  }
  out.conductanceSiemens = taken / d;
  out.susceptanceSiemens = (b0 * unreturned - 2 * g0 * inIm) / d;
}

/**
 * Standing-wave ratios and losses, into `out`. A lossless load takes nothing: its SWR and total
 * loss are Infinity, unless the line has no loss either; then nothing is lost. The mismatch may add
 * a little less than nothing: a load near Zc's conjugate draws more than a match. Source: module
 * header.
 */
export function lineFigures(
  line: FeedLine,
  freqHz: number,
  loadSiemens: number,
  loadSusceptanceSiemens: number,
  out: LineFigures,
): void {
  solveWaves(line, freqHz, loadSiemens, loadSusceptanceSiemens);
  const { characteristicRe: g0, characteristicIm: b0, inRe, inIm, taken, lost, delivered } = waves;
  const y0 = 1 / line.lineOhm;
  // both sides of Y0 (1 + rho) = Yin (1 + rho), Yin (1 + rho) = Yc (1 - rho): no pole at a wire
  const drawnRe = g0 * (1 - inRe) + b0 * inIm;
  const drawnIm = b0 * (1 - inRe) - g0 * inIm;
  const heldRe = y0 * (1 + inRe);
  const heldIm = y0 * inIm;
  out.swrAtLoad = swrOf(y0, 0, loadSiemens, loadSusceptanceSiemens, 4 * loadSiemens * y0);
  out.swrAtInput = swrOf(heldRe, heldIm, drawnRe, drawnIm, 4 * y0 * taken);
  out.matchedLossDb = matchedLossDb(line, freqHz);
  const isTaken = taken > 0;
  // a line without loss takes what it delivers, but for rounding
  if (delivered > 0) out.totalLossDb = 10 * log10(Math.max(taken / delivered, 1));
  else out.totalLossDb = isTaken ? Infinity : 0;
  out.addedLossDb = out.totalLossDb - out.matchedLossDb;
  out.lostShare = isTaken ? Math.min(lost / taken, 1) : 0;
}

/** (1 + r)/(1 - r), r = |held - drawn|/|held + drawn|, with the power at hand for 1 - r^2. */
function swrOf(
  heldRe: number,
  heldIm: number,
  drawnRe: number,
  drawnIm: number,
  power: number,
): number {
  const [pRe, pIm] = [heldRe + drawnRe, heldIm + drawnIm];
  const [mRe, mIm] = [heldRe - drawnRe, heldIm - drawnIm];
  const whole = pRe * pRe + pIm * pIm;
  const r = Math.min(Math.sqrt((mRe * mRe + mIm * mIm) / whole), 1);
  return power > 0 ? ((1 + r) * (1 + r) * whole) / power : Infinity;
}
