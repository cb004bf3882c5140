/**
 * The README's table of cases, computed. QUIETARC_WRITE_README=1 set for tests/simulation/tableOfCases.test.ts writes it
 * anew between its two markers.
 */
import { CASES, type CaseFigures, caseFigures } from "./cases";
import { time, twoFigures } from "./tableFigures";

const HEADER = [
  "| case | trips first | after | cleared | melting begins, early to nominal | margin, early to nominal | molten, protected | left when the operator acts at 2.5 s |",
  "|---|---|---:|---:|---:|---:|---:|---:|",
];

function mass(kg: number): string {
  return kg === 0 ? "nothing" : `${twoFigures(kg * 1e6)} mg`;
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
