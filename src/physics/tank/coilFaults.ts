/**
 * What a tank coil becomes with a shorted turn.
 *
 *   Zr = (wM)^2/(Rt + jwLt) = -jwL s + R,   s = M^2/(L Lt),   R = s wL/Qt      (Qt^2 >> 1)
 *
 * L coil, Lt, Rt, Qt = wLt/Rt the shorted turn, M between them; s the share of the inductance that is lost. Qt is lower
 * than the coil's: one turn, heated, through a bad contact; 30, estimate.
 * Validity: Qt > 10. Left out: the turn's own heat.
 * Source: coupled circuits, any textbook.
 */

/** Q of a turn that is shorted on itself; estimate. */
const TURN_Q = 30;

/** Resistance a shorted turn brings into the coil at `coilReactanceOhm`, ohm. Law and validity: module header. */
export function shortedTurnOhm(lostShare: number, coilReactanceOhm: number): number {
  return (lostShare * coilReactanceOhm) / TURN_Q;
}
