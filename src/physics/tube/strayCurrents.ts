/**
 * Currents inside a tube that obey no space-charge law: gas, and an oscillation beside the band. Behavioural.
 *
 *   i = Gp Eb from the plate supply,  ig = Gg Eb added to the grid's current,
 *   Pa = Ha Eb^2, Pg = Hg Eb^2 heat in plate and grid,  Pf = F Eb^2 seen by the output coupler
 *
 * Eb plate voltage in V, conductances and coefficients in S. Positive ions flow to the grid against its own current.
 * Proportional to the plate voltage only because something must keep them from outliving it. Valid near the plate
 * voltage a severity is given for. Every share is an estimate; nothing here was measured on a tube.
 */

export interface StrayCurrents {
  plateSiemens: number;
  /** Below zero where ions are collected. */
  gridSiemens: number;
  plateHeatSiemens: number;
  gridHeatSiemens: number;
  forwardSiemens: number;
}

/** Plate voltage the severities are given for. */
const AT_V = 3000;
/** Of the plate current of an oscillation, what its grid takes; its efficiency; what the coupler sees of its output. */
const GRID_SHARE = 0.15;
const EFFICIENCY = 0.3;
const SEEN_SHARE = 0.01;
/** Of what an oscillation's grid takes in volts of its own swing. */
const GRID_SWING_V = 60;

/** None at all. */
export function noStray(): StrayCurrents {
  return {
    plateSiemens: 0,
    gridSiemens: 0,
    plateHeatSiemens: 0,
    gridHeatSiemens: 0,
    forwardSiemens: 0,
  };
}

/** Takes all of it away again. */
export function clearStray(s: StrayCurrents): void {
  s.plateSiemens = 0;
  s.gridSiemens = 0;
  s.plateHeatSiemens = 0;
  s.gridHeatSiemens = 0;
  s.forwardSiemens = 0;
}

/** The same currents in another place. */
export function copyStray(from: StrayCurrents, to: StrayCurrents): void {
  to.plateSiemens = from.plateSiemens;
  to.gridSiemens = from.gridSiemens;
  to.plateHeatSiemens = from.plateHeatSiemens;
  to.gridHeatSiemens = from.gridHeatSiemens;
  to.forwardSiemens = from.forwardSiemens;
}

/** Adds a gas current of `currentA` at 3 kV: all of it comes back through the grid, and all its power heats the plate. */
export function addGas(s: StrayCurrents, currentA: number): void {
  const siemens = currentA / AT_V;
  s.plateSiemens += siemens;
  s.gridSiemens -= siemens;
  s.plateHeatSiemens += siemens;
}

/** Adds an oscillation that draws `currentA` of plate current at 3 kV, at a frequency the tank does not pass. */
export function addOscillation(s: StrayCurrents, currentA: number): void {
  const siemens = currentA / AT_V;
  s.plateSiemens += siemens;
  s.gridSiemens += GRID_SHARE * siemens;
  s.plateHeatSiemens += (1 - EFFICIENCY) * siemens;
  s.gridHeatSiemens += (GRID_SHARE * siemens * GRID_SWING_V) / AT_V;
  s.forwardSiemens += SEEN_SHARE * EFFICIENCY * siemens;
}
