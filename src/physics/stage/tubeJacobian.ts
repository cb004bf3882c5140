/**
 * The tube's part of the port matrix: derivatives of plate and cathode current, as DC and phasors, by the
 * voltages at the ports. With C_n, S_n the means of a derivative times cos, sin(n th):
 *
 *   d Re I_m / d Re V_h = C_(m-h) + C_(m+h)      d Re I_m / d Im V_h = -(S_(m+h) + S_(h-m))
 *   d Im I_m / d Re V_h = -(S_(m+h) + S_(m-h))   d Im I_m / d Im V_h = C_(m-h) - C_(m+h)
 *
 * Port order: Vk_h, V1_h per harmonic (re, im), then Eb, Ek.
 */
import {
  CATHODE_BY_CATHODE,
  CATHODE_BY_PLATE,
  HARMONICS,
  PLATE_BY_CATHODE,
  PLATE_BY_PLATE,
  type TriodeAverages,
} from "../tube/triode";

export const PORT_EB = 4 * HARMONICS;
export const PORT_EK = PORT_EB + 1;
/** Ports of the burning arcs' ln g begin here. */
export const PORT_ARCS = PORT_EB + 2;

/** The tube's derivatives: rows of plate current enter with +, rows of cathode current with -. */
export function addTubeJacobian(t: TriodeAverages, m: Float64Array, n: number): void {
  for (let part = 0; part < 2; part++) {
    // part 0: cathode rows, -d(ik); part 1: plate rows, +d(ip)
    const sign = part === 0 ? -1 : 1;
    const byCathode = part === 0 ? CATHODE_BY_CATHODE : PLATE_BY_CATHODE;
    const byPlate = part === 0 ? CATHODE_BY_PLATE : PLATE_BY_PLATE;
    const dcRow = (part === 0 ? PORT_EK : PORT_EB) * n;
    for (let h = 1; h <= HARMONICS; h++) {
      const row = (4 * (h - 1) + 2 * part) * n;
      for (let l = 1; l <= HARMONICS; l++) {
        addPhasor(t, m, row, n, 4 * (l - 1), byCathode, h, l, sign);
        addPhasor(t, m, row, n, 4 * (l - 1) + 2, byPlate, h, l, sign);
      }
      addDc(t, m, row, n, PORT_EK, byCathode, h, sign);
      addDc(t, m, row, n, PORT_EB, byPlate, h, sign);
      addDcRow(t, m, dcRow, 4 * (h - 1), byCathode, h, sign);
      addDcRow(t, m, dcRow, 4 * (h - 1) + 2, byPlate, h, sign);
    }
    m[dcRow + PORT_EK] = (m[dcRow + PORT_EK] as number) + sign * t.cosAt(byCathode, 0);
    m[dcRow + PORT_EB] = (m[dcRow + PORT_EB] as number) + sign * t.cosAt(byPlate, 0);
  }
}

function addPhasor(
  t: TriodeAverages,
  m: Float64Array,
  row: number,
  n: number,
  col: number,
  by: number,
  h: number,
  l: number,
  sign: number,
): void {
  const cd = t.cosAt(by, h - l);
  const cs = t.cosAt(by, h + l);
  const sd = t.sinAt(by, l - h);
  const ss = t.sinAt(by, h + l);
  m[row + col] = (m[row + col] as number) + sign * (cd + cs);
  m[row + col + 1] = (m[row + col + 1] as number) - sign * (ss + sd);
  m[row + n + col] = (m[row + n + col] as number) - sign * (ss - sd);
  m[row + n + col + 1] = (m[row + n + col + 1] as number) + sign * (cd - cs);
}

function addDc(
  t: TriodeAverages,
  m: Float64Array,
  row: number,
  n: number,
  col: number,
  by: number,
  h: number,
  sign: number,
): void {
  m[row + col] = (m[row + col] as number) + 2 * sign * t.cosAt(by, h);
  m[row + n + col] = (m[row + n + col] as number) - 2 * sign * t.sinAt(by, h);
}

function addDcRow(
  t: TriodeAverages,
  m: Float64Array,
  row: number,
  col: number,
  by: number,
  h: number,
  sign: number,
): void {
  m[row + col] = (m[row + col] as number) + sign * t.cosAt(by, h);
  m[row + col + 1] = (m[row + col + 1] as number) - sign * t.sinAt(by, h);
}
