/**
 * Cathode-driven triode, averaged over one RF cycle.
 *
 *   vk = Ek + Re sum Vk_h e^{jh th}          cathode to ground (grid grounded)
 *   vp = Eb + Re sum V1_h e^{jh th} - vk     plate to CATHODE
 *   u  = -vk + vp/mu + v0
 *   ik = K pos(u, 1 V)^1.5                   space-charge law (Child, Langmuir)
 *   ip = ik b/(a+b), a = sqrt(pos(-vk, 2 V)), b = delta sqrt(pos(vp, 20 V))
 *                                            current division (Spangenberg, Vacuum Tubes, 1948, from memory)
 *   pos(x, s) = 0 | (x+s)^2/(4s) | x         soft edge with compact support, C1
 *
 * Averages by a graded midpoint rule, th = phi + 0.7 sin phi, taken in +- pairs. The grading puts the
 * points where the cathode is most negative when the drive's phase is near zero, which the tuned input
 * circuit sees to. Valid to a few tens of MHz (no transit time, no secondary emission).
 */
import { cos, sin } from "../../math/elementary";

/** Harmonics carried by every part of the stage, transient and settled alike. */
export const HARMONICS = 2;

/** Points of the rule, counted over the whole cycle. */
const POINTS = 32;
const GRADING = 0.7;

const CUTOFF_SOFT_V = 1;
const GRID_SOFT_V = 2;
const PLATE_SOFT_V = 20;

/** sqrt of the soft edge is a straight line: slope 1/(2 sqrt(s)). */
const GRID_SLOPE = 1 / (2 * Math.sqrt(GRID_SOFT_V));
const PLATE_SLOPE = 1 / (2 * Math.sqrt(PLATE_SOFT_V));

export interface TriodeLaw {
  /** All tubes together, A/V^1.5. */
  perveance: number;
  mu: number;
  divisionRatio: number;
  offsetV: number;
}

/** Highest moment the Jacobian needs: products of two harmonics. */
const MOMENTS = 2 * HARMONICS;
const ROW = MOMENTS + 1;
const PAIRS = POINTS / 2;

/** cos and sin of n*theta, n = 0..2H, and weight/POINTS-normalised, one row a pair. */
const COS = new Float64Array(PAIRS * ROW);
const SIN = new Float64Array(PAIRS * ROW);
const WEIGHT = new Float64Array(PAIRS);
for (let i = 0; i < PAIRS; i++) {
  const phi = ((i + 0.5) * 2 * Math.PI) / POINTS;
  const theta = phi + GRADING * sin(phi);
  WEIGHT[i] = (1 + GRADING * cos(phi)) / POINTS;
  for (let n = 0; n < ROW; n++) {
    COS[i * ROW + n] = cos(n * theta);
    SIN[i * ROW + n] = sin(n * theta);
  }
}

/** Rows of the moment table: d(ip)/d(vk), d(ip)/d(plate), d(ik)/d(vk), d(ik)/d(plate). */
export const PLATE_BY_CATHODE = 0;
export const PLATE_BY_PLATE = 1;
export const CATHODE_BY_CATHODE = 2;
export const CATHODE_BY_PLATE = 3;

/**
 * Working space for the cycle averages: results are overwritten by each `evaluate`.
 * Currents: DC and, per harmonic, 2 mean(i e^{-jh th}) as re, im.
 */
export class TriodeAverages {
  plateDcA = 0;
  cathodeDcA = 0;
  readonly plate = new Float64Array(2 * HARMONICS);
  readonly cathode = new Float64Array(2 * HARMONICS);
  /** Means of derivative times cos(n th), four rows of 2H+1. */
  readonly cosMoment = new Float64Array(4 * ROW);
  readonly sinMoment = new Float64Array(4 * ROW);

  /** Currents and derivatives at one angle, then the voltages of cathode and plate node there. */
  private readonly point = new Float64Array(8);

  /** Instantaneous currents and derivatives, both in and out through `point`: arguments would be allocated. */
  private at(law: TriodeLaw): boolean {
    const { mu } = law;
    const cathodeV = this.point[6] as number;
    const plateV = this.point[7] as number;
    const vp = plateV - cathodeV;
    const u = -cathodeV + vp / mu + law.offsetV;
    if (u <= -CUTOFF_SOFT_V) return false;
    let p: number;
    let dp: number;
    if (u >= CUTOFF_SOFT_V) {
      p = u;
      dp = 1;
    } else {
      p = ((u + CUTOFF_SOFT_V) * (u + CUTOFF_SOFT_V)) / (4 * CUTOFF_SOFT_V);
      dp = (u + CUTOFF_SOFT_V) / (2 * CUTOFF_SOFT_V);
    }
    const root = Math.sqrt(p);
    const ik = law.perveance * p * root;
    const dik = 1.5 * law.perveance * root * dp;

    const vg = -cathodeV;
    let a = 0;
    let da = 0;
    if (vg >= GRID_SOFT_V) {
      a = Math.sqrt(vg);
      da = 0.5 / a;
    } else if (vg > -GRID_SOFT_V) {
      da = GRID_SLOPE;
      a = (vg + GRID_SOFT_V) * da;
    }
    let b = 0;
    let db = 0;
    if (vp >= PLATE_SOFT_V) {
      b = Math.sqrt(vp);
      db = (0.5 * law.divisionRatio) / b;
      b *= law.divisionRatio;
    } else if (vp > -PLATE_SOFT_V) {
      db = law.divisionRatio * PLATE_SLOPE;
      b = (vp + PLATE_SOFT_V) * db;
    }
    const sum = a + b;
    const out = this.point;
    const ikByCathode = -dik * (1 + 1 / mu);
    const ikByPlate = dik / mu;
    let share = 1;
    let shareByCathode = 0;
    let shareByPlate = 0;
    if (sum > 0) {
      share = b / sum;
      const inv = 1 / (sum * sum);
      // d(share) = (a db - b da)/(a+b)^2 ; da/dvk = -da, db/dvk = -db, db/dplate = db
      shareByCathode = (-a * db + b * da) * inv;
      shareByPlate = a * db * inv;
    }
    out[0] = ik * share;
    out[1] = ik;
    out[2] = ikByCathode * share + ik * shareByCathode;
    out[3] = ikByPlate * share + ik * shareByPlate;
    out[4] = ikByCathode;
    out[5] = ikByPlate;
    return true;
  }

  /** Currents at steady voltages of cathode and plate node; only `plateDcA` and `cathodeDcA` are set. */
  atRest(law: TriodeLaw, cathodeV: number, plateV: number): void {
    this.point[6] = cathodeV;
    this.point[7] = plateV;
    const flows = this.at(law);
    this.plateDcA = flows ? (this.point[0] as number) : 0;
    this.cathodeDcA = flows ? (this.point[1] as number) : 0;
  }

  /**
   * Averages for cathode and plate-node voltages given as DC and phasors: harmonic h has its re, im at
   * `y[cathodeAt + (h-1) stride]` and `y[plateAt + (h-1) stride]`. Without slopes their moments are left as they were.
   */
  evaluate(
    law: TriodeLaw,
    cathodeDcV: number,
    plateDcV: number,
    y: Float64Array,
    cathodeAt: number,
    plateAt: number,
    stride: number,
    withSlopes = true,
  ): void {
    const { plate, cathode, cosMoment, sinMoment, point } = this;
    plate.fill(0);
    cathode.fill(0);
    if (withSlopes) {
      cosMoment.fill(0);
      sinMoment.fill(0);
    }
    let plateDc = 0;
    let cathodeDc = 0;
    for (let i = 0; i < PAIRS; i++) {
      const row = i * ROW;
      let ca = cathodeDcV;
      let sa = 0;
      let cb = plateDcV;
      let sb = 0;
      for (let h = 1; h <= HARMONICS; h++) {
        const c = COS[row + h] as number;
        const s = SIN[row + h] as number;
        const at = (h - 1) * stride;
        ca += (y[cathodeAt + at] as number) * c;
        sa -= (y[cathodeAt + at + 1] as number) * s;
        cb += (y[plateAt + at] as number) * c;
        sb -= (y[plateAt + at + 1] as number) * s;
      }
      const w = WEIGHT[i] as number;
      let ip = 0;
      let ik = 0;
      let pa = 0;
      let pb = 0;
      let ka = 0;
      let kb = 0;
      let ipOdd = 0;
      let ikOdd = 0;
      let paOdd = 0;
      let pbOdd = 0;
      let kaOdd = 0;
      let kbOdd = 0;
      point[6] = ca + sa;
      point[7] = cb + sb;
      const plus = this.at(law);
      if (plus) {
        ip = ipOdd = (point[0] as number) * w;
        ik = ikOdd = (point[1] as number) * w;
        pa = paOdd = (point[2] as number) * w;
        pb = pbOdd = (point[3] as number) * w;
        ka = kaOdd = (point[4] as number) * w;
        kb = kbOdd = (point[5] as number) * w;
      }
      point[6] = ca - sa;
      point[7] = cb - sb;
      if (this.at(law)) {
        const p0 = (point[0] as number) * w;
        const p1 = (point[1] as number) * w;
        const p2 = (point[2] as number) * w;
        const p3 = (point[3] as number) * w;
        const p4 = (point[4] as number) * w;
        const p5 = (point[5] as number) * w;
        ip += p0;
        ipOdd -= p0;
        ik += p1;
        ikOdd -= p1;
        pa += p2;
        paOdd -= p2;
        pb += p3;
        pbOdd -= p3;
        ka += p4;
        kaOdd -= p4;
        kb += p5;
        kbOdd -= p5;
      } else if (!plus) continue;
      plateDc += ip;
      cathodeDc += ik;
      for (let h = 1; h <= HARMONICS; h++) {
        const c = 2 * (COS[row + h] as number);
        const s = -2 * (SIN[row + h] as number);
        const o = 2 * (h - 1);
        plate[o] = (plate[o] as number) + ip * c;
        plate[o + 1] = (plate[o + 1] as number) + ipOdd * s;
        cathode[o] = (cathode[o] as number) + ik * c;
        cathode[o + 1] = (cathode[o + 1] as number) + ikOdd * s;
      }
      if (!withSlopes) continue;
      for (let n = 0; n < ROW; n++) {
        const c = COS[row + n] as number;
        const s = SIN[row + n] as number;
        cosMoment[n] = (cosMoment[n] as number) + pa * c;
        sinMoment[n] = (sinMoment[n] as number) + paOdd * s;
        cosMoment[ROW + n] = (cosMoment[ROW + n] as number) + pb * c;
        sinMoment[ROW + n] = (sinMoment[ROW + n] as number) + pbOdd * s;
        cosMoment[2 * ROW + n] = (cosMoment[2 * ROW + n] as number) + ka * c;
        sinMoment[2 * ROW + n] = (sinMoment[2 * ROW + n] as number) + kaOdd * s;
        cosMoment[3 * ROW + n] = (cosMoment[3 * ROW + n] as number) + kb * c;
        sinMoment[3 * ROW + n] = (sinMoment[3 * ROW + n] as number) + kbOdd * s;
      }
    }
    this.plateDcA = plateDc;
    this.cathodeDcA = cathodeDc;
  }

  /** Mean of derivative `row` times cos(n th), any sign of n. */
  cosAt(row: number, n: number): number {
    return this.cosMoment[row * ROW + (n < 0 ? -n : n)] as number;
  }

  /** Mean of derivative `row` times sin(n th), any sign of n. */
  sinAt(row: number, n: number): number {
    return n < 0
      ? -(this.sinMoment[row * ROW - n] as number)
      : (this.sinMoment[row * ROW + n] as number);
  }
}

/**
 * Lowest value of dc + Re sum V_h e^{jh th} on the points of the rule, which lie 3 degrees apart near
 * the trough: at most 0.04 % of the swing too high.
 */
export function lowestOnCycleV(dcV: number, y: Float64Array, at: number, stride: number): number {
  let lowest = Infinity;
  for (let i = 0; i < PAIRS; i++) {
    let c = dcV;
    let s = 0;
    for (let h = 1; h <= HARMONICS; h++) {
      const o = at + (h - 1) * stride;
      c += (y[o] as number) * (COS[i * ROW + h] as number);
      s -= (y[o + 1] as number) * (SIN[i * ROW + h] as number);
    }
    const low = c - Math.abs(s);
    if (low < lowest) lowest = low;
  }
  return lowest;
}
