/**
 * The melting edge of a capacitor plate.
 *
 *   c dh_i/dt = G_(i-1/2) (theta_(i-1) - theta_i) - G_(i+1/2) (theta_i - theta_(i+1)) + q_i      per cell
 *   G = pi d/ln(rc_(i+1)/rc_i)             half-annulus faces, rc cell centres, d sheet thickness
 *   q_i = P |cell i inside r < a|/|half disc r < a|       source uniform over the half disc, overlap exact
 *   a = sqrt(Ipk/(pi J))                                  root of the arc
 *
 * h specific enthalpy, c = density x cell volume, theta the conduction integral (see `enthalpyTable`). The arc burns on the
 * edge of a sheet that is thin against the distance heat travels, so heat spreads in a half plane and temperature is
 * uniform through the thickness. By the exact solutions a strip of half width w across the edge heats like a half disc of
 * 0.61 w, a round spot as wide as the sheet like one of half its radius, smaller spots like still narrower ones: what J is
 * taken to be includes that. Roots under 0.05 mm are not resolved.
 * Explicit in time; the steps within a sample follow from grid and metal alone, never from the state.
 *
 * The rim at 40 mm is insulated: what is put in stays in, which is checkable, and heat needs some seconds to get there.
 * Heat left to air and radiation is left out (0.01 W/mm2 at melting). Boiling is not modelled: enthalpy is capped there, what
 * is lost that way is counted and flagged, and masses over about 50 mg are rough. Molten metal does not flow away.
 * Recoil, spatter and oxide are left out.
 *
 * Standing: the method is checked against exact conduction solutions. J, the share of arc power, and the stirred pool are
 * estimates chosen to match common practice, so agreement with practice confirms nothing.
 */
import { ln } from "../../math/elementary";
import { spotRadiusM } from "./arcRoot";
import {
  buildEnthalpyTable,
  type EnthalpyTable,
  enthalpyAt,
  temperatureAt,
  thetaAt,
} from "./enthalpyTable";
import type { Metal } from "./metals";

export interface PlateEdgeDef {
  readonly thicknessM: number;
  readonly metal: Metal;
  /** Temperature of the whole plate before the arc. */
  readonly startK: number;
  /** J, peak current over root area. */
  readonly spotAPerM2: number;
  /** Part of the arc power that this electrode takes. */
  readonly electrodeShare: number;
}

/** Everything about an edge that does not change while it is heated, and scratch space without memory. */
export interface PlateEdge {
  readonly def: PlateEdgeDef;
  readonly table: EnthalpyTable;
  readonly startJPerKg: number;
  /** Longest explicit steps, seconds, of the fine cells and of the rest. */
  readonly longestInnerStepS: number;
  readonly longestOuterStepS: number;
  readonly massKg: Float64Array;
  /** 1/kg. */
  readonly perMass: Float64Array;
  /** Face i leads from cell i to i + 1; the last is the insulated rim, 0. */
  readonly faceM: Float64Array;
  readonly sourceW: Float64Array;
}

const FIRST_CELL_M = 0.05e-3;
const FINE_GROWTH = 1.08;
const FINE_TO_M = 4e-3; // bead sizes end here; beyond, only heat storage matters
const COARSE_GROWTH = 1.25;
const RIM_M = 40e-3;

const FINE_CELLS = 12; // the rest are wide enough for one step a sample in any of the metals

const OUTER_RADIUS_M = gridRadii();

/** Cells of the grid, from the root outwards. */
export const PLATE_EDGE_CELLS = OUTER_RADIUS_M.length;

const PEAK_MOLTEN = PLATE_EDGE_CELLS; // greatest molten mass so far, kg
const BOILED = PLATE_EDGE_CELLS + 1; // heat beyond the boiling cap, J
const ABSORBED = PLATE_EDGE_CELLS + 2; // heat taken up, J
const MOLTEN = PLATE_EDGE_CELLS + 3; // molten mass now, kg

/** Numbers of state an edge needs in the caller's buffer. */
export const PLATE_EDGE_STATE_LENGTH = PLATE_EDGE_CELLS + 4;

/** Outer radius of each cell, metres; the cell's inner radius is the one before, 0 for the first. */
export function plateEdgeRadiiM(): Float64Array {
  return OUTER_RADIUS_M.slice();
}

/** Prepares an edge; allocates, so once for each part and estimate. */
export function createPlateEdge(def: PlateEdgeDef): PlateEdge {
  const table = buildEnthalpyTable(def.metal);
  const n = PLATE_EDGE_CELLS;
  const massKg = new Float64Array(n);
  const perMass = new Float64Array(n);
  const faceM = new Float64Array(n);
  let longestInnerStepS = Infinity;
  let longestOuterStepS = Infinity;
  for (let i = 0; i < n; i++) {
    const inner = innerRadiusM(i);
    const outer = OUTER_RADIUS_M[i] as number;
    massKg[i] =
      0.5 * Math.PI * (outer * outer - inner * inner) * def.thicknessM * def.metal.densityKgPerM3;
    if (i < n - 1) {
      const here = 0.5 * (inner + outer);
      const next = 0.5 * (outer + (OUTER_RADIUS_M[i + 1] as number));
      faceM[i] = (Math.PI * def.thicknessM) / ln(next / here);
    }
    const faces = (i > 0 ? (faceM[i - 1] as number) : 0) + (faceM[i] as number);
    // 0.95 under the step at which a cell could overshoot its neighbours
    const longestS = (0.95 * (massKg[i] as number)) / (faces * table.steepestSlope);
    if (i < FINE_CELLS) longestInnerStepS = Math.min(longestInnerStepS, longestS);
    else longestOuterStepS = Math.min(longestOuterStepS, longestS);
    perMass[i] = 1 / (massKg[i] as number);
  }
  return {
    def,
    table,
    startJPerKg: enthalpyAt(table, def.startK),
    longestInnerStepS,
    longestOuterStepS,
    massKg,
    perMass,
    faceM,
    sourceW: new Float64Array(n),
  };
}

/** Puts a cold edge into the buffer. */
export function initPlateEdge(edge: PlateEdge, state: Float64Array, offset: number): void {
  state.fill(edge.startJPerKg, offset, offset + PLATE_EDGE_CELLS);
  state.fill(0, offset + PLATE_EDGE_CELLS, offset + PLATE_EDGE_STATE_LENGTH);
}

/**
 * Advances an edge by `dtS` with constant power in the arc, `arcW`, of which this electrode takes its share, and the
 * arc's peak current, which sets the width of the root. With no arc the edge cools. Allocates nothing.
 */
export function advancePlateEdge(
  edge: PlateEdge,
  state: Float64Array,
  offset: number,
  dtS: number,
  arcW: number,
  arcPeakA: number,
): void {
  const absorbedW = arcW > 0 ? arcW * edge.def.electrodeShare : 0;
  if (absorbedW === 0 && state[offset + ABSORBED] === 0) return; // never heated: nothing moves
  spreadSource(edge, absorbedW, arcPeakA);
  const outerSteps = Math.ceil(dtS / edge.longestOuterStepS);
  const outerDt = dtS / outerSteps;
  const innerSteps = Math.ceil(outerDt / edge.longestInnerStepS);
  for (let step = 0; step < outerSteps; step++) {
    conduct(edge, state, offset, outerDt, innerSteps);
    if ((state[offset] as number) > edge.table.boilingJPerKg) capAtBoiling(edge, state, offset);
  }
  state[offset + ABSORBED] = (state[offset + ABSORBED] as number) + absorbedW * dtS;
  const molten = sumMolten(edge, state, offset);
  state[offset + MOLTEN] = molten;
  if (molten > (state[offset + PEAK_MOLTEN] as number)) state[offset + PEAK_MOLTEN] = molten;
}

/** Molten mass now, kilograms. */
export function moltenMassKg(state: Float64Array, offset: number): number {
  return state[offset + MOLTEN] as number;
}

/** Greatest molten mass so far, kilograms: what froze again stays as a bead. */
export function peakMoltenKg(state: Float64Array, offset: number): number {
  return state[offset + PEAK_MOLTEN] as number;
}

/** Heat beyond the boiling cap, joules; above zero the masses are rough. */
export function boiledJ(state: Float64Array, offset: number): number {
  return state[offset + BOILED] as number;
}

/** Heat this electrode has taken up, joules. */
export function absorbedJ(state: Float64Array, offset: number): number {
  return state[offset + ABSORBED] as number;
}

/** Temperature of one cell, kelvin; cell 0 is the root of the arc and the hottest. */
export function cellK(edge: PlateEdge, state: Float64Array, offset: number, cell: number): number {
  return temperatureAt(edge.table, state[offset + cell] as number);
}

/** Temperature of the hottest cell, kelvin. */
export function hottestK(edge: PlateEdge, state: Float64Array, offset: number): number {
  return cellK(edge, state, offset, 0);
}

/** Way to melt onset, 0 to 1: enthalpy of the hottest cell from the start to the beginning of melting. */
export function onsetFraction(edge: PlateEdge, state: Float64Array, offset: number): number {
  const span = edge.table.solidusJPerKg - edge.startJPerKg;
  return Math.min(Math.max(((state[offset] as number) - edge.startJPerKg) / span, 0), 1);
}

/**
 * One outer step: the fine cells in `innerSteps` short steps against the first coarse cell held, then the coarse cells in one,
 * with the heat that crossed between them counted once on both sides.
 */
function conduct(
  edge: PlateEdge,
  state: Float64Array,
  offset: number,
  dtS: number,
  innerSteps: number,
): void {
  const { table, perMass, faceM, sourceW } = edge;
  const n = PLATE_EDGE_CELLS;
  const dt = dtS / innerSteps;
  const held = state[offset + FINE_CELLS] as number;
  // where its own source will have brought the held cell, on the mean of the short steps' starts
  const warmed =
    (sourceW[FINE_CELLS] as number) * (perMass[FINE_CELLS] as number) * 0.5 * (dtS - dt);
  const beyond = thetaAt(table, held + warmed);
  let crossed = 0; // W s
  for (let step = 0; step < innerSteps; step++) {
    let here = thetaAt(table, state[offset] as number);
    let inflow = 0;
    for (let i = 0; i < FINE_CELLS; i++) {
      const at = offset + i;
      const next = i + 1 < FINE_CELLS ? thetaAt(table, state[at + 1] as number) : beyond;
      const outflow = (faceM[i] as number) * (here - next);
      const gain = inflow - outflow + (sourceW[i] as number);
      state[at] = (state[at] as number) + dt * gain * (perMass[i] as number);
      inflow = outflow;
      here = next;
    }
    crossed += inflow * dt;
  }
  let inflow = crossed / dtS;
  let here = thetaAt(table, held);
  for (let i = FINE_CELLS; i < n; i++) {
    const at = offset + i;
    const next = i + 1 < n ? thetaAt(table, state[at + 1] as number) : here;
    const outflow = (faceM[i] as number) * (here - next);
    const gain = inflow - outflow + (sourceW[i] as number);
    state[at] = (state[at] as number) + dtS * gain * (perMass[i] as number);
    inflow = outflow;
    here = next;
  }
}

/** Shares the absorbed power among the cells under the root, by exact overlap, so the root may widen and shrink. */
export function spreadSource(edge: PlateEdge, absorbedW: number, arcPeakA: number): void {
  const { sourceW } = edge;
  sourceW.fill(0);
  if (absorbedW === 0) return;
  // a root narrower than the first cell heats that cell alone
  const a = Math.min(Math.max(spotRadiusM(arcPeakA, edge.def.spotAPerM2), FIRST_CELL_M), RIM_M);
  const perSquare = absorbedW / (a * a);
  let innerSquare = 0;
  for (let i = 0; i < PLATE_EDGE_CELLS; i++) {
    const outer = OUTER_RADIUS_M[i] as number;
    const outerSquare = Math.min(outer, a) * Math.min(outer, a);
    sourceW[i] = perSquare * (outerSquare - innerSquare);
    innerSquare = outerSquare;
    if (outer >= a) return;
  }
}

/** Cells are hottest at the root and cool outwards, so the walk ends at the first one under the cap. */
function capAtBoiling(edge: PlateEdge, state: Float64Array, offset: number): void {
  const cap = edge.table.boilingJPerKg;
  for (let i = 0; i < PLATE_EDGE_CELLS; i++) {
    const beyond = (state[offset + i] as number) - cap;
    if (beyond <= 0) return;
    state[offset + i] = cap;
    state[offset + BOILED] =
      (state[offset + BOILED] as number) + beyond * (edge.massKg[i] as number);
  }
}

function sumMolten(edge: PlateEdge, state: Float64Array, offset: number): number {
  const { solidusJPerKg, metal } = edge.table;
  let sum = 0;
  for (let i = 0; i < PLATE_EDGE_CELLS; i++) {
    const beyond = (state[offset + i] as number) - solidusJPerKg;
    if (beyond <= 0) break; // cooler outwards
    sum += (edge.massKg[i] as number) * Math.min(beyond / metal.fusionJPerKg, 1);
  }
  return sum;
}

function innerRadiusM(cell: number): number {
  return cell === 0 ? 0 : (OUTER_RADIUS_M[cell - 1] as number);
}

function gridRadii(): Float64Array {
  const radii: number[] = [];
  let width = FIRST_CELL_M;
  let r = 0;
  while (r < RIM_M) {
    r += width;
    radii.push(r);
    width *= r < FINE_TO_M ? FINE_GROWTH : COARSE_GROWTH;
  }
  return Float64Array.from(radii);
}
