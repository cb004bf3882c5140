/**
 * Typical operation of a cathode-driven triode, single tone, as a data sheet's column states it.
 *
 *   vk = Vc - Vk cos wt          cathode to ground; Vc bias, Vk peak drive
 *   plate to ground = Vb + Vc - Vp cos wt          Vb quoted plate supply, plate to cathode
 *   Vp = I1 RL                   plate load RL; harmonics of both voltages shorted by their circuits
 *   output   I1 Vp / 2           at the plate, feed-through included, before the tank's loss
 *   drive    Vk (I1 + G1) / 2    into the cathode;  Zin = Vk / (I1 + G1)
 *   feed-through Vk I1 / 2,  plate loss Vb I0 + feed-through - output,  grid loss Vk G1 / 2 - Vc Ig
 *
 * I0, Ig: mean plate and grid current; I1, G1: their peak fundamentals. Standing: textbook relations of the grounded-
 * grid stage; averages by `TriodeAverages`. Valid where that law is, with drive and plate in phase (tank on tune).
 */
import {
  CATHODE_BY_CATHODE,
  PLATE_BY_CATHODE,
  PLATE_BY_PLATE,
  TriodeAverages,
  type TriodeLaw,
} from "./triode";

export interface OperationVoltages {
  /** Quoted plate supply, plate to cathode. */
  readonly plateV: number;
  /** Cathode held this far above ground. */
  readonly cathodeV: number;
}

export interface OperationCircuit extends OperationVoltages {
  /** Resistance from plate to ground at the carrier. */
  readonly plateLoadOhm: number;
}

/** All tubes of the law together. */
export interface Operation {
  /** Plate current without drive. */
  readonly idleA: number;
  readonly plateCurrentA: number;
  readonly gridCurrentA: number;
  readonly driveW: number;
  readonly outputW: number;
  /** Of the drive, what reappears in the output. */
  readonly feedThroughW: number;
  readonly plateDissipationW: number;
  readonly gridDissipationW: number;
  readonly inputOhm: number;
  readonly plateLoadOhm: number;
  readonly drivePeakV: number;
  readonly swingPeakV: number;
  /** Peak fundamental of the plate current. */
  readonly plateFundamentalA: number;
  /** Plate to cathode at the trough. */
  readonly lowestPlateV: number;
}

export type OperationSearch =
  | { readonly ok: true; readonly operation: Operation }
  | { readonly ok: false; readonly reason: string };

/** Far above any drive a triode of ours is built for. */
const MOST_DRIVE_V = 5000;
const STEPS = 60;
/** Relative; well under what a printed column can tell. */
const CLOSE = 1e-10;

/** Fundamental phasors of cathode and plate; the second harmonics stay zero. */
const phasors = new Float64Array(8);
const averages = new TriodeAverages();

function evaluate(law: TriodeLaw, at: OperationVoltages, Vk: number, Vp: number): void {
  phasors[0] = Vk;
  phasors[2] = Vp;
  averages.evaluate(law, at.cathodeV, at.plateV + at.cathodeV, phasors, 0, 2, 4);
}

/** I1 at the voltages last evaluated. */
function fundamentalA(): number {
  return -(averages.plate[0] as number);
}

/** Plate and grid current at rest, grid voltage and plate voltage against the cathode. */
export function staticCurrents(
  law: TriodeLaw,
  gridV: number,
  plateV: number,
): { readonly plateCurrentA: number; readonly gridCurrentA: number } {
  averages.atRest(law, -gridV, plateV - gridV);
  const { plateDcA, cathodeDcA } = averages;
  return { plateCurrentA: plateDcA, gridCurrentA: cathodeDcA - plateDcA };
}

/** Plate current without drive. */
export function idleCurrentA(law: TriodeLaw, at: OperationVoltages): number {
  averages.atRest(law, at.cathodeV, at.plateV + at.cathodeV);
  return averages.plateDcA;
}

/** The root of a falling function between `low` and `high`: Newton's step where it stays inside, half elsewhere. */
function fallingRoot(
  low: number,
  high: number,
  start: number,
  valueAndSlope: (x: number) => readonly [value: number, slope: number],
): number {
  let [a, b] = [low, high];
  let x = start;
  for (let i = 0; i < STEPS; i++) {
    const [value, slope] = valueAndSlope(x);
    if (value > 0) a = x;
    else b = x;
    const newton = x - value / slope;
    const next = newton > a && newton < b ? newton : (a + b) / 2;
    if (Math.abs(next - x) <= CLOSE * Math.max(Math.abs(next), 1e-3)) return next;
    x = next;
  }
  return x;
}

/** Plate swing for a drive: Vp = I1(Vk, Vp) RL. I1 falls as Vp grows, so there is one. Leaves the averages there. */
function solveSwing(law: TriodeLaw, circuit: OperationCircuit, Vk: number, guessV: number): number {
  const { plateLoadOhm: RL } = circuit;
  evaluate(law, circuit, Vk, 0);
  const most = fundamentalA() * RL;
  let Vp = 0;
  if (most > 0) {
    Vp = fallingRoot(0, most, Math.min(guessV, most), (x) => {
      evaluate(law, circuit, Vk, x);
      const slope = -averages.cosAt(PLATE_BY_PLATE, 0) - averages.cosAt(PLATE_BY_PLATE, 2);
      return [RL * fundamentalA() - x, RL * slope - 1];
    });
  }
  evaluate(law, circuit, Vk, Vp);
  return Vp;
}

/** What a stage with this plate load does at a given peak drive voltage. */
export function operationAtDrive(
  law: TriodeLaw,
  circuit: OperationCircuit,
  drivePeakV: number,
): Operation {
  const Vp = solveSwing(law, circuit, drivePeakV, circuit.plateV);
  return operationAt(law, circuit, circuit.plateLoadOhm, drivePeakV, Vp);
}

function operationAt(
  law: TriodeLaw,
  at: OperationVoltages,
  plateLoadOhm: number,
  Vk: number,
  Vp: number,
): Operation {
  const { plateV: Vb, cathodeV: Vc } = at;
  const idleA = idleCurrentA(law, at);
  evaluate(law, at, Vk, Vp);
  const I0 = averages.plateDcA;
  const Ig = averages.cathodeDcA - I0;
  const I1 = fundamentalA();
  const K1 = -(averages.cathode[0] as number);
  const outputW = (I1 * Vp) / 2;
  const feedThroughW = (Vk * I1) / 2;
  // At no drive the ratio Vk / K1 is the slope of the cathode current.
  const slope = -averages.cosAt(CATHODE_BY_CATHODE, 0) - averages.cosAt(CATHODE_BY_CATHODE, 2);
  return {
    idleA,
    plateCurrentA: I0,
    gridCurrentA: Ig,
    driveW: (Vk * K1) / 2,
    outputW,
    feedThroughW,
    plateDissipationW: Vb * I0 + feedThroughW - outputW,
    gridDissipationW: (Vk * (K1 - I1)) / 2 - Vc * Ig,
    inputOhm: Vk > 0 ? Vk / K1 : 1 / slope,
    plateLoadOhm,
    drivePeakV: Vk,
    swingPeakV: Vp,
    plateFundamentalA: I1,
    lowestPlateV: Vb - Vp + Vk,
  };
}

/** The drive at which a stage with this plate load draws a given plate current, and what it then does. */
export function operationForPlateCurrent(
  law: TriodeLaw,
  circuit: OperationCircuit,
  plateCurrentA: number,
): OperationSearch {
  if (idleCurrentA(law, circuit) >= plateCurrentA) return tooMuchAtRest();
  const { plateLoadOhm: RL } = circuit;
  let Vp = circuit.plateV;
  const shortfall = (Vk: number): readonly [number, number] => {
    Vp = solveSwing(law, circuit, Vk, Vp);
    const byDrive = -averages.cosAt(PLATE_BY_CATHODE, 0) - averages.cosAt(PLATE_BY_CATHODE, 2);
    const bySwing = -averages.cosAt(PLATE_BY_PLATE, 0) - averages.cosAt(PLATE_BY_PLATE, 2);
    const swingByDrive = (RL * byDrive) / (1 - RL * bySwing);
    const slope =
      averages.cosAt(PLATE_BY_CATHODE, 1) + averages.cosAt(PLATE_BY_PLATE, 1) * swingByDrive;
    return [plateCurrentA - averages.plateDcA, -slope];
  };
  const high = bracket((Vk) => shortfall(Vk)[0]);
  if (high === null) return outOfReach();
  const Vk = fallingRoot(0, high, high * 0.75, shortfall);
  Vp = solveSwing(law, circuit, Vk, Vp);
  return { ok: true, operation: operationAt(law, circuit, RL, Vk, Vp) };
}

/**
 * The drive and plate load at which a stage draws a given plate current and gives a given output: for a column that
 * tells no plate load.
 */
export function operationForOutput(
  law: TriodeLaw,
  at: OperationVoltages,
  plateCurrentA: number,
  outputW: number,
): OperationSearch {
  if (idleCurrentA(law, at) >= plateCurrentA) return tooMuchAtRest();
  let Vp = at.plateV / 2;
  let Vk: number | null = null;
  // I1 is 1 to 2 times the mean current whatever the swing, so the swing for the output settles by repetition.
  for (let i = 0; i < STEPS; i++) {
    const shortfall = (drive: number): readonly [number, number] => {
      evaluate(law, at, drive, Vp);
      return [plateCurrentA - averages.plateDcA, -averages.cosAt(PLATE_BY_CATHODE, 1)];
    };
    const high = bracket((drive) => shortfall(drive)[0]);
    if (high === null) return outOfReach();
    Vk = fallingRoot(0, high, Vk ?? high * 0.75, shortfall);
    evaluate(law, at, Vk, Vp);
    const next = (2 * outputW) / fundamentalA();
    if (Math.abs(next - Vp) <= CLOSE * next) {
      return { ok: true, operation: operationAt(law, at, Vp / fundamentalA(), Vk, Vp) };
    }
    Vp = next;
  }
  return outOfReach();
}

/** A drive at which the shortfall is negative; null when none up to the largest is. */
function bracket(shortfall: (Vk: number) => number): number | null {
  for (let Vk = 20; Vk <= MOST_DRIVE_V; Vk *= 1.5) if (shortfall(Vk) < 0) return Vk;
  return null;
}

function tooMuchAtRest(): OperationSearch {
  return { ok: false, reason: "the tube draws more than this plate current without any drive" };
}

function outOfReach(): OperationSearch {
  return { ok: false, reason: "no drive brings the tube to this plate current and output" };
}
