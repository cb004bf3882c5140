/**
 * Thermal data of electrode metals, SI.
 *
 * Enthalpies count from 298.15 K. All latent heat is taken at `meltingK`; an alloy's melting range is not resolved.
 * Densities are those of the cold solid (the mass of a plate does not change when it warms); the liquid's density only
 * sizes the bead. Liquid values hold from melting to boiling.
 *
 * Standing, by row, stands beside the numbers: "table" means a published table (Incropera and DeWitt, App. A.1; ITS-90; NIST
 * Chemistry WebBook), the rest says what it is.
 */
import type { MetalName } from "../../project/station";

/** Piecewise linear values over temperature, held constant beyond both ends. */
type ByTemperature = readonly (readonly [temperatureK: number, value: number])[];

/**
 * Shomate equation of the solid, t = T/1000, per mole:
 *   cp = A + B t + C t^2 + D t^3 + E/t^2,   H - H298 = A t + B t^2/2 + C t^3/3 + D t^4/4 - E/t + F
 */
interface Shomate {
  readonly kind: "shomate";
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
  readonly kgPerMol: number;
}

interface Tabulated {
  readonly kind: "table";
  readonly points: ByTemperature;
}

export interface Metal {
  readonly name: MetalName;
  readonly densityKgPerM3: number;
  readonly solidHeat: Shomate | Tabulated;
  readonly solidConductivity: ByTemperature;
  readonly meltingK: number;
  readonly fusionJPerKg: number;
  readonly liquidHeatJPerKgK: number;
  readonly liquidConductivityWPerMK: number;
  readonly liquidDensityKgPerM3: number;
  readonly boilingK: number;
  /** What stands behind the numbers, for the assumptions list. */
  readonly standing: string;
}

export const METALS: Readonly<Record<MetalName, Metal>> = {
  aluminium: {
    name: "aluminium",
    densityKgPerM3: 2702, // table, 300 K
    // NIST WebBook (Chase 1998), solid 298 to 933 K. One public copy prints C = 9.560423: a typo
    solidHeat: {
      kind: "shomate",
      a: 28.0892,
      b: -5.414849,
      c: 8.560423,
      d: 3.42737,
      e: -0.277375,
      f: -9.147187,
      kgPerMol: 0.0269815386,
    },
    // table to 800 K; 933 K from memory
    solidConductivity: [
      [200, 237],
      [300, 237],
      [400, 240],
      [600, 231],
      [800, 218],
      [933, 211],
    ],
    meltingK: 933.473, // ITS-90 defining fixed point
    fusionJPerKg: 396.94e3, // 10.7101 kJ/mol: difference of the two Shomate curves at melting
    liquidHeatJPerKgK: 1176.77, // NIST WebBook, liquid
    liquidConductivityWPerMK: 92, // 91 to 94 from memory; published values spread widely
    liquidDensityKgPerM3: 2377.2, // Assael et al. 2006, coefficient from memory
    boilingK: 2790.8, // end of the liquid Shomate range
    standing: "pure aluminium: published tables; liquid conductivity from memory",
  },
  alloy5052: {
    name: "alloy5052",
    densityKgPerM3: 2700, // alloy data page of a public materials database
    solidHeat: { kind: "table", points: [[300, 900]] }, // same page, 20 degC; its rise with temperature is left out
    solidConductivity: [[300, 140]], // same page, 20 degC; held constant
    meltingK: 883, // solidus 880 K, liquidus 923 K on the same page; all latent heat at the lower end (estimate)
    fusionJPerKg: 400e3, // same page
    liquidHeatJPerKgK: 1176.77, // pure aluminium
    liquidConductivityWPerMK: 140, // estimate: as the solid, since arc pressure stirs the pool
    liquidDensityKgPerM3: 2377.2, // pure aluminium
    boilingK: 2790.8, // pure aluminium; the alloy's magnesium leaves earlier
    standing:
      "5052-type sheet: alloy data page at 20 °C held constant; melting in one point and stirred pool are estimates",
  },
  copper: {
    name: "copper",
    densityKgPerM3: 8933, // table
    solidHeat: {
      kind: "table",
      points: [
        [300, 385],
        [400, 397],
        [600, 417],
        [800, 433],
        [1000, 451],
        [1200, 480],
      ],
    }, // table
    solidConductivity: [
      [300, 401],
      [400, 393],
      [600, 379],
      [800, 366],
      [1000, 352],
      [1200, 339],
    ], // table
    meltingK: 1357.77, // ITS-90 defining fixed point
    fusionJPerKg: 205e3, // handbook table of solids
    liquidHeatJPerKgK: 514, // from memory
    liquidConductivityWPerMK: 165, // from memory
    liquidDensityKgPerM3: 8020, // from memory
    boilingK: 2835, // from memory
    standing: "copper: published tables for the solid; liquid values from memory",
  },
  brass: {
    name: "brass",
    densityKgPerM3: 8530, // table, cartridge brass 70/30
    solidHeat: {
      kind: "table",
      points: [
        [300, 380],
        [400, 395],
        [600, 425],
      ],
    }, // table
    solidConductivity: [
      [200, 95],
      [300, 110],
      [400, 137],
      [600, 149],
    ], // table
    meltingK: 1188, // table
    fusionJPerKg: 168e3, // from memory
    liquidHeatJPerKgK: 490, // estimate
    liquidConductivityWPerMK: 80, // estimate
    liquidDensityKgPerM3: 7700, // estimate
    boilingK: 1400, // estimate: zinc boils out of the melt
    standing:
      "cartridge brass 70/30: published tables for the solid; melting heat from memory, liquid values estimates",
  },
};

/** Reference of enthalpy. */
const DATUM_K = 298.15;

/** Specific heat of the solid, J/(kg K). */
export function solidHeatJPerKgK(metal: Metal, atK: number): number {
  const heat = metal.solidHeat;
  if (heat.kind === "table") return interpolate(heat.points, atK);
  const t = atK / 1000;
  return (heat.a + t * (heat.b + t * (heat.c + t * heat.d)) + heat.e / (t * t)) / heat.kgPerMol;
}

/** Enthalpy of the solid over that at 298.15 K, J/kg; negative below. Meant up to melting. */
export function solidEnthalpyJPerKg(metal: Metal, atK: number): number {
  const heat = metal.solidHeat;
  if (heat.kind === "table") return integrate(heat.points, DATUM_K, atK);
  const t = atK / 1000;
  const kJPerMol =
    t * (heat.a + t * (heat.b / 2 + t * (heat.c / 3 + (t * heat.d) / 4))) - heat.e / t + heat.f;
  return (1e3 * kJPerMol) / heat.kgPerMol;
}

/** Integral of the solid's conductivity from 298.15 K, W/m: its differences drive heat through metal whose k varies. */
export function solidConductionIntegral(metal: Metal, atK: number): number {
  return integrate(metal.solidConductivity, DATUM_K, atK);
}

/** Heat that takes metal from `fromK` to just molten, J/kg. */
export function meltingHeatJPerKg(metal: Metal, fromK: number): number {
  return (
    solidEnthalpyJPerKg(metal, metal.meltingK) -
    solidEnthalpyJPerKg(metal, fromK) +
    metal.fusionJPerKg
  );
}

function interpolate(points: ByTemperature, at: number): number {
  let [x0, y0] = points[0] as readonly [number, number];
  if (at <= x0) return y0;
  for (const [x1, y1] of points) {
    if (at < x1) return y0 + ((y1 - y0) * (at - x0)) / (x1 - x0);
    x0 = x1;
    y0 = y1;
  }
  return y0;
}

/** Exact integral of a piecewise linear function, knot by knot. */
function integrate(points: ByTemperature, from: number, to: number): number {
  if (to < from) return -integrate(points, to, from);
  let sum = 0;
  let x = from;
  let y = interpolate(points, from);
  for (const [knot, value] of points) {
    if (knot <= from) continue;
    if (knot >= to) break;
    sum += 0.5 * (y + value) * (knot - x);
    x = knot;
    y = value;
  }
  return sum + 0.5 * (y + interpolate(points, to)) * (to - x);
}
