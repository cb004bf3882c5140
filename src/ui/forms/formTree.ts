/**
 * Plain data as a form: its fields as a tree, taken from the file's schema, so that a new field appears by itself with its
 * range and meaning. Labels, handier units and the words of choices come from whoever shows the form.
 */
import { FIELD_NOTES } from "../../formats/fieldNotes";
import { factsOf, type RangeParams } from "../../formats/schema/parts";
import type { SchemaShape as Shape } from "../../formats/schema/schemaShape";
import { type FieldPath, valueAt } from "../../state/stationKinds";
import { type Scale, scaleOf } from "./scales";

export type FieldLabel = readonly [label: string, unit: string];

/** What the one who shows a form says of its fields. */
export interface FormWords {
  /** By name in the file, or by place (`tank.bands.name`) where one name serves several. */
  readonly labels: Readonly<Record<string, FieldLabel>>;
  /** Headings of parts inside a section, by place. */
  readonly groups: Readonly<Record<string, string>>;
  /** Words of the file's own words. */
  readonly choices: Readonly<Record<string, string>>;
  /** Where the root stands in the table of fields; empty for the project itself. */
  readonly rootPlace: string;
  /** Places whose kind is chosen elsewhere. */
  readonly fixedKinds: readonly string[];
  /** The section of the table of fields whose notes a place shares; empty for none. */
  readonly sharedNotes: (path: FieldPath) => string;
  /** Unit of a field that depends on its neighbours. */
  readonly unitOf?: (path: FieldPath, root: unknown) => string | undefined;
  /** What a value that may stand is not good for, with a remedy; empty where there is nothing to say. */
  readonly warningOf?: (path: FieldPath, root: unknown) => string;
}

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
  /** What stands for it then. */
  readonly leftOut: null | undefined;
  readonly whole: boolean;
  readonly range: RangeParams;
  readonly scale: Scale;
  /** What the value is not good for, though it may stand; empty for most. */
  readonly warning: string;
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

/** The fields of what stands at a path of `root`, whose schema is given; null where there is nothing to show. */
export function formTree(
  schema: object,
  root: unknown,
  path: FieldPath,
  words: FormWords,
): FormItem | null {
  const at = path.reduce<Shape | undefined>(within, schema as Shape);
  return at === undefined ? null : new FormWalk(root, words).itemOf(at, path, "");
}

/** The fields of a part, without a frame round them; none where there is no such part. */
export function fieldsOf(
  schema: object,
  root: unknown,
  path: FieldPath,
  words: FormWords,
): readonly FormItem[] {
  const item = formTree(schema, root, path, words);
  if (item === null) return [];
  return item.kind === "group" ? item.items : [item];
}

function within(schema: Shape | undefined, step: string | number): Shape | undefined {
  if (schema === undefined) return undefined;
  const { shape, element, innerType } = schema._zod.def;
  if (innerType !== undefined) return within(innerType, step);
  return typeof step === "number" ? element : shape?.[step];
}

class FormWalk {
  constructor(
    private readonly root: unknown,
    private readonly words: FormWords,
  ) {}

  itemOf(schema: Shape, path: FieldPath, section: string): FormItem | null {
    const { type, innerType, element, shape, options, entries } = schema._zod.def;
    const value = valueAt(this.root, path);
    const common = { path, label: this.labelOf(path)[0], meaning: this.meaningOf(path, section) };
    const facts = factsOf(schema);
    if (facts?.kind === "number") {
      const { whole, range } = facts;
      return {
        ...common,
        kind: "number",
        value: Number(value ?? Number.NaN),
        optional: false,
        leftOut: undefined,
        whole,
        range,
        scale: scaleOf(this.unitOf(path, range.unit)),
        warning: this.words.warningOf?.(path, this.root) ?? "",
      };
    }
    if (facts?.kind === "text") {
      return { ...common, kind: "text", value: String(value), most: facts.most };
    }
    if (innerType !== undefined) {
      const isOut = value === undefined || value === null;
      if (isOut && factsOf(innerType)?.kind !== "number") return null;
      const item = this.itemOf(innerType, path, section);
      if (item?.kind !== "number") return item;
      return { ...item, optional: true, leftOut: type === "nullable" ? null : undefined };
    }
    if (type === "enum") {
      const choices = this.optionsOf(Object.values(entries ?? {}));
      return { ...common, kind: "choice", of: "word", value: String(value), options: choices };
    }
    if (type === "boolean") {
      return { ...common, kind: "choice", of: "flag", value: String(value), options: FLAG };
    }
    if (type === "array" && element !== undefined && Array.isArray(value)) {
      const list = value.map((entry: { readonly name?: string }, k) => {
        const item = this.itemOf(element, [...path, k], this.notesAt([...path, k]));
        const items = item?.kind === "group" ? item.items : [];
        return { name: String(entry.name ?? k + 1), items };
      });
      return { ...common, kind: "list", entries: list };
    }
    if (shape !== undefined) {
      const own = this.notesAt(path);
      const named = section.startsWith(own) ? section : own;
      const items = Object.entries(shape).flatMap(([name, member]) => {
        const item = this.itemOf(member, [...path, name], named);
        return item === null || isFixed(member) ? [] : [item];
      });
      // parts of a part after its own fields
      const isInner = (item: FormItem): number =>
        item.kind === "group" || item.kind === "list" ? 1 : 0;
      items.sort((a, b) => isInner(a) - isInner(b));
      return { ...common, kind: "group", items };
    }
    if (type === "union") return this.unionOf(options ?? [], path, common);
    return null;
  }

  /** A choice of kinds and the fields of the one that is chosen. */
  private unionOf(options: readonly Shape[], path: FieldPath, common: Common): GroupItem {
    const kinds = options.flatMap((option) => {
      const kind = option._zod.def.shape?.kind?._zod.def.values?.[0];
      return typeof kind === "string" ? [{ kind, option }] : [];
    });
    const current = String(valueAt(this.root, [...path, "kind"]));
    const chosen = kinds.find(({ kind }) => kind === current);
    const section = `${this.notesAt(path)}, "kind": "${current}"`;
    const group = chosen === undefined ? null : this.itemOf(chosen.option, path, section);
    const items = group?.kind === "group" ? group.items : [];
    if (kinds.length < 2 || this.words.fixedKinds.includes(placeOf(path))) {
      return { ...common, kind: "group", items };
    }
    const choice: ChoiceItem = {
      ...common,
      label: this.words.labels[`${placeOf(path)}.kind`]?.[0] ?? "Kind",
      kind: "choice",
      of: "kind",
      value: current,
      options: this.optionsOf(kinds.map(({ kind }) => kind)),
    };
    return { ...common, kind: "group", items: [choice, ...items] };
  }

  private optionsOf(words: readonly string[]) {
    return words.map((value) => ({
      value,
      word: this.words.choices[value] ?? plainWords(value),
    }));
  }

  private entryOf(path: FieldPath): FieldLabel | undefined {
    const { labels } = this.words;
    const name = String(path.at(-1));
    return labels[placeOf(path)] ?? (Object.hasOwn(labels, name) ? labels[name] : undefined);
  }

  private labelOf(path: FieldPath): FieldLabel {
    const title = this.words.groups[placeOf(path)] ?? plainWords(String(path.at(-1)));
    return this.entryOf(path) ?? [title, ""];
  }

  private unitOf(path: FieldPath, schemaUnit: string): string {
    const own = this.words.unitOf?.(path, this.root);
    return own ?? this.entryOf(path)?.[1] ?? UNIT_SIGNS[schemaUnit] ?? schemaUnit;
  }

  /** A path as the table of fields names its sections: `station.tank.bands[]`. */
  private notesAt(path: FieldPath): string {
    return path.reduce<string>(
      (place, step) =>
        typeof step === "number" ? `${place}[]` : place === "" ? step : `${place}.${step}`,
      this.words.rootPlace,
    );
  }

  private meaningOf(path: FieldPath, section: string): string {
    const name = String(path.at(-1));
    const place = section === "" ? this.words.rootPlace : section;
    const note =
      FIELD_NOTES[place]?.[name] ??
      FIELD_NOTES[place.replace(/, "kind".*/, "")]?.[name] ??
      FIELD_NOTES[this.words.sharedNotes(path)]?.[name] ??
      "";
    return typeof note === "string" ? note : note[1];
  }
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

const UNIT_SIGNS: Readonly<Record<string, string>> = {
  ohm: "Ω",
  K: "°C",
  rad: "°",
  A2s: "A²s",
  "m3/s": "m³/s",
};

/** A name nobody has labelled yet, as words: `edgeRadiusM` reads `Edge radius`. */
export function plainWords(name: string): string {
  const words = name
    .replace(/(Siemens|Rad|Hz|Ohm|Db|[VAWFHSMK])$/, "")
    .replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  return words.charAt(0).toUpperCase() + words.slice(1);
}
