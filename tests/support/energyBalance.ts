/**
 * Where the power of a running stage goes, at one instant, harmonic by harmonic: each node equation times its own conjugate
 * phasor, each branch equation times its current.
 *
 *   rectifier Vc Ir + drive net = plate + grid + return + supply's resistors and shorts
 *        + sum_h [ loads, coils, arcs, bridges, cathode ]/2 + dW/dt
 *   W = sum_h sum_k M |x|^2/4 + (Cf Vc^2 + Cb Eb^2 + Cr Ek^2)/2
 *
 * M is the capacitance or inductance behind a state x. What an oscillation draws beyond plate and grid heat leaves on a frequency of
 * its own, and counts as output.
 */
import { hasOutputCoil, isTapNode, type StageCircuit } from "../../src/physics/stage/circuit";
import {
  AT_BEYOND,
  AT_LOADING,
  AT_PLATE,
  AT_TAP,
  EB,
  EK,
  ILA,
  ILB,
  ILC,
  STATE_LENGTH,
  STRIDE,
  V1,
  V2,
  V3,
  VC,
  VK,
  VT,
} from "../../src/physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../src/physics/stage/readings";
import { rectifierA, storage } from "../../src/physics/stage/stageEquations";
import { StageSystem } from "../../src/physics/stage/stageSystem";
import { dcArcA } from "../../src/physics/supply/dcArc";
import { HARMONICS } from "../../src/physics/tube/triode";

export interface Powers {
  readonly inW: number;
  readonly outW: number;
  /** Rate of what is stored, by the equations of motion. */
  readonly storingW: number;
  /** In filter, bypass and cathode return: what a settled sample follows. Of the RF circuits it takes the state they settle in. */
  readonly slowJ: number;
}

const system = new StageSystem();
const rates = new Float64Array(STATE_LENGTH);
const elements = new Float64Array(STATE_LENGTH);
const row = new Float64Array(READING_COUNT);
const DC = [VC, EB, EK] as const;

/** Powers of the stage `c` in state `y` while the exciter offers `driveW`. */
export function powersOf(c: StageCircuit, y: Float64Array, driveW: number): Powers {
  const sourceA = Math.sqrt(8 * c.driveOhm * driveW) / (c.turnsRatio * c.driveOhm);
  system.evaluateTube(c, y);
  system.derivative(c, y, sourceA, rates);
  readStage(c, system, y, sourceA, row);
  storage(c, elements);
  const at = (i: number): number => y[i] as number;
  const read = (i: number): number => row[i] as number;
  const vc = at(VC);
  const eb = at(EB);
  const ek = at(EK);
  const surgeA = (vc - eb) * c.surgeSiemens;
  const inW =
    vc * (c.stiffSupply ? surgeA : rectifierA(c, vc)) +
    read(READING.driveW) -
    read(READING.driveReflectedW);
  const { stray } = c;
  const elsewhere = stray.plateSiemens - stray.plateHeatSiemens - stray.gridHeatSiemens;
  let outW =
    read(READING.plateDissipationW) +
    read(READING.gridDissipationW) +
    eb * eb * elsewhere +
    ek * ((ek - c.biasV) * c.biasSiemens + ek * (c.cutoffSiemens + c.touchSiemens)) +
    (vc - eb) * surgeA +
    eb * (eb * c.shortSiemens + dcArcA(eb, c.dcArcV, c.dcArcSiemens));
  if (!c.stiffSupply) outW += vc * vc * (c.bleederSiemens + c.crowbarSiemens);
  for (let h = 0; h < HARMONICS; h++) outW += 0.5 * harmonicW(c, y, h);
  let storingW = 0;
  let slowJ = 0;
  for (let i = 0; i < HARMONICS * STRIDE; i++) {
    storingW += 0.5 * at(i) * (rates[i] as number);
  }
  for (const i of DC) {
    storingW += at(i) * (rates[i] as number);
    // what holds a stiff supply's voltage is no store
    if (i !== VC || !c.stiffSupply) slowJ += 0.5 * (elements[i] as number) * at(i) * at(i);
  }
  return { inW, outW, storingW, slowJ };
}

/** Twice the power in loads, coils, arcs, bridges and the cathode's conductances at one harmonic. */
function harmonicW(c: StageCircuit, y: Float64Array, h: number): number {
  const square = (at: number): number => {
    const re = y[h * STRIDE + at] as number;
    const im = y[h * STRIDE + at + 1] as number;
    return re * re + im * im;
  };
  const g = (place: number): number => system.nodeSiemens[place] as number;
  const piL = hasOutputCoil(c);
  const far = isTapNode(c) ? c.tapFraction : 0;
  let watts = (c.loadSiemens + g(AT_BEYOND)) * square(piL ? V3 : V2);
  watts += g(AT_LOADING) * square(V2);
  watts += (c.plateLossSiemens + g(AT_PLATE)) * square(V1);
  watts += c.coilOhm * (1 - far) * square(ILA);
  if (far > 0) watts += c.coilOhm * far * square(ILB) + g(AT_TAP) * square(VT);
  if (piL) watts += c.outputCoilOhm * square(ILC);
  watts += (c.cathodeLossSiemens + c.touchSiemens) * square(VK);
  if (h > 0) watts += square(VK) / (c.turnsRatio * c.turnsRatio * c.driveOhm);
  return watts;
}
