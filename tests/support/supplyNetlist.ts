/**
 * A plate supply with a fault as a netlist for the circuit simulator ngspice, written from Kirchhoff's laws alone: source
 * behind a diode law and its resistance, filter with bleeder, surge resistor, bypass, and what shorts them when.
 */

export interface SupplyInput {
  readonly noLoadV: number;
  readonly sourceOhm: number;
  readonly filterF: number;
  readonly bleederOhm: number;
  readonly surgeOhm: number;
  readonly bypassF: number;
  /** From the plate side of the surge resistor to ground. */
  readonly shortOhm: number | null;
  readonly arc: { readonly voltageV: number; readonly pathOhm: number } | null;
  /** Closes `afterS` after the fault. */
  readonly crowbar: { readonly ohm: number; readonly afterS: number } | null;
}

/** When the fault comes. */
export const FAULT_AT_S = 50e-6;

/** Netlist of `spanS` from the fault on; the supply is at rest before it. */
export function supplyNetlist(title: string, s: SupplyInput, spanS: number): string {
  const restV = (s.noLoadV * s.bleederOhm) / (s.bleederOhm + s.sourceOhm);
  const at = (S: number): string => `(time > ${S} ? 1 : 0)`;
  const firedS = FAULT_AT_S + (s.crowbar?.afterS ?? 0);
  return [
    title,
    `Brect 0 c I=(v(c) < ${s.noLoadV} ? (${s.noLoadV}-v(c))/${s.sourceOhm} : 0)`,
    `Cf c 0 ${s.filterF} IC=${restV}`,
    `Rbleed c 0 ${s.bleederOhm}`,
    "Vs c q 0",
    `Rs q e ${s.surgeOhm}`,
    `Cb e 0 ${s.bypassF} IC=${restV}`,
    ...(s.shortOhm === null ? [] : [`Bshort e 0 I=${at(FAULT_AT_S)}*v(e)/${s.shortOhm}`]),
    ...(s.arc === null
      ? []
      : [
          `Barc e 0 I=${at(FAULT_AT_S)}*(v(e) > ${s.arc.voltageV} ? (v(e)-${s.arc.voltageV})/${s.arc.pathOhm} : 0)`,
        ]),
    ...(s.crowbar === null ? [] : [`Bcrow c 0 I=${at(firedS)}*v(c)/${s.crowbar.ohm}`]),
    ".options reltol=1e-5 method=gear",
    ".save v(c) v(e) i(vs)",
    `.tran 0.5u ${FAULT_AT_S + spanS} 0 0.2u uic`,
    ".end",
    "",
  ].join("\n");
}
