/**
 * What a meter would show at one instant of the stage's envelope: powers, peaks and direct currents from
 * the state array and the tube averages of the same state (call after StageSolver.open or settle).
 * RF peaks are of the fundamental; powers delivered are of the fundamental; dissipations count every
 * harmonic carried.
 *
 *   Pf, Pr = |Vo +- Z0 Io|^2/(8 Z0), Io = (G + jB + g beyond the coupler) Vo, Vo at the connector: V2, of a pi-L V3
 *   reflected drive: wave Vk/n - Es/2 into Rs
 *   plate dissipation = Eb Ip0 + sum Re(V1 Ip*)/2 - (Ek Ip0 + sum Re(Vk Ip*)/2)
 *   grid dissipation  = -(Ek Ig0 + sum Re(Vk Ig*)/2)
 * Stray currents of the tube are added where a meter would see them; a touching grid brings the cathode's current
 * through the grid shunt the wrong way round.
 */
import { arcPeakCurrentA, arcPowerW } from "../arc/cassie";
import { dcArcA } from "../supply/dcArc";
import { HARMONICS, lowestOnCycleV } from "../tube/triode";
import { hasOutputCoil, type StageCircuit } from "./circuit";
import { ARC_COUNT, AT_BEYOND, arcNodes, EB, EK, ILA, STRIDE, V1, V2, V3, VC, VK } from "./layout";
import type { StageSystem } from "./stageSystem";

export const READING = {
  driveW: 0,
  driveReflectedW: 1,
  cathodeRfPeakV: 2,
  /** In the HV negative lead. */
  plateCurrentA: 3,
  /** Through the tube. */
  tubeCurrentA: 4,
  gridCurrentA: 5,
  cathodeV: 6,
  plateV: 7,
  filterV: 8,
  plateRfPeakV: 9,
  coilPeakA: 10,
  outputRfPeakV: 11,
  forwardW: 12,
  reflectedW: 13,
  outputW: 14,
  plateDissipationW: 15,
  gridDissipationW: 16,
  /** All arcs together. */
  arcW: 17,
  /** One a place, in the order of ARC_PLACES. */
  arcPlaceW: 18,
  arcPlacePeakA: 18 + ARC_COUNT,
  /** At the loading capacitor; of a pi the same as at the connector. */
  loadingRfPeakV: 18 + 2 * ARC_COUNT,
  /** In the surge resistor, (Vc - Eb)^2/R. */
  surgeW: 19 + 2 * ARC_COUNT,
  /** Through a short or a direct-current arc behind the surge resistor, and what both take. */
  supplyFaultA: 20 + 2 * ARC_COUNT,
  supplyFaultW: 21 + 2 * ARC_COUNT,
  /** In the arc itself, without its path. */
  dcArcW: 22 + 2 * ARC_COUNT,
} as const;

export const READING_COUNT = READING.dcArcW + 1;

/** Fills `row` from state `y`; `sourceA` is the drive phasor at that instant. */
export function readStage(
  c: StageCircuit,
  system: StageSystem,
  y: Float64Array,
  sourceA: number,
  row: Float64Array,
): void {
  const t = system.averages;
  const n = c.turnsRatio;
  const es = sourceA * n * c.driveOhm;
  row[READING.driveW] = (es * es) / (8 * c.driveOhm);
  const vkr = y[VK] as number;
  const vki = y[VK + 1] as number;
  const br = vkr / n - es / 2;
  const bi = vki / n;
  row[READING.driveReflectedW] = (br * br + bi * bi) / (2 * c.driveOhm);
  row[READING.cathodeRfPeakV] = Math.sqrt(vkr * vkr + vki * vki);
  const ek = y[EK] as number;
  const eb = y[EB] as number;
  const vc = y[VC] as number;
  const ip0 = t.plateDcA;
  const ig0 = t.cathodeDcA - ip0;
  row[READING.plateCurrentA] = (vc - eb) * c.surgeSiemens;
  const { stray } = c;
  row[READING.tubeCurrentA] = ip0 + eb * stray.plateSiemens;
  const arcA = dcArcA(eb, c.dcArcV, c.dcArcSiemens);
  const faultA = eb * c.shortSiemens + arcA;
  row[READING.surgeW] = (vc - eb) * (vc - eb) * c.surgeSiemens;
  row[READING.supplyFaultA] = faultA;
  row[READING.supplyFaultW] = eb * faultA;
  row[READING.dcArcW] = arcA * c.dcArcV;
  row[READING.gridCurrentA] = ig0 + eb * stray.gridSiemens - ek * c.touchSiemens;
  row[READING.cathodeV] = ek;
  row[READING.plateV] = eb;
  row[READING.filterV] = vc;
  row[READING.plateRfPeakV] = magnitude(y, V1);
  row[READING.coilPeakA] = magnitude(y, ILA);
  const piL = hasOutputCoil(c);
  const connector = piL ? V3 : V2;
  const outputRfPeakV = magnitude(y, connector);
  row[READING.outputRfPeakV] = outputRfPeakV;
  row[READING.loadingRfPeakV] = piL ? magnitude(y, V2) : outputRfPeakV;
  const vor = y[connector] as number;
  const voi = y[connector + 1] as number;
  const g = c.loadSiemens + (system.nodeSiemens[AT_BEYOND] as number);
  const b = c.loadSusceptanceSiemens;
  const z0 = c.referenceOhm;
  const ir = z0 * (g * vor - b * voi);
  const ii = z0 * (g * voi + b * vor);
  const scale = 1 / (8 * z0);
  const forward = ((vor + ir) * (vor + ir) + (voi + ii) * (voi + ii)) * scale;
  const reflected = ((vor - ir) * (vor - ir) + (voi - ii) * (voi - ii)) * scale;
  row[READING.forwardW] = forward + eb * eb * stray.forwardSiemens;
  row[READING.reflectedW] = reflected;
  row[READING.outputW] = 0.5 * g * (vor * vor + voi * voi);
  let plate = (eb - ek) * ip0 + eb * eb * stray.plateHeatSiemens;
  let grid = -ek * ig0 + eb * eb * stray.gridHeatSiemens;
  for (let h = 0; h < HARMONICS; h++) {
    const o = h * STRIDE;
    const pr = t.plate[2 * h] as number;
    const pi = t.plate[2 * h + 1] as number;
    const gr = (t.cathode[2 * h] as number) - pr;
    const gi = (t.cathode[2 * h + 1] as number) - pi;
    const kr = y[o + VK] as number;
    const ki = y[o + VK + 1] as number;
    plate += 0.5 * (((y[o + V1] as number) - kr) * pr + ((y[o + V1 + 1] as number) - ki) * pi);
    grid -= 0.5 * (kr * gr + ki * gi);
  }
  row[READING.plateDissipationW] = plate;
  row[READING.gridDissipationW] = grid;
  let arcs = 0;
  const nodes = arcNodes(piL);
  for (let a = 0; a < ARC_COUNT; a++) {
    let watts = 0;
    let peakA = 0;
    if (c.burning[a]) {
      const node = nodes[a] as number;
      const ga = system.arcSiemens[a] as number;
      let square = 0;
      for (let h = 0; h < HARMONICS; h++) {
        const r = y[h * STRIDE + node] as number;
        const i = y[h * STRIDE + node + 1] as number;
        square += r * r + i * i;
      }
      watts = arcPowerW(ga, square);
      peakA = arcPeakCurrentA(ga, square);
    }
    row[READING.arcPlaceW + a] = watts;
    row[READING.arcPlacePeakA + a] = peakA;
    arcs += watts;
  }
  row[READING.arcW] = arcs;
}

/** Lowest plate voltage to ground over the cycle. */
export function plateMinimumV(y: Float64Array): number {
  return lowestOnCycleV(y[EB] as number, y, V1, STRIDE);
}

function magnitude(y: Float64Array, at: number): number {
  const r = y[at] as number;
  const i = y[at + 1] as number;
  return Math.sqrt(r * r + i * i);
}
