/**
 * The project file's fields as a table to read: name, unit, default, what is allowed, meaning. Shape, units and ranges come
 * from the schema, defaults from what fills a file, so neither can drift; the meanings stand in `fieldNotes.ts`.
 */
import { defaultProject } from "../project/defaults";
import { FIELD_NOTES, FIELD_UNITS } from "./fieldNotes";
import { fillDefaults, isPlain } from "./fillDefaults";
import { factsOf, type RangeParams } from "./schema/parts";
import { projectSchema } from "./schema/projectSchema";
import type { SchemaShape as Shape } from "./schema/schemaShape";

export interface FieldRow {
  readonly name: string;
  readonly unit: string;
  /** `must be given`, or what stands where the file says nothing; one for each part of a shared section. */
  readonly usual: string;
  readonly allowed: string;
  readonly meaning: string;
}

/** The fields of one object, or of several of the same shape. */
export interface FieldSection {
  readonly title: string;
  readonly rows: readonly FieldRow[];
}

const MUST = "must be given";

/** All sections, from the project down to its entries. */
export function fieldSections(): readonly FieldSection[] {
  const sections: FieldSection[] = [];
  const seen = new Set<Shape>();

  /** A record under its title, its notes under its path; `usual` holds one object for each part that shares it. */
  const visit = (shape: Shape, title: string, path: string, usual: readonly unknown[]): void => {
    const { def } = shape._zod;
    if (def.type === "union") {
      const key = def.discriminator ?? "kind";
      for (const option of def.options ?? []) {
        const word = wordOf(option, key);
        const own = key === "kind" ? usualOfKind(path, word) : undefined;
        const outer = title.includes('": "') ? title : path;
        visit(option, `${outer}, "${key}": "${word}"`, path, [own]);
      }
      return;
    }
    if (seen.has(shape)) return;
    seen.add(shape);
    const rows: FieldRow[] = [];
    const below: [titles: string[], path: string, shape: Shape, usual: unknown[]][] = [];
    for (const [name, member] of Object.entries(def.shape ?? {})) {
      const values = usual.map((value) => (isPlain(value) ? value[name] : undefined));
      const memberPath = path === "" ? name : `${path}.${name}`;
      const { core, optional, list } = bare(member);
      const nested = core._zod.def.type === "object" || core._zod.def.type === "union";
      if (!nested || optional || list) {
        if (title.includes(`, "${name}": `)) continue; // the title says it
        const note = (FIELD_NOTES[title] ?? FIELD_NOTES[path])?.[name];
        rows.push(rowOf(name, core, { optional, list, nested }, values, note));
      }
      if (!nested) continue;
      const end = list ? "[]" : "";
      const next = list ? [usualItem(`${memberPath}[]`)] : values;
      const same = below.find((entry) => entry[2] === core);
      if (same === undefined) below.push([[memberPath + end], memberPath + end, core, next]);
      else {
        same[0].push(memberPath + end);
        same[3].push(...next);
      }
    }
    sections.push({ title, rows });
    for (const [titles, memberPath, core, next] of below) {
      visit(core, titles.join(", "), memberPath, next);
    }
  };

  visit(projectSchema as unknown as Shape, "project", "", [defaultProject()]);
  return sections.filter((section) => section.rows.length > 0);
}

/** The word that chooses this option; an option may be a choice of its own. */
function wordOf(option: Shape, key: string): string {
  const { shape, options } = option._zod.def;
  const inner = options?.[0];
  return inner === undefined ? String(shape?.[key]?._zod.def.values?.[0]) : wordOf(inner, key);
}

/** A schema without the wrappers round it. */
function bare(schema: Shape): { core: Shape; optional: boolean; list: boolean } {
  let core = schema;
  let optional = false;
  let list = false;
  for (;;) {
    const { type, innerType, element } = core._zod.def;
    if ((type === "optional" || type === "nullable") && innerType !== undefined) {
      optional = true;
      core = innerType;
    } else if (type === "array" && element !== undefined) {
      list = true;
      core = element;
    } else return { core, optional, list };
  }
}

function rowOf(
  name: string,
  core: Shape,
  form: { readonly optional: boolean; readonly list: boolean; readonly nested: boolean },
  values: readonly unknown[],
  note: FieldNote | undefined,
): FieldRow {
  const [usual, meaning] = typeof note === "string" ? [undefined, note] : [note?.[0], note?.[1]];
  const shown = values.map((value) => shownValue(value, form.optional));
  const alike = shown.every((text) => text === shown[0]);
  const { unit, allowed } = unitAndRange(core);
  return {
    name,
    unit: form.list ? "list" : form.nested ? "object" : (FIELD_UNITS[name] ?? unit),
    usual: usual ?? (alike ? (shown[0] ?? MUST) : shown.join(" / ")),
    allowed: form.nested ? "" : allowed,
    meaning: meaning ?? "",
  };
}

type FieldNote = string | readonly [usual: string, meaning: string];

function shownValue(value: unknown, optional: boolean): string {
  if (value === undefined) return optional ? "absent" : MUST;
  if (Array.isArray(value)) return value.length === 0 ? "[ ]" : `${value.length} entries`;
  return typeof value === "number" ? figure(value) : JSON.stringify(value);
}

/** With a power of ten where the digits alone would have to be counted. */
function figure(value: number): string {
  const size = Math.abs(value);
  const plain = value === 0 || (size >= 1e-3 && size < 1e5);
  return plain ? String(value) : value.toExponential().replace("e+", "e");
}

function rangeText({ min, max, aboveMin, belowMax }: RangeParams): string {
  return `${aboveMin ? "over" : "from"} ${figure(min)} ${belowMax ? "to under" : "to"} ${figure(max)}`;
}

function unitAndRange(core: Shape): { unit: string; allowed: string } {
  const facts = factsOf(core);
  if (facts?.kind === "text") return { unit: "text", allowed: `up to ${facts.most} characters` };
  if (facts?.kind === "number") {
    const { unit } = facts.range;
    const words = rangeText(facts.range);
    return { unit: unit === "" ? "1" : unit, allowed: facts.whole ? `whole, ${words}` : words };
  }
  const { type, values, entries } = core._zod.def;
  if (type === "boolean") return { unit: "flag", allowed: "true, false" };
  const words = values ?? Object.values(entries ?? {});
  const numeric = words.every((word) => typeof word === "number");
  return { unit: numeric ? "1" : "word", allowed: words.join(", ") };
}

/** What fills an object of this kind that says nothing else; only the station has such. */
function usualOfKind(path: string, kind: string): unknown {
  const names = path.split(".");
  if (names[0] !== "station") return undefined;
  const given = names.reduceRight<object>((inner, name) => ({ [name]: inner }), { kind });
  return names.reduce<unknown>(
    (value, name) => (isPlain(value) ? value[name] : undefined),
    fillDefaults(given as Record<string, unknown>),
  );
}

/** What fills an entry of a list that says nothing. */
function usualItem(path: string): unknown {
  const { monitors } = fillDefaults({ monitors: [{ criteria: [{}] }] });
  const monitor = Array.isArray(monitors) ? monitors[0] : undefined;
  if (path === "monitors[]") return isPlain(monitor) ? { ...monitor, criteria: undefined } : {};
  if (path !== "monitors[].criteria[]" || !isPlain(monitor)) return undefined;
  return Array.isArray(monitor.criteria) ? monitor.criteria[0] : undefined;
}

const COLUMNS = ["name", "unit", "usual", "meaning", "allowed"] as const;
const HEADINGS: FieldRow = {
  name: "name",
  unit: "unit",
  usual: "default",
  allowed: "allowed",
  meaning: "meaning",
};

/** The table as text, one section after the other, columns in line. */
export function fieldTable(): string {
  const parts = fieldSections().map(({ title, rows }) => {
    const lines = [HEADINGS, ...rows];
    const widths = COLUMNS.map((column) => Math.max(...lines.map((row) => row[column].length)));
    const text = lines.map((row) =>
      COLUMNS.map((column, k) => row[column].padEnd(widths[k] as number))
        .join("  ")
        .trimEnd(),
    );
    return `${title}\n${text.map((line) => `  ${line}\n`).join("")}`;
  });
  return `${INTRODUCTION}\n${parts.join("\n")}`;
}

const INTRODUCTION = `A project file is one JSON object. What it leaves out has the default below, taken from the
demonstration station; all numbers are SI without prefixes, unit 1 is a plain number.
Where a section names several objects, defaults that differ stand in the same order.
`;
