/**
 * Design of pi and pi-L output networks.
 *
 *   Q1 = R1/XC1                  the input-branch definition of loaded Q (other definitions differ by up to Q2)
 *   Rv = R1/(1 + Q1^2)           resistance in the middle of the pi, seen from the plate side
 *   r  = XL/Qc                   series loss of the coil
 *   Q2 = sqrt(R2/(Rv - r) - 1)   what is left of Rv beyond the coil's loss has to match the load
 *   XL = Rv Q1 + (Rv - r) Q2,    XC2 = R2/Q2
 *
 * R1 plate load, R2 output load, ohm, both resistive. XL and r depend on each other; the loop contracts by about 1/Qc.
 * With Qc infinite this is the usual lossless pi, XL = (Q1 R1 + R1 R2/XC2)/(Q1^2 + 1).
 * Pi-L: an L-section (series coil to the load, shunt capacitor) lifts R2 to an intermediate Rm, a pi goes on from there;
 * its series coil's loss counts as part of the load.
 *
 * Valid while Rv > r and R2 > Rv - r (lossless: Q1^2 + 1 > R1/R2); outside, a problem is returned.
 * Source: ARRL Handbook, pi and pi-L networks (from memory); the loss terms derived here by splitting the pi into two L-sections.
 */

/** A network can be impossible for what a user asks; then the reason is in plain words. */
export type Designed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: string };

export interface PiRequest {
  readonly plateLoadOhm: number;
  readonly loadOhm: number;
  /** R1/XC1. */
  readonly loadedQ: number;
  /** Unloaded Q of the coil; Infinity for a lossless one. */
  readonly coilQ: number;
}

/** Magnitudes of the reactances, ohm. */
export interface PiReactances {
  readonly tuningOhm: number;
  readonly coilOhm: number;
  readonly coilSeriesOhm: number;
  readonly loadingOhm: number;
}

export interface PiComponents {
  /** Whole capacitance at the plate: variable part, tube, strays, and what resonates the plate choke. */
  readonly tuningF: number;
  readonly coilH: number;
  readonly coilSeriesOhm: number;
  readonly loadingF: number;
}

export interface PiLReactances extends PiReactances {
  readonly outputCoilOhm: number;
  readonly outputCoilSeriesOhm: number;
}

export interface PiLComponents extends PiComponents {
  readonly outputCoilH: number;
  readonly outputCoilSeriesOhm: number;
}

export interface AtFrequency {
  readonly freqHz: number;
  /** Plate choke in parallel with the tuning capacitor; Infinity for none. */
  readonly chokeH: number;
}

const LOSS_PASSES = 60; // the change falls by at least 1/Qc a pass; 60 passes settle even Qc = 2 to the last bit

/** Reactances of a pi from plate load to load resistance, coil loss included. Law and validity: module header. */
export function piReactances(request: PiRequest): Designed<PiReactances> {
  const { plateLoadOhm: R1, loadOhm: R2, loadedQ: Q1, coilQ: Qc } = request;
  if (!(R1 > 0) || !(R2 > 0) || !(Q1 > 0) || !(Qc > 0)) {
    return { ok: false, problem: "plate load, load, loaded Q and coil Q must all be above zero" };
  }
  const Rv = R1 / (1 + Q1 * Q1);
  if (!(R2 > Rv)) {
    return {
      ok: false,
      problem:
        "loaded Q is too low for this step in resistance: loaded Q squared plus one must exceed plate load over load",
    };
  }
  let r = 0;
  let XL = 0;
  let Q2 = 0;
  for (let pass = 0; pass < LOSS_PASSES; pass++) {
    const through = Rv - r;
    if (!(through > 0))
      return {
        ok: false,
        problem: "the coil's loss takes all the power: coil Q is too low for this loaded Q",
      };
    Q2 = Math.sqrt(R2 / through - 1);
    XL = Rv * Q1 + through * Q2;
    r = XL / Qc;
  }
  if (!(Rv - r > 0))
    return {
      ok: false,
      problem: "the coil's loss takes all the power: coil Q is too low for this loaded Q",
    };
  return {
    ok: true,
    value: { tuningOhm: R1 / Q1, coilOhm: XL, coilSeriesOhm: r, loadingOhm: R2 / Q2 },
  };
}

/** Components of a pi at one frequency; the plate choke's reactance is tuned out by extra tuning capacitance. */
export function designPi(request: PiRequest & AtFrequency): Designed<PiComponents> {
  const x = piReactances(request);
  if (!x.ok) return x;
  return { ok: true, value: componentsAt(x.value, request) };
}

/** Reactances of a pi-L through the intermediate resistance Rm, loss of both coils included. */
export function piLReactances(
  request: PiRequest & { readonly intermediateOhm: number },
): Designed<PiLReactances> {
  const { loadOhm: R2, intermediateOhm: Rm, coilQ: Qc } = request;
  let r2 = 0;
  let XL2 = 0;
  let q = 0;
  for (let pass = 0; pass < LOSS_PASSES; pass++) {
    const seen = R2 + r2;
    if (!(Rm > seen))
      return {
        ok: false,
        problem:
          "the intermediate resistance must exceed the load and the output coil's loss together",
      };
    q = Math.sqrt(Rm / seen - 1);
    XL2 = seen * q;
    r2 = XL2 / Qc;
  }
  const pi = piReactances({ ...request, loadOhm: Rm });
  if (!pi.ok) return pi;
  // the pi's loading capacitor and the L-section's shunt capacitor are one part
  const loadingOhm = 1 / (1 / pi.value.loadingOhm + q / Rm);
  return {
    ok: true,
    value: { ...pi.value, loadingOhm, outputCoilOhm: XL2, outputCoilSeriesOhm: r2 },
  };
}

/** Components of a pi-L at one frequency. */
export function designPiL(
  request: PiRequest & AtFrequency & { readonly intermediateOhm: number },
): Designed<PiLComponents> {
  const x = piLReactances(request);
  if (!x.ok) return x;
  const w = 2 * Math.PI * request.freqHz;
  return {
    ok: true,
    value: {
      ...componentsAt(x.value, request),
      outputCoilH: x.value.outputCoilOhm / w,
      outputCoilSeriesOhm: x.value.outputCoilSeriesOhm,
    },
  };
}

function componentsAt(x: PiReactances, at: AtFrequency): PiComponents {
  const w = 2 * Math.PI * at.freqHz;
  return {
    tuningF: 1 / (w * x.tuningOhm) + 1 / (w * w * at.chokeH),
    coilH: x.coilOhm / w,
    coilSeriesOhm: x.coilSeriesOhm,
    loadingF: 1 / (w * x.loadingOhm),
  };
}
