/**
 * What differs from one unit of a station to the next, and from one day to the next: each input a named distribution with
 * its standing. The draws of a case depend on the seed and the case's number alone; an input is drawn even where its
 * distribution has one value only, so that fixing one changes none of the others.
 *
 * Distributions are given by the inverse of their sum: uniform, uniform in the logarithm, triangular, or one value. What has
 * limits is drawn between them; a bell without ends would put parts into a station that nobody would accept.
 * Draws come from the seeded generator of `math/random`, not from a low-discrepancy sequence.
 */
import { exp, ln } from "../../math/elementary";
import { RandomStream } from "../../math/random";
import type { SensorName } from "../../project/protection";
import type { Project } from "../../project/types";
import { sobolRunsPerRow } from "../statistics/sobolIndices";
import type { Plain } from "./trial";

export type Distribution =
  | { readonly kind: "fixed"; readonly value: number }
  | { readonly kind: "uniform"; readonly low: number; readonly high: number }
  | { readonly kind: "logUniform"; readonly low: number; readonly high: number }
  | {
      readonly kind: "triangular";
      readonly low: number;
      readonly mode: number;
      readonly high: number;
    };

export type Standing = "estimate" | "common practice";

export interface ToleranceInput {
  readonly name: string;
  /** In words, with what it counts from. */
  readonly what: string;
  /** SI unit, "" for a plain ratio. */
  readonly unit: string;
  readonly standing: Standing;
  readonly why: string;
  readonly usual: Distribution;
}

const uniform = (low: number, high: number): Distribution => ({ kind: "uniform", low, high });
const about = (mode: number, half: number): Distribution => ({
  kind: "triangular",
  low: mode - half,
  mode,
  high: mode + half,
});

/** Sensors whose errors are drawn, with the largest gain error of each. */
export const DRAWN_SENSORS: readonly (readonly [SensorName, number])[] = [
  ["driveForwardW", 0.05],
  ["outputForwardW", 0.05],
  ["outputReflectedW", 0.05],
  ["plateCurrentA", 0.01],
  ["gridCurrentA", 0.01],
  ["plateV", 0.01],
  ["plateRfPeakV", 0.03],
];

/** Actuators whose delay is drawn, within the spread the project gives it. */
const DRAWN_ACTUATORS = ["driveInhibit", "cathodeCutoff", "transmitReceive", "contactor"] as const;

const COUPLER_WHY = "5 % is what power meters of this kind are sold with";
const METER_WHY = "class of an ordinary shunt or divider";

/** All inputs of a project's units, in the order in which they are drawn. */
function toleranceInputs({ actuators }: Project): readonly ToleranceInput[] {
  const estimate = (
    name: string,
    what: string,
    unit: string,
    why: string,
    usual: Distribution,
  ): ToleranceInput => ({ name, what, unit, standing: "estimate", why, usual });
  return [
    estimate(
      "tuningError",
      "tuning after tune-up, of the adjustable part",
      "",
      "a dip is read to 1 to 2 %",
      about(0, 0.02),
    ),
    estimate(
      "loadingError",
      "loading capacitance after tune-up",
      "",
      "the dip hides it more",
      about(0, 0.05),
    ),
    estimate("coilInductance", "tank coil, tuned out", "", "wound by hand", uniform(-0.03, 0.03)),
    estimate(
      "coilQ",
      "Q of the tank coil",
      "",
      "plating, oxide, nearness of the wall",
      uniform(-0.15, 0.15),
    ),
    estimate(
      "plateThickness",
      "thickness of the capacitor's plates",
      "",
      "rolled sheet",
      uniform(-0.05, 0.05),
    ),
    estimate(
      "perveance",
      "perveance of new tubes",
      "",
      "samples of one type differ by more than a data sheet says",
      about(0, 0.12),
    ),
    estimate("mu", "amplification factor", "", "wound grids", about(0, 0.06)),
    estimate(
      "divisionRatio",
      "plate to grid division of the current",
      "",
      "grid alignment",
      about(0, 0.2),
    ),
    estimate(
      "ageing",
      "perveance lost with age",
      "",
      "30 % is the end of a tube's life",
      uniform(0, 0.3),
    ),
    estimate(
      "mains",
      "line voltage, of its usual value",
      "",
      "the limits are those of EN 50160, 4.2.2 (clause from memory); how it lies between them is a guess",
      about(0, 0.1),
    ),
    estimate(
      "altitude",
      "altitude of the site",
      "m",
      "from the shore to a mountain hut",
      uniform(0, 2000),
    ),
    estimate("air", "temperature of the room", "K", "0 to 40 °C", uniform(273.15, 313.15)),
    estimate("cabinetRise", "cabinet over the room", "K", "plates at 280 to 340 K", uniform(7, 27)),
    ...DRAWN_SENSORS.flatMap(([sensor, error]): ToleranceInput[] => [
      {
        name: `gain.${sensor}`,
        what: "gain error of the sensor",
        unit: "",
        standing: "common practice",
        why: error === 0.05 ? COUPLER_WHY : METER_WHY,
        usual: uniform(-error, error),
      },
      estimate(
        `offset.${sensor}`,
        "offset of the sensor, of full scale",
        "",
        "drift of the zero",
        uniform(-0.002, 0.002),
      ),
    ]),
    ...DRAWN_ACTUATORS.map((actuator): ToleranceInput => {
      const { earliestRatio, latestRatio } = actuators[actuator];
      const usual = uniform(earliestRatio, latestRatio);
      return estimate(`delay.${actuator}`, "delay over the one set", "", "the spread set", usual);
    }),
    estimate(
      "scanPhase",
      "instant of the fault within the longest scan",
      "",
      "nothing ties a fault to a scan",
      uniform(0, 1),
    ),
    estimate(
      "noise",
      "seed of the sensors' noise",
      "",
      "no two runs hear the same noise",
      uniform(0, 1),
    ),
    estimate(
      "spotDensity",
      "current density under the arc",
      "A/m2",
      "2 to 10 A/mm²; nobody has measured it",
      { kind: "logUniform", low: 2e6, high: 10e6 },
    ),
    estimate(
      "electrodeShare",
      "arc power that one electrode takes",
      "",
      "0.25 to 0.45",
      uniform(0.25, 0.45),
    ),
    {
      name: "maintaining",
      what: "voltage an arc keeps, over the part's own",
      unit: "",
      standing: "common practice",
      why: "150 to 400 V at the tuning capacitor",
      usual: { kind: "logUniform", low: 0.6, high: 1.6 },
    },
  ];
}

/** Number whose share `u` of the distribution lies below it. */
export function inverse(d: Distribution, u: number): number {
  switch (d.kind) {
    case "fixed":
      return d.value;
    case "uniform":
      return d.low + (d.high - d.low) * u;
    case "logUniform":
      return d.low * exp(u * ln(d.high / d.low));
    case "triangular": {
      const { low, mode, high } = d;
      const width = high - low;
      if (!(width > 0)) return mode;
      return u * width < mode - low
        ? low + Math.sqrt(u * width * (mode - low))
        : high - Math.sqrt((1 - u) * width * (high - mode));
    }
  }
}

/** The inputs of one case: values in the order of `inputs`. */
export function drawCase(inputs: readonly ToleranceInput[], seed: number, index: number): number[] {
  const stream = new RandomStream(seed, index);
  return inputs.map(({ usual }) => inverse(usual, stream.uniform()));
}

/** Places of the inputs that have more than one value. */
export function varyingInputs(inputs: readonly ToleranceInput[]): readonly number[] {
  return inputs.flatMap(({ usual }, i) =>
    usual.kind === "fixed" || usual.low === usual.high ? [] : [i],
  );
}

/**
 * The same for a study of Sobol indices: cases come in rows of A, B, and A with one varying input after the other from B.
 */
export function drawSobolCase(
  inputs: readonly ToleranceInput[],
  seed: number,
  index: number,
): number[] {
  const varying = varyingInputs(inputs);
  const runs = sobolRunsPerRow(varying.length);
  const slot = index % runs;
  const stream = new RandomStream(seed, Math.floor(index / runs));
  const a = inputs.map(() => stream.uniform());
  const b = inputs.map(() => stream.uniform());
  const fromB = slot < 2 ? -1 : (varying[slot - 2] as number);
  return inputs.map(({ usual }, i) =>
    inverse(usual, (slot === 1 || i === fromB ? b[i] : a[i]) as number),
  );
}

/** Reads the value of an input out of a case's draws. */
export function drawnBy(
  inputs: readonly ToleranceInput[],
  values: readonly number[],
): (name: string) => number {
  let at = 0;
  return (name) => {
    // asked for in their own order, mostly
    for (let k = 0; k < inputs.length; k++, at = (at + 1) % inputs.length) {
      if ((inputs[at] as ToleranceInput).name === name) return values[at] as number;
    }
    throw new Error(`invalid name: ${name}`);
  };
}

export type InputsRead =
  | { readonly ok: true; readonly inputs: readonly ToleranceInput[] }
  | { readonly ok: false; readonly problem: string };

/** Lays `options.inputs` over the usual distributions: by name, a distribution or one number. */
export function overriddenInputs(project: Project, given: Plain): InputsRead {
  const usual = toleranceInputs(project);
  if (typeof given !== "object" || given === null || Array.isArray(given))
    return { ok: false, problem: "options.inputs has to be an object of distributions by name" };
  const problems: string[] = [];
  const changed = new Map<string, Distribution>();
  for (const [name, value] of Object.entries(given as Readonly<Record<string, Plain>>)) {
    const known = usual.some((input) => input.name === name);
    const distribution = known ? readDistribution(value) : null;
    if (!known)
      problems.push(`there is no input ${name}; there are ${usual.map((i) => i.name).join(", ")}`);
    else if (distribution === null)
      problems.push(
        `options.inputs.${name} has to be a number, or kind uniform or logUniform with low and high, or kind triangular with low, mode and high`,
      );
    else changed.set(name, distribution);
  }
  if (problems.length > 0) return { ok: false, problem: problems.join("; ") };
  const inputs = usual.map((input) => ({
    ...input,
    usual: changed.get(input.name) ?? input.usual,
  }));
  return { ok: true, inputs };
}

function readDistribution(value: Plain): Distribution | null {
  if (typeof value === "number") return Number.isFinite(value) ? { kind: "fixed", value } : null;
  if (typeof value !== "object" || value === null || Array.isArray(value)) return null;
  const { kind, value: only, low, mode, high } = value as Readonly<Record<string, Plain>>;
  if (kind === "fixed") return typeof only === "number" ? readDistribution(only) : null;
  if (!isNumber(low) || !isNumber(high) || low > high) return null;
  if (kind === "uniform") return { kind, low, high };
  if (kind === "logUniform") return low > 0 ? { kind, low, high } : null;
  if (kind === "triangular")
    return isNumber(mode) && mode >= low && mode <= high ? { kind, low, mode, high } : null;
  return null;
}

function isNumber(value: Plain | undefined): value is number {
  return typeof value === "number" && Number.isFinite(value);
}
