/**
 * The form of a station: its fields as a tree, taken from the file's schema, so that a new field of a station appears by
 * itself with its range and meaning; a line of `fieldLabels.ts` gives it a better name and a handier unit.
 */
import { FIELD_NOTES } from "../../../formats/fieldNotes";
import { factsOf, type RangeParams } from "../../../formats/schema/parts";
import { stationSchema } from "../../../formats/schema/stationSchema";
import type { Station } from "../../../project/station";
import { type FieldPath, valueAt } from "../../../state/stationKinds";
import {
  CHOICE_WORDS,
  FIELD_LABELS,
  type FieldLabel,
  GROUP_TITLES,
  plainWords,
  SECTION_TITLES,
} from "./fieldLabels";
import { type Scale, scaleOf } from "./scales";

interface Common {
  readonly path: FieldPath;
  readonly label: string;
  /** What it means, from the table of fields. */
  readonly meaning: string;
}

export interface NumberItem extends Common {
  readonly kind: "number";
  /** Not a number where an optional one is left out. */
  readonly value: number;
  readonly optional: boolean;
  readonly whole: boolean;
  readonly range: RangeParams;
  readonly scale: Scale;
}

export interface TextItem extends Common {
  readonly kind: "text";
  readonly value: string;
  readonly most: number;
}

export interface ChoiceItem extends Common {
  readonly kind: "choice";
  /** A choice of a kind changes the fields beside it; a flag is yes or no. */
  readonly of: "word" | "kind" | "flag";
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly word: string }[];
}

export interface GroupItem extends Common {
  readonly kind: "group";
  readonly items: readonly FormItem[];
}

export interface ListItem extends Common {
  readonly kind: "list";
  readonly entries: readonly { readonly name: string; readonly items: readonly FormItem[] }[];
}

export type FormItem = NumberItem | TextItem | ChoiceItem | GroupItem | ListItem;

export interface FormSection {
  readonly name: string;
  readonly title: string;
  readonly items: readonly FormItem[];
}

/** What the walk needs to know of a schema, whatever library made it. */
interface Shape {
  readonly _zod: {
    readonly def: {
      readonly type: string;
      readonly shape?: Readonly<Record<string, Shape>>;
      readonly options?: readonly Shape[];
      readonly innerType?: Shape;
      readonly element?: Shape;
      readonly values?: readonly unknown[];
      readonly entries?: Readonly<Record<string, string>>;
    };
  };
}

/** Every section of the form with what stands in it now. */
export function formOf(station: Station): readonly FormSection[] {
  const shape = (stationSchema as unknown as Shape)._zod.def.shape ?? {};
  const known = Object.keys(SECTION_TITLES).filter((name) => name in shape);
  const names = [...known, ...Object.keys(shape).filter((name) => !known.includes(name))];
  return names.flatMap((name) => {
    const member = shape[name] as Shape;
    const value = valueAt(station, [name]);
    if (value === undefined) return []; // what a station may leave out, and does
    const item = itemOf(member, station, [name], "");
    if (item === null) return [];
    const title = SECTION_TITLES[name] ?? plainWords(name);
    return [{ name, title, items: item.kind === "group" ? item.items : [item] }];
  });
}

function itemOf(
  schema: Shape,
  station: Station,
  path: FieldPath,
  section: string,
): FormItem | null {
  const { type, innerType, element, shape, options, entries } = schema._zod.def;
  const value = valueAt(station, path);
  const common = { path, label: labelOf(path)[0], meaning: meaningOf(path, section) };
  const facts = factsOf(schema);
  if (facts?.kind === "number") {
    const { whole, range } = facts;
    const scale = scaleOf(unitOf(path, range.unit));
    return {
      ...common,
      kind: "number",
      value: Number(value ?? Number.NaN),
      optional: false,
      whole,
      range,
      scale,
    };
  }
  if (facts?.kind === "text") {
    return { ...common, kind: "text", value: String(value), most: facts.most };
  }
  if (innerType !== undefined) {
    if (value === undefined && factsOf(innerType)?.kind !== "number") return null;
    const item = itemOf(innerType, station, path, section);
    return item?.kind === "number" ? { ...item, optional: true } : item;
  }
  if (type === "enum") {
    const words = Object.values(entries ?? {});
    return {
      ...common,
      kind: "choice",
      of: "word",
      value: String(value),
      options: optionsOf(words),
    };
  }
  if (type === "boolean") {
    return { ...common, kind: "choice", of: "flag", value: String(value), options: FLAG };
  }
  if (type === "array" && element !== undefined && Array.isArray(value)) {
    const own = `station.${placeOf(path)}[]`;
    const list = value.map((entry: { readonly name?: string }, k) => {
      const item = itemOf(element, station, [...path, k], own);
      return { name: String(entry.name ?? k + 1), items: item?.kind === "group" ? item.items : [] };
    });
    return { ...common, kind: "list", entries: list };
  }
  if (shape !== undefined) {
    const own = `station.${placeOf(path)}`;
    const named = section.startsWith(own) ? section : own;
    const items = Object.entries(shape).flatMap(([name, member]) => {
      const item = itemOf(member, station, [...path, name], named);
      return item === null || isFixed(member) ? [] : [item];
    });
    // parts of a part after its own fields
    const isInner = (item: FormItem): number =>
      item.kind === "group" || item.kind === "list" ? 1 : 0;
    items.sort((a, b) => isInner(a) - isInner(b));
    return { ...common, kind: "group", items };
  }
  if (type === "union") return unionOf(options ?? [], station, path, common);
  return null;
}

/** A choice of kinds and the fields of the one that is chosen. */
function unionOf(
  options: readonly Shape[],
  station: Station,
  path: FieldPath,
  common: Common,
): GroupItem {
  const kinds = options.flatMap((option) => {
    const kind = option._zod.def.shape?.kind?._zod.def.values?.[0];
    return typeof kind === "string" ? [{ kind, option }] : [];
  });
  const current = String(valueAt(station, [...path, "kind"]));
  const chosen = kinds.find(({ kind }) => kind === current);
  const section = `station.${placeOf(path)}, "kind": "${current}"`;
  const group = chosen === undefined ? null : itemOf(chosen.option, station, path, section);
  const items = group?.kind === "group" ? group.items : [];
  if (kinds.length < 2 || placeOf(path) === "tube") return { ...common, kind: "group", items };
  const choice: ChoiceItem = {
    ...common,
    label: "Kind",
    kind: "choice",
    of: "kind",
    value: current,
    options: optionsOf(kinds.map(({ kind }) => kind)),
  };
  return { ...common, kind: "group", items: [choice, ...items] };
}

function optionsOf(words: readonly string[]) {
  return words.map((value) => ({ value, word: CHOICE_WORDS[value] ?? plainWords(value) }));
}

const FLAG = [
  { value: "true", word: "yes" },
  { value: "false", word: "no" },
] as const;

/** A word that says the kind, which the choice already does. */
function isFixed(schema: Shape): boolean {
  return schema._zod.def.type === "literal";
}

/** A path without the numbers of list entries. */
export function placeOf(path: FieldPath): string {
  return path.filter((step) => typeof step === "string").join(".");
}

function entryOf(path: FieldPath): FieldLabel | undefined {
  const name = String(path.at(-1));
  return (
    FIELD_LABELS[placeOf(path)] ??
    (Object.hasOwn(FIELD_LABELS, name) ? FIELD_LABELS[name] : undefined)
  );
}

function labelOf(path: FieldPath): FieldLabel {
  const name = String(path.at(-1));
  return entryOf(path) ?? [GROUP_TITLES[placeOf(path)] ?? plainWords(name), ""];
}

const UNIT_SIGNS: Readonly<Record<string, string>> = {
  ohm: "Ω",
  K: "°C",
  rad: "°",
  A2s: "A²s",
  "m3/s": "m³/s",
};

function unitOf(path: FieldPath, schemaUnit: string): string {
  return entryOf(path)?.[1] ?? UNIT_SIGNS[schemaUnit] ?? schemaUnit;
}

function meaningOf(path: FieldPath, section: string): string {
  const name = String(path.at(-1));
  const place = section === "" ? "station" : section;
  const own = FIELD_NOTES[place]?.[name] ?? FIELD_NOTES[place.replace(/, "kind".*/, "")]?.[name];
  if (own === undefined) return sharedMeaning(path, name);
  return typeof own === "string" ? own : own[1];
}

/** Parts of one shape share their notes under the first of them. */
const SHARED: Readonly<Record<string, string>> = {
  loadingCapacitor: "station.tuningCapacitor",
  outputContact: "station.bandSwitch",
  erosion: "station.erosion.nominal",
};

function sharedMeaning(path: FieldPath, name: string): string {
  const note = FIELD_NOTES[SHARED[String(path[0])] ?? ""]?.[name];
  return note === undefined ? "" : typeof note === "string" ? note : note[1];
}
