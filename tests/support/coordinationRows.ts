/**
 * The README's table of coordination: every stress of the demonstration station at the worst point of its sheet, with the monitors that
 * act. QUIETARC_WRITE_README=1 set for tests/study/coordinationTable.test.ts writes it anew between its two markers.
 */
import { log10, powerOfTen } from "../../src/math/elementary";
import { defaultProject } from "../../src/project/defaults";
import {
  Coordination,
  SheetBuilder,
  type StressPoint,
} from "../../src/study/coordination/coordinate";
import {
  compareMargins,
  DEFAULT_REQUIREMENT,
  type SchemeMargin,
  schemeMargin,
  worstPoint,
} from "../../src/study/coordination/margins";
import {
  arcIndexOf,
  judgedRange,
  ownMaintainingV,
  STRESS,
  STRESS_NAMES,
  type StressName,
} from "../../src/study/coordination/stress";
import {
  damageWords,
  marginWords,
  STRESS_WORDS,
  sizeWords,
  timeOr,
} from "../../src/ui/screens/coordination/words";
import { formatRatio, formatTime } from "../../src/units/format";
import { parseQuantity } from "../../src/units/parseQuantity";

const HEADER = [
  "| stress | worst at | first to clear | cleared | first damage, nobody acting | margin |",
  "|---|---|---|---:|---|---|",
];

const MOST = 1000;
/** Of a figure's last place. */
const ROUNDING = 1e-6;

const project = defaultProject();
const { monitors, station } = project;
const chosen = monitors.map((m) => m.role === "acting");

interface WorstPoint {
  readonly stress: StressName;
  readonly point: StressPoint;
  readonly margin: SchemeMargin;
}

function coordinationOf(): Coordination {
  const made = Coordination.of(project);
  if (!made.ok) throw new Error(made.problem);
  return made.coordination;
}

function pointOf(coordination: Coordination, stress: StressName, x: number): WorstPoint {
  const point = coordination.pointAt(stress, x);
  return { stress, point, margin: schemeMargin(point, chosen, DEFAULT_REQUIREMENT) };
}

/** To the three figures that are written, on the milder side: a step at the worst size, where a quicker monitor begins, stays ahead. */
function milder(x: number, stress: StressName): number {
  const step = powerOfTen(Math.floor(log10(x)) - 2);
  const steps = STRESS[stress].isWorseBelow
    ? Math.ceil(x / step - ROUNDING)
    : Math.floor(x / step + ROUNDING);
  return Number((steps * step).toPrecision(3));
}

/** The worst size of a stress; a row is worked out at what it says. */
function worstX(coordination: Coordination, stress: StressName): number {
  const ends = judgedRange(stress, station);
  const place = arcIndexOf(stress);
  const wanted = place < 0 ? ends : [...ends, ownMaintainingV(station, place)];
  const builder = new SheetBuilder(coordination, stress, wanted);
  while (builder.left > 0) builder.step();
  const sheet = builder.sheet();
  const at = worstPoint(sheet, ends, chosen, DEFAULT_REQUIREMENT);
  return milder(sheet.points[at]?.x ?? Number.NaN, stress);
}

function row({ stress, point, margin }: WorstPoint): string {
  const { hurt, first, clearS, marginEarly } = margin;
  const early =
    marginEarly === null || hurt?.milestone !== "onset"
      ? ""
      : `, early estimate ${ratio(marginEarly)}`;
  const name = monitors[first]?.name ?? "nobody";
  const cells = [
    STRESS_WORDS[stress].name,
    sizeWords(stress, point.x),
    name,
    clearS === null ? "–" : formatTime(clearS.nominal),
    hurt === null ? "none" : `${damageWords(hurt)} after ${timeOr(hurt.nominalS, "")}`,
    margin.margin === null ? marginWords(margin) : `${ratio(margin.margin)}${early}`,
  ];
  return `| ${cells.join(" | ")} |`.replaceAll("\u00a0", " ");
}

function ratio(margin: number): string {
  return margin > MOST ? `over ${MOST}×` : formatRatio(margin);
}

/** The table as Markdown, worst first. Some ten seconds. */
export function coordinationTable(): string {
  const coordination = coordinationOf();
  const rows = STRESS_NAMES.map((s) => pointOf(coordination, s, worstX(coordination, s)));
  rows.sort((a, b) => compareMargins(a.margin, b.margin));
  return [...HEADER, ...rows.map(row)].join("\n");
}

/** The rows of a written table, each worked out anew at the size it names; the search for the worst is not repeated. */
export function recomputed(table: string): string {
  const coordination = coordinationOf();
  const written = table.split("\n").slice(HEADER.length);
  const rows = written.map((line) => {
    const [, name = "", size = ""] = line.split("|").map((cell) => cell.trim());
    const stress = STRESS_NAMES.find((s) => STRESS_WORDS[s].name === name);
    if (stress === undefined) throw new Error(`no stress ${name}`);
    const read = parseQuantity(size.replace(/^VSWR /, ""), STRESS[stress].unit);
    if (!read.ok) throw new Error(`${name}: ${read.problem}`);
    return row(pointOf(coordination, stress, read.value));
  });
  return [...HEADER, ...rows].join("\n");
}
