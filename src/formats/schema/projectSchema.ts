/** The whole project file, version 1, and the proof that it has the shape of `Project`. */
import * as z from "zod/mini";
import { FAULT_NAMES } from "../../project/faults";
import { SENSOR_PARTS } from "../../project/faults/sensor";
import type { PartName } from "../../project/scenario";
import { SIGNAL_RANGES } from "../../project/signals";
import type { Project } from "../../project/types";
import { LONGEST_S } from "../problem";
import { anObject, flag, list, quantity, record, text, whole } from "./parts";
import {
  actuatorsSchema,
  monitorChangeSchema,
  monitorsSchema,
  sensorsSchema,
} from "./protectionSchema";
import { stationSchema } from "./stationSchema";

const PART_NAMES = [
  "exciter",
  "tube",
  "supply",
  "tuningCapacitor",
  "bandSwitch",
  "loadingCapacitor",
  "tank",
  "outputContact",
  "load",
  "protection",
  ...SENSOR_PARTS,
] as const satisfies readonly PartName[];

const atS = quantity("s", { min: 0, max: LONGEST_S });
const fault = z.enum(FAULT_NAMES);
const part = z.enum(PART_NAMES);

const onset = z.discriminatedUnion(
  "kind",
  [
    record({ kind: z.literal("sudden") }),
    record({
      kind: z.literal("growing"),
      overS: quantity("s", { min: 0, aboveMin: true, max: LONGEST_S }),
    }),
    record({
      kind: z.literal("intermittent"),
      share: quantity("", { min: 0, max: 1, aboveMin: true, belowMax: true }),
    }),
    record({
      kind: z.literal("passing"),
      forS: quantity("s", { min: 0, aboveMin: true, max: LONGEST_S }),
    }),
  ],
  anObject,
);

interface KeyDown {
  atS: number;
  do: "key";
  down: boolean;
}
interface KeyText {
  atS: number;
  do: "key";
  text: string;
  wordsPerMinute: number;
}

/** The two forms of `key` share their verb, so one record holds both and a check tells them apart. */
const keyRecord = record({
  atS,
  do: z.literal("key"),
  down: z.exactOptional(flag),
  text: z.exactOptional(text(2000)),
  wordsPerMinute: z.exactOptional(quantity("", { min: 1, max: 100 })),
}).check(
  z.check((payload) => {
    const { down, text: sent, wordsPerMinute } = payload.value;
    const missing = (name: string, expected: string) =>
      payload.issues.push({
        code: "custom",
        input: payload.value,
        params: { finding: "missing", name, expected },
      });
    if (sent === undefined && wordsPerMinute === undefined) {
      if (down === undefined) missing("down", 'true or false, or "text" with "wordsPerMinute"');
    } else if (down !== undefined) {
      payload.issues.push({
        code: "custom",
        input: payload.value,
        path: ["down"],
        params: { finding: "either" },
      });
    } else if (sent === undefined) missing("text", "a text in quotation marks");
    else if (wordsPerMinute === undefined) missing("wordsPerMinute", "a number");
  }),
);
const key = keyRecord as unknown as z.ZodMiniType<KeyDown | KeyText> &
  z.core.$ZodTypeDiscriminable<"do">;

const SIGNAL = { atS, do: z.literal("signal") } as const;
const talker = whole("", 0, 0xffff_ffff);

const signal = z.discriminatedUnion(
  "signal",
  [
    record({ ...SIGNAL, signal: z.literal("carrier") }),
    record({
      ...SIGNAL,
      signal: z.literal("twoTone"),
      spacingHz: quantity("Hz", SIGNAL_RANGES.spacingHz),
    }),
    record({ ...SIGNAL, signal: z.literal("speech"), talker }),
    record({
      ...SIGNAL,
      signal: z.literal("processedSpeech"),
      talker,
      processingDb: quantity("dB", SIGNAL_RANGES.processingDb),
    }),
    record({
      ...SIGNAL,
      signal: z.literal("data"),
      powerShare: quantity("", SIGNAL_RANGES.powerShare),
    }),
  ],
  anObject,
);

const entry = z.discriminatedUnion(
  "do",
  [
    record({
      atS,
      do: z.literal("set"),
      control: z.enum(["driveW", "tuningRatio", "loadingRatio", "loadSwr", "loadPhaseRad"]),
      // The range depends on the control; meaning.ts has it.
      value: quantity("", { min: -1e9, max: 1e9 }),
    }),
    key,
    signal,
    record({ atS, do: z.literal("operate") }),
    record({ atS, do: z.literal("standby") }),
    record({ atS, do: z.literal("power"), on: flag }),
    record({ atS, do: z.literal("interlock"), which: z.enum(["lid", "airflow"]), closed: flag }),
    record({ atS, do: z.literal("mode"), mode: z.enum(["operate", "tune"]) }),
    record({
      atS,
      do: z.literal("placeFault"),
      fault,
      part,
      severity: quantity("", { min: -1e9, max: 1e9 }),
      onset: z.exactOptional(onset),
    }),
    record({ atS, do: z.literal("removeFault"), fault, part }),
    record({ atS, do: z.literal("acknowledge") }),
    record({ atS, do: z.literal("clearTripMemory") }),
    record({ atS, do: z.literal("reset") }),
    record({
      atS,
      do: z.literal("configureMonitor"),
      monitor: text(60),
      change: monitorChangeSchema,
    }),
  ],
  anObject,
);

/** A stretch of a scenario. */
export const entriesSchema = list(entry);

export const projectSchema = record({
  format: z.literal("quietarc-project"),
  schemaVersion: z.literal(1),
  title: text(200),
  seed: whole("", 0, 0xffff_ffff),
  sampleNs: whole("ns", 1000, 1_000_000),
  endS: quantity("s", { min: 0, aboveMin: true, max: LONGEST_S }),
  operatorS: quantity("s", { min: 0, max: 60 }),
  station: stationSchema,
  sensors: sensorsSchema,
  monitors: monitorsSchema,
  actuators: actuatorsSchema,
  scenario: entriesSchema,
  accepted: list(record({ fault, part, band: z.exactOptional(text(60)), reason: text(500) })),
  notes: text(20_000),
});

type Frozen<T> = T extends readonly (infer Item)[]
  ? readonly Frozen<Item>[]
  : T extends object
    ? { readonly [Key in keyof T]: Frozen<T[Key]> }
    : T;
// Two types are the same when no condition can tell them apart; assignability would overlook optional members.
type Same<A, B> =
  (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;

/** Fails to compile when schema and types drift apart, in either direction. */
export const SCHEMA_AGREES: Same<Frozen<z.infer<typeof projectSchema>>, Frozen<Project>> = true;
