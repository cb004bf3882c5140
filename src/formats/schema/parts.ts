/**
 * The building blocks of the project schema: numbers with unit and range, words, records.
 *
 * A schema's own message carries the expectation ("a number of volts", the known names of a record) to
 * `explain.ts`, which writes the sentence. Nothing here may probe `eval`: the page's security policy forbids it,
 * so the code-generating path is switched off before the first schema is made.
 */
import * as z from "zod/mini";

z.config({ jitless: true });

/** Rides on a custom issue. */
export interface RangeParams {
  readonly finding: "range";
  readonly min: number;
  readonly max: number;
  readonly aboveMin: boolean;
  readonly belowMax: boolean;
  readonly unit: string;
}

export interface NumberRange {
  readonly min: number;
  readonly max: number;
  /** The least value itself is not allowed. */
  readonly aboveMin?: boolean;
  readonly belowMax?: boolean;
}

const UNIT_WORDS: Readonly<Record<string, string>> = {
  V: "volts",
  A: "amperes",
  W: "watts",
  ohm: "ohms",
  S: "siemens",
  F: "farads",
  H: "henries",
  Hz: "hertz",
  s: "seconds",
  ns: "nanoseconds",
  m: "metres",
  K: "kelvins",
  dB: "decibels",
  rad: "radians",
};

/** What a schema accepts, for whoever explains it: the checks themselves cannot be asked. */
export type Facts =
  | { readonly kind: "number"; readonly whole: boolean; readonly range: RangeParams }
  | { readonly kind: "text"; readonly most: number };

const FACTS = new WeakMap<object, Facts>();

/** The facts of a schema made here; null for any other. */
export function factsOf(schema: object): Facts | null {
  return FACTS.get(schema) ?? null;
}

/** A finite number with its unit ("" for a plain ratio) inside a range. */
export function quantity(unit: string, range: NumberRange) {
  const { min, max, aboveMin = false, belowMax = false } = range;
  const words = UNIT_WORDS[unit];
  const params: RangeParams = { finding: "range", min, max, aboveMin, belowMax, unit };
  const schema = z
    .number({ error: () => (words === undefined ? "a number" : `a number of ${words}`) })
    .check(
      z.check<number>((payload) => {
        const { value } = payload;
        const inside =
          (aboveMin ? value > min : value >= min) && (belowMax ? value < max : value <= max);
        if (!inside) payload.issues.push({ code: "custom", input: value, params: { ...params } });
      }),
    );
  FACTS.set(schema, { kind: "number", whole: false, range: params });
  return schema;
}

/** A whole number inside a range. */
export function whole(unit: string, min: number, max: number) {
  const range: RangeParams = {
    finding: "range",
    min,
    max,
    aboveMin: false,
    belowMax: false,
    unit,
  };
  const schema = quantity(unit, { min, max }).check(
    z.check<number>((payload) => {
      if (!Number.isSafeInteger(payload.value) && payload.value >= min && payload.value <= max) {
        payload.issues.push({
          code: "custom",
          input: payload.value,
          params: { finding: "notWhole" },
        });
      }
    }),
  );
  FACTS.set(schema, { kind: "number", whole: true, range });
  return schema;
}

/** Text of at most so many characters. */
export function text(most: number) {
  const schema = z.string({ error: () => "a text in quotation marks" }).check(
    z.check<string>((payload) => {
      if (payload.value.length > most) {
        payload.issues.push({
          code: "custom",
          input: payload.value,
          params: { finding: "length", most },
        });
      }
    }),
  );
  FACTS.set(schema, { kind: "text", most });
  return schema;
}

export const flag = z.boolean({ error: () => "true or false" });

/** Exactly these keys; an unknown one is refused with the known ones at hand. */
export function record<Shape extends z.core.$ZodLooseShape>(shape: Shape) {
  const known = Object.keys(shape).join(" ");
  return z.strictObject(shape, {
    error: (issue) => (issue.code === "unrecognized_keys" ? known : "an object in { }"),
  });
}

/** What to say where a record of several kinds holds no object at all. */
export const anObject = { error: () => "an object in { }" } as const;

/** A list; how long it may be is looked at before the schema, in `rawChecks.ts`. */
export function list<Item extends z.core.SomeType>(item: Item) {
  return z.array(item, { error: () => "a list in [ ]" });
}

/** A share of a whole, ends included. */
export const share = quantity("", { min: 0, max: 1 });

/** A duration from zero to an hour. */
export const durationS = quantity("s", { min: 0, max: 3600 });
