/**
 * Enthalpy to temperature, and to the conduction integral, fast enough for an inner loop.
 *
 *   theta(h) = integral of k dT from 298.15 K        W/m; heat flows down differences of theta (Kirchhoff)
 *
 * h is specific enthalpy in J/kg counted from `FLOOR_K`, so it is never negative. Solid: a table at equal steps of h,
 * linear between. Melting: constant, since all latent heat sits at one temperature. Liquid: linear in h. The ends of
 * the solid table are exact, so the kinks at melting are where they belong.
 */
import { type Metal, solidConductionIntegral, solidEnthalpyJPerKg } from "./metals";

/** Coldest temperature a table covers. */
const FLOOR_K = 250;
const STEPS = 96; // about 7 K a step: 0.01 K off between the knots of pure aluminium

export interface EnthalpyTable {
  readonly metal: Metal;
  /** h at the start and at the end of melting, and where boiling caps it. */
  readonly solidusJPerKg: number;
  readonly liquidusJPerKg: number;
  readonly boilingJPerKg: number;
  readonly stepsPerJPerKg: number;
  readonly solidK: Float64Array;
  readonly solidTheta: Float64Array;
  /** d(theta)/dh of the liquid. */
  readonly liquidSlope: number;
  /** Greatest d(theta)/dh anywhere: the diffusivity that limits an explicit step, times density. */
  readonly steepestSlope: number;
}

/** Builds the table of one metal; allocates, so once for each part. */
export function buildEnthalpyTable(metal: Metal): EnthalpyTable {
  const floor = solidEnthalpyJPerKg(metal, FLOOR_K);
  const solidus = solidEnthalpyJPerKg(metal, metal.meltingK) - floor;
  const solidK = new Float64Array(STEPS + 1);
  const solidTheta = new Float64Array(STEPS + 1);
  const liquidSlope = metal.liquidConductivityWPerMK / metal.liquidHeatJPerKgK;
  let steepest = liquidSlope;
  for (let i = 0; i <= STEPS; i++) {
    const T = i === STEPS ? metal.meltingK : temperatureOf(metal, floor + (solidus * i) / STEPS);
    solidK[i] = T;
    solidTheta[i] = solidConductionIntegral(metal, T);
    if (i > 0) {
      const rise = (solidTheta[i] as number) - (solidTheta[i - 1] as number);
      steepest = Math.max(steepest, (rise * STEPS) / solidus);
    }
  }
  const liquidus = solidus + metal.fusionJPerKg;
  return {
    metal,
    solidusJPerKg: solidus,
    liquidusJPerKg: liquidus,
    boilingJPerKg: liquidus + metal.liquidHeatJPerKgK * (metal.boilingK - metal.meltingK),
    stepsPerJPerKg: STEPS / solidus,
    solidK,
    solidTheta,
    liquidSlope,
    steepestSlope: steepest,
  };
}

/** Specific enthalpy of the solid at a temperature from 250 K to melting. */
export function enthalpyAt(table: EnthalpyTable, atK: number): number {
  if (!(atK >= FLOOR_K && atK <= table.metal.meltingK)) throw new Error(`invalid atK: ${atK}`);
  return solidEnthalpyJPerKg(table.metal, atK) - solidEnthalpyJPerKg(table.metal, FLOOR_K);
}

/** Temperature, kelvin, of specific enthalpy h. */
export function temperatureAt(table: EnthalpyTable, h: number): number {
  if (h < table.solidusJPerKg) return lookUp(table.solidK, h * table.stepsPerJPerKg);
  const { meltingK, liquidHeatJPerKgK } = table.metal;
  return meltingK + Math.max(h - table.liquidusJPerKg, 0) / liquidHeatJPerKgK;
}

/** Conduction integral, W/m, of specific enthalpy h. */
export function thetaAt(table: EnthalpyTable, h: number): number {
  if (h < table.solidusJPerKg) return lookUp(table.solidTheta, h * table.stepsPerJPerKg);
  return (
    (table.solidTheta[STEPS] as number) + Math.max(h - table.liquidusJPerKg, 0) * table.liquidSlope
  );
}

function lookUp(values: Float64Array, position: number): number {
  const i = position | 0; // never negative, and quicker than floor
  const low = values[i] as number;
  return low + ((values[i + 1] as number) - low) * (position - i);
}

/** Inverse of the solid's enthalpy by halving: it rises steadily, and this runs only while a table is built. */
function temperatureOf(metal: Metal, enthalpy: number): number {
  let low = FLOOR_K - 1;
  let high = metal.meltingK + 1;
  for (let i = 0; i < 60; i++) {
    const middle = 0.5 * (low + high);
    if (solidEnthalpyJPerKg(metal, middle) < enthalpy) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}
