/**
 * What the plate sees of its output network, and the settings that make it see what it should.
 *
 *   pi      Zc = r + jwL + 1/(G + j(B + w C2))
 *   pi-L    the load is first carried through the output coil: 1/(G + jB) -> 1/(G + jB) + r2 + jwL2
 *   plate   Y = 1/Zc + jw C1 + 1/(jw Lr)
 *
 * C1 whole plate-node capacitance, Lr plate choke, L, r coil, C2 loading capacitor, L2, r2 output coil of a pi-L
 * (0 for a pi), G + jB load. All at one frequency; SI. Matching asks for Y = 1/RL + j0: the real part depends on C2
 * only and is a quadratic in the susceptance beside the load, C1 then cancels what is left. Of the two solutions the
 * one with more loading capacitance is the pi's usual working side (coil current leads down to the load).
 * Source: Kirchhoff; the same network as `physics/stage`, fundamental only.
 */

export interface PlateNetwork {
  readonly omega: number;
  readonly coilH: number;
  readonly coilOhm: number;
  readonly chokeH: number;
  /** 0 for a pi. */
  readonly outputCoilH: number;
  readonly outputCoilOhm: number;
}

export interface LoadAdmittance {
  readonly conductanceSiemens: number;
  readonly susceptanceSiemens: number;
}

/** Load as the loading capacitor sees it: behind the output coil of a pi-L. */
export function loadAtLoading(n: PlateNetwork, load: LoadAdmittance): LoadAdmittance {
  if (n.outputCoilH === 0 && n.outputCoilOhm === 0) return load;
  const { conductanceSiemens: g, susceptanceSiemens: b } = load;
  const d = Math.max(g * g + b * b, 1e-18);
  const r = g / d + n.outputCoilOhm;
  const x = -b / d + n.omega * n.outputCoilH;
  const s = r * r + x * x;
  return { conductanceSiemens: r / s, susceptanceSiemens: -x / s };
}

/** Admittance from plate node to ground, tube left out. */
export function plateAdmittance(
  n: PlateNetwork,
  tuningF: number,
  loadingF: number,
  load: LoadAdmittance,
): LoadAdmittance {
  const { conductanceSiemens: g, susceptanceSiemens: b } = loadAtLoading(n, load);
  const y = through(n, g, b + n.omega * loadingF);
  return {
    conductanceSiemens: y.conductanceSiemens,
    susceptanceSiemens: y.susceptanceSiemens + n.omega * tuningF - 1 / (n.omega * n.chokeH),
  };
}

export interface Match {
  /** Whole plate-node capacitance. */
  readonly tuningF: number;
  readonly loadingF: number;
}

/**
 * Capacitances at which the plate sees `plateLoadOhm`, on the pi's usual working side; either may be outside what
 * a real capacitor can do, even below zero. Null when no loading capacitance gives this plate load.
 */
export function matchPlate(
  n: PlateNetwork,
  plateLoadOhm: number,
  load: LoadAdmittance,
): Match | null {
  const { conductanceSiemens: g, susceptanceSiemens: b } = loadAtLoading(n, load);
  const target = 1 / plateLoadOhm;
  const x = n.omega * n.coilH;
  const r = n.coilOhm;
  if (!(g > 0)) return null;
  // Re Y of (r + jx + 1/(g + js)) = target, multiplied out: a s^2 + p s + q = 0
  const a = target * (r * r + x * x) - r;
  const p = -2 * x * target;
  const q = target * ((r * g + 1) * (r * g + 1) + x * x * g * g) - g * (r * g + 1);
  const root = p * p - 4 * a * q;
  if (!(root >= 0) || a === 0) return null;
  const s = (-p + Math.sqrt(root)) / (2 * a);
  const seen = through(n, g, s).susceptanceSiemens;
  return {
    loadingF: (s - b) / n.omega,
    tuningF: (1 / (n.omega * n.chokeH) - seen) / n.omega,
  };
}

/** Plate-node capacitance that brings the plate to resonance with the loading as it is: where the dip is. */
export function dipTuningF(n: PlateNetwork, loadingF: number, load: LoadAdmittance): number {
  const { susceptanceSiemens } = plateAdmittance(n, 0, loadingF, load);
  return -susceptanceSiemens / n.omega;
}

/** Admittance into the coil with g + js at its far end. */
function through(n: PlateNetwork, g: number, s: number): LoadAdmittance {
  const d = Math.max(g * g + s * s, 1e-30);
  const r = n.coilOhm + g / d;
  const x = n.omega * n.coilH - s / d;
  const m = r * r + x * x;
  return { conductanceSiemens: r / m, susceptanceSiemens: -x / m };
}
