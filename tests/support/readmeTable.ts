/**
 * The README's table of cases, computed. QUIETARC_WRITE_README=1 set for tests/simulation/tableOfCases.test.ts writes it
 * anew between its two markers.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { CASES, type CaseFigures, caseFigures } from "./cases";
import { ROOT } from "./root";

const BEGIN = "<!-- cases:begin -->";
const END = "<!-- cases:end -->";
const FILE = resolve(ROOT, "README.md");

const HEADER = [
  "| case | trips first | after | cleared | melting begins, early to nominal | margin, early to nominal | molten, protected | left when the operator acts at 2.5 s |",
  "|---|---|---:|---:|---:|---:|---:|---:|",
];

/** Times in ms or s with three figures. */
function time(s: number | null): string {
  if (s === null) return "never";
  if (s < 1e-3) return `${Number((s * 1e6).toPrecision(3))} µs`;
  return s < 1 ? `${Number((s * 1e3).toPrecision(3))} ms` : `${Number(s.toPrecision(3))} s`;
}

function mass(kg: number): string {
  return kg === 0 ? "nothing" : `${twoFigures(kg * 1e6)} mg`;
}

function twoFigures(x: number): string {
  return String(Number(x.toPrecision(2)));
}

function rowOf(f: CaseFigures): string {
  const burns = f.race.zero.struck !== null;
  const onset = (s: number | null): string => (s === null ? `not within ${f.followS} s` : time(s));
  const ratio = (r: number | null): string => (r === null ? "–" : `${twoFigures(r)} x`);
  const bead = beadWords(f);
  return `| ${[
    f.title,
    f.firstName ?? "nothing",
    f.operateS === null ? "–" : time(f.operateS),
    f.clearingS === null ? "–" : time(f.clearingS),
    burns ? `${onset(f.onsetEarlyS)} to ${onset(f.onsetS)}` : "–",
    burns ? `${ratio(f.marginEarly)} to ${ratio(f.margin)}` : "–",
    burns ? mass(f.moltenKg) : "–",
    f.moltenUnprotectedKg === null ? "–" : `${mass(f.moltenUnprotectedKg)}${bead}`,
  ].join(" | ")} |`;
}

function beadWords(f: CaseFigures): string {
  const bridgedS = f.race.damage.find((d) => d.struck)?.bridgedS ?? null;
  if (bridgedS !== null && bridgedS <= 2.5) return `, bridging the gap after ${time(bridgedS)}`;
  return f.beadM === null || f.beadM === 0 ? "" : `, a bead of ${(f.beadM * 1e3).toFixed(1)} mm`;
}

const FOOT =
  "Key down at 0, the fault 0.30037 s later, times from the fault. The unprotected run is followed for 2.6 s, or 1 s where nothing burns; *nothing* trips means nothing within that time. Early and nominal are two estimates of how an arc heats an edge; margin is melting over clearing.";

/** The table as Markdown, without the markers. */
export function readmeTable(): string {
  const rows = CASES.map((c) => rowOf(caseFigures(c.id)));
  return [...HEADER, ...rows, "", FOOT].join("\n");
}

/** What stands between the markers of the README now; null without markers. */
export function writtenTable(): string | null {
  const text = readFileSync(FILE, "utf8");
  const from = text.indexOf(BEGIN);
  const to = text.indexOf(END);
  return from < 0 || to < from ? null : text.slice(from + BEGIN.length, to).trim();
}

/** Puts the table between the markers, with a section of its own where there are none. */
export function writeReadmeTable(table: string): void {
  const text = readFileSync(FILE, "utf8");
  const from = text.indexOf(BEGIN);
  const to = text.indexOf(END);
  const block = `${BEGIN}\n${table}\n${END}`;
  const next =
    from < 0 || to < from
      ? `${text.trimEnd()}\n\n## What the numbers say\n\n${block}\n`
      : `${text.slice(0, from)}${block}${text.slice(to + END.length)}`;
  writeFileSync(FILE, next);
}
