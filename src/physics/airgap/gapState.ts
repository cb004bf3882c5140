/**
 * What narrows a gap, and how a gap comes back after an arc.
 *
 *   insect   residual = gap (1 - 0.9 s)     s severity 0 to 1: how much of the gap the body bridges
 *   dust     residual = gap (1 - 0.8 s)     a fringe of fibres and salt, never a bridge
 *   metal    a bead has the clean gap to cross: what lies in it is no metal, so that touching it shorts nothing, and the
 *            arc burns it away before much has melted (1 mg of mostly water takes 2.6 J, 16 ms of 165 W). Char and
 *            salt stay on the plates: what the gap withstands afterwards is still the narrowed gap's
 *   recovery strength / cold strength = 1 - 0.5 exp(-(t - 0.5 ms)/1.4 ms) from half strength at 0.5 ms,
 *            rising in proportion to time before, and the cold gap from 50 ms on
 *
 * Standing: estimates throughout. The recovery follows common practice for low-current arcs in millimetre gaps (half the
 * strength back in 0.1 to 1 ms, hot gas gone in 1 to 20 ms); it is a model to teach with, not a measurement.
 */
import { exp } from "../../math/elementary";

const INSECT_REACH = 0.9;
const DUST_REACH = 0.8;
const HALF_STRENGTH_S = 0.5e-3;
const RECOVERY_TIME_CONSTANT_S = 1.4e-3;
/** A gap has all its strength back so long after its arc, seconds. */
export const COLD_AFTER_S = 50e-3;

/** Clear air left in a gap that an insect has entered, metres. Estimate. */
export function insectResidualGapM(gapM: number, severity: number): number {
  return gapM * (1 - INSECT_REACH * clampUnit(severity));
}

/** Clear air left in a gap whose plates have gathered dust, metres. Estimate. */
export function dustyGapM(gapM: number, severity: number): number {
  return gapM * (1 - DUST_REACH * clampUnit(severity));
}

/** Share of its cold strength a gap has regained since its arc went out; never falls with time. */
export function recoveredFraction(sinceArcS: number): number {
  if (!(sinceArcS > 0)) return 0;
  if (sinceArcS >= COLD_AFTER_S) return 1;
  if (sinceArcS <= HALF_STRENGTH_S) return (0.5 * sinceArcS) / HALF_STRENGTH_S;
  return 1 - 0.5 * exp(-(sinceArcS - HALF_STRENGTH_S) / RECOVERY_TIME_CONSTANT_S);
}

function clampUnit(x: number): number {
  return Math.min(Math.max(x, 0), 1);
}
