/**
 * A pi-L's output coil, a line with loss and a resonant antenna as a netlist, from the loading capacitor (node o) on. The
 * connector is node c; vcon carries the current into it. Nothing here is shared with the product's own line and antenna.
 *
 * The line is a chain of equal pi sections that are exact at the carrier for a line without loss (textbooks, from memory):
 *   series L = Z0 sin(theta)/w,  shunt C = tan(theta/2)/(Z0 w) at either end,  theta = w l/(v c)/n
 * with the conductor's loss as resistance in series and the dielectric's as conductance across: R = 2 Z0 ac l/n,
 * G = 2 ad/Z0 l/n, a in nepers. R brings as much reactance of the conductors' inside, w Li = R (skin effect, Chipman, from
 * memory). The antenna is a series R-L-C of the same resonance, resistance and Q.
 */

export interface FeederInput {
  readonly outputCoilH: number;
  readonly outputCoilOhm: number;
  readonly line: {
    readonly ohm: number;
    readonly lengthM: number;
    readonly velocityFactor: number;
    /** At the carrier. */
    readonly conductorDbPerM: number;
    readonly dielectricDbPerM: number;
  };
  readonly antenna: { readonly ohm: number; readonly q: number; readonly resonanceHz: number };
}

/** Radians of line in one section, at most. */
const SECTION_RAD = 0.4;

export function feederNetlist(freqHz: number, feeder: FeederInput): readonly string[] {
  const { line, antenna } = feeder;
  const w = 2 * Math.PI * freqHz;
  const turn = (w * line.lengthM) / (line.velocityFactor * 299_792_458);
  const sections = Math.ceil(turn / SECTION_RAD);
  const theta = turn / sections;
  const nepers = (dbPerM: number): number =>
    ((dbPerM * Math.LN10) / 20) * (line.lengthM / sections);
  const seriesOhm = 2 * line.ohm * nepers(line.conductorDbPerM);
  const seriesH = (line.ohm * Math.sin(theta) + seriesOhm) / w;
  const endF = Math.tan(theta / 2) / (line.ohm * w);
  const shuntSiemens = (2 * nepers(line.dielectricDbPerM)) / line.ohm;
  const chain: string[] = [];
  for (let k = 0; k < sections; k++) {
    const from = k === 0 ? "c" : `n${k}`;
    chain.push(`Lc${k} ${from} m${k} ${seriesH} IC=0`, `Rc${k} m${k} n${k + 1} ${seriesOhm}`);
    chain.push(`Cc${k} n${k + 1} 0 ${k === sections - 1 ? endF : 2 * endF} IC=0`);
    chain.push(`Gc${k} n${k + 1} 0 n${k + 1} 0 ${shuntSiemens}`);
  }
  const wa = 2 * Math.PI * antenna.resonanceHz;
  return [
    `Lo o o1 ${feeder.outputCoilH} IC=0`,
    `Ro o1 o2 ${feeder.outputCoilOhm}`,
    "Vcon o2 c 0",
    `Cin c 0 ${endF} IC=0`,
    ...chain,
    `Rant n${sections} a1 ${antenna.ohm}`,
    `Lant a1 a2 ${(antenna.q * antenna.ohm) / wa} IC=0`,
    `Cant a2 0 ${1 / (antenna.q * antenna.ohm * wa)} IC=0`,
  ];
}
