/**
 * An arc fed with direct current: a flashover inside the tube, or from the plate's lead to the chassis.
 *
 *   i = (E - Va)/R  where E > Va, otherwise 0        Va its nearly constant voltage, R the resistance of its path
 *
 * Va 50 V inside a tube, 200 V in air, R of the leads alone: estimates [E]; a current that falls under the holding value
 * puts it out. Such an arc takes C Va (V - Va) of a filter C charged to V, whatever R is.
 */

/** Leads and electrodes of such an arc's path, ohms [E]: small beside any surge resistor. */
export const ARC_PATH_OHM = 0.1;

/** An arc that gets less current than this goes out, amperes [E]. */
export const ARC_HOLDING_A = 0.5;

/** Current through the arc, amperes, at `feedV` across arc and path. */
export function dcArcA(feedV: number, arcV: number, pathSiemens: number): number {
  return feedV > arcV ? (feedV - arcV) * pathSiemens : 0;
}

/** d(dcArcA)/d(feedV), siemens. */
export function dcArcSlope(feedV: number, arcV: number, pathSiemens: number): number {
  return feedV > arcV ? pathSiemens : 0;
}
