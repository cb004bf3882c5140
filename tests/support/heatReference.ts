/**
 * Exact solutions of heat conduction, to compare the product's models with. Written for tests only: speed does not matter.
 *
 * k conductivity, alpha diffusivity, P absorbed power, T rise above the start.
 * Source: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., chapters 10 and 11 (from memory), unless a function says
 * how it was derived.
 */

export interface Medium {
  readonly conductivityWPerMK: number;
  readonly diffusivityM2PerS: number;
}

/** Exponential integral E1: series up to 1, continued fraction beyond (Abramowitz and Stegun 5.1.11, 5.1.22). */
export function e1(x: number): number {
  if (x <= 1) {
    let term = 1;
    let sum = 0;
    for (let n = 1; n < 60; n++) {
      term *= -x / n;
      sum -= term / n;
    }
    return -0.5772156649015329 - Math.log(x) + sum;
  }
  let tail = 0;
  for (let n = 200; n >= 1; n--) tail = n / (1 + n / (x + tail));
  return Math.exp(-x) / (x + tail);
}

/** Error function: series up to 3, its complement's continued fraction beyond (Abramowitz and Stegun 7.1.6, 7.1.14). */
export function erf(x: number): number {
  if (x < 0) return -erf(-x);
  if (x > 3) return 1 - erfc(x);
  let term = x;
  let sum = x;
  for (let n = 1; n < 120; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

export function erfc(x: number): number {
  if (x <= 3) return 1 - erf(x);
  let tail = 0;
  for (let n = 200; n >= 1; n--) tail = n / 2 / (x + tail);
  return Math.exp(-x * x) / Math.sqrt(Math.PI) / (x + tail);
}

function ierfc(x: number): number {
  return Math.exp(-x * x) / Math.sqrt(Math.PI) - x * erfc(x);
}

/** Centre of a uniform disc on a half space. */
export function discOnHalfSpaceK(
  powerW: number,
  radiusM: number,
  atS: number,
  medium: Medium,
): number {
  const { conductivityWPerMK: k, diffusivityM2PerS: alpha } = medium;
  const q = powerW / (Math.PI * radiusM * radiusM);
  const reach = Math.sqrt(alpha * atS);
  return ((2 * q * reach) / k) * (1 / Math.sqrt(Math.PI) - ierfc(radiusM / (2 * reach)));
}

/** Centre of a Gaussian spot exp(-r^2/a^2) on a half space. */
export function gaussianOnHalfSpaceK(
  powerW: number,
  radiusM: number,
  atS: number,
  medium: Medium,
): number {
  const { conductivityWPerMK: k, diffusivityM2PerS: alpha } = medium;
  return (
    (powerW / (Math.PI ** 1.5 * k * radiusM)) * Math.atan(Math.sqrt(4 * alpha * atS) / radiusM)
  );
}

/** Centre of a strip |y| < a on the edge of a sheet, heated over the whole thickness d. */
export function stripOnEdgeK(
  powerW: number,
  radiusM: number,
  thicknessM: number,
  atS: number,
  medium: Medium,
): number {
  const { conductivityWPerMK: k, diffusivityM2PerS: alpha } = medium;
  const q = powerW / (2 * radiusM * thicknessM);
  const X = radiusM / (2 * Math.sqrt(alpha * atS));
  return (
    ((2 * q) / k) *
    Math.sqrt((alpha * atS) / Math.PI) *
    (erf(X) + (X / Math.sqrt(Math.PI)) * e1(X * X))
  );
}

/** Centre of a round spot, radius up to d/2, on the edge face of a sheet of thickness d: images across both faces. */
export function spotOnEdgeK(
  powerW: number,
  radiusM: number,
  thicknessM: number,
  atS: number,
  medium: Medium,
): number {
  const { conductivityWPerMK: k, diffusivityM2PerS: alpha } = medium;
  let images = 0;
  const perImage = thicknessM / Math.sqrt(4 * alpha * atS);
  for (let n = 1; n * perImage < 6; n++) images += erfc(n * perImage) / (n * thicknessM);
  return discOnHalfSpaceK(powerW, radiusM, atS, medium) + (powerW / (Math.PI * k)) * images;
}

/**
 * Centre of a half disc heated uniformly through the thickness, on the edge of a half sheet.
 *
 * Derived: a unit pulse spread over a disc of radius a in a whole sheet leaves 1 - exp(-a^2/(4 alpha t)) of its first
 * temperature at the centre (integral of the two-dimensional source solution over the disc). Integrated over time, and with
 * the power doubled for the mirror half:  T = (P/(2 pi k d)) (E1(u) + (1 - exp(-u))/u),  u = a^2/(4 alpha t).
 */
export function halfDiscOnEdgeK(
  powerW: number,
  radiusM: number,
  thicknessM: number,
  atS: number,
  medium: Medium,
): number {
  const { conductivityWPerMK: k, diffusivityM2PerS: alpha } = medium;
  const u = (radiusM * radiusM) / (4 * alpha * atS);
  return (powerW / (2 * Math.PI * k * thicknessM)) * (e1(u) + (1 - Math.exp(-u)) / u);
}

/** Root of a steadily falling or rising function by halving. */
export function rootOf(f: (x: number) => number, low: number, high: number): number {
  const sign = Math.sign(f(high));
  let [a, b] = [low, high];
  for (let i = 0; i < 200; i++) {
    const middle = 0.5 * (a + b);
    if (Math.sign(f(middle)) === sign) b = middle;
    else a = middle;
  }
  return 0.5 * (a + b);
}

/** One-phase Stefan problem: lam exp(lam^2) erf(lam) = St/sqrt(pi). */
export function stefanRoot(stefanNumber: number): number {
  return rootOf((l) => l * Math.exp(l * l) * erf(l) - stefanNumber / Math.sqrt(Math.PI), 1e-9, 5);
}

export interface NeumannCase {
  readonly densityKgPerM3: number;
  readonly liquidConductivity: number;
  readonly liquidHeat: number;
  readonly solidConductivity: number;
  readonly solidHeat: number;
  readonly fusion: number;
  readonly wallK: number;
  readonly meltingK: number;
  readonly startK: number;
}

/** Two-phase Neumann problem with equal densities. */
export function neumannRoot(c: NeumannCase): number {
  const al = c.liquidConductivity / (c.densityKgPerM3 * c.liquidHeat);
  const as = c.solidConductivity / (c.densityKgPerM3 * c.solidHeat);
  const nu = Math.sqrt(al / as);
  const stl = (c.liquidHeat * (c.wallK - c.meltingK)) / c.fusion;
  const sts = (c.solidHeat * (c.meltingK - c.startK)) / c.fusion;
  return rootOf(
    (l) =>
      stl / (Math.exp(l * l) * erf(l)) -
      sts / (nu * Math.exp(nu * nu * l * l) * erfc(nu * l)) -
      l * Math.sqrt(Math.PI),
    1e-6,
    3,
  );
}

/**
 * Root lam of melting round a line source in an infinite body, front s = 2 lam sqrt(alpha t), equal properties on both sides:
 *   Q exp(-lam^2)/(4 pi) - k dT exp(-lam^2)/E1(lam^2) = lam^2 alpha rho L
 * Q watts per metre of line. Source: Carslaw and Jaeger 11.6 (from memory), balance of heat at the front checked here:
 * liquid T - Tm = (Q/4 pi k)(E1(r^2/4 alpha t) - E1(lam^2)), solid T = dT E1(r^2/4 alpha t)/E1(lam^2).
 */
export function lineSourceMeltRoot(
  wattsPerM: number,
  riseK: number,
  fusionJPerM3: number,
  medium: Medium,
): number {
  const { conductivityWPerMK: k, diffusivityM2PerS: alpha } = medium;
  return rootOf(
    (l) =>
      (Math.exp(-l * l) * wattsPerM) / (4 * Math.PI) -
      (k * riseK * Math.exp(-l * l)) / e1(l * l) -
      l * l * alpha * fusionJPerM3,
    1e-6,
    4,
  );
}
