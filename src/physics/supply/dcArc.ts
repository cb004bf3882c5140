/**
 * An arc fed with direct current: a flashover inside the tube, or from the plate's lead to the chassis.
 *
 *   i = (E - Va)/R  while it burns                Va its nearly constant voltage, R the resistance of its path
 *
 * Valid for E above Va: whoever steps it puts it out where E falls below (the law stays straight there, since a kink this
 * steep would make the steps chatter). Va 50 V inside a tube, 200 V in air, R of the leads alone: estimates [E]. Such an arc
 * takes C Va (V - Va) of a filter C charged to V, whatever R is.
 */

/** Leads and electrodes of such an arc's path, ohms [E]: small beside any surge resistor. */
export const ARC_PATH_OHM = 0.1;

/** An arc that gets less current than this goes out, amperes [E]. */
export const ARC_HOLDING_A = 0.5;

/** Current through a burning arc, amperes, at `feedV` across arc and path. */
export function dcArcA(feedV: number, arcV: number, pathSiemens: number): number {
  return (feedV - arcV) * pathSiemens;
}
