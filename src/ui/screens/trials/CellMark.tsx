/** The kinds of cell: a shape and a word each; the shape is drawn in ink alone, so that no colour carries a meaning. */
import type { BackupOutcome } from "../../../study/trials/backupSummary";

/** Of a coverage or of a back-up trial. */
export type ShownKind = BackupOutcome["kind"];

export const KIND_WORDS: Readonly<Record<ShownKind, string>> = {
  covered: "covered",
  thin: "thin",
  late: "late",
  notCovered: "not covered",
  limitedByDesign: "limited by design",
  noStrike: "no strike",
  noDamage: "no damage",
  latent: "latent",
  showsItself: "shows itself",
};

/** Strokes on a 12 by 12 field; `fill` first where the shape is solid. */
const SHAPES: Readonly<Record<ShownKind, { readonly fill?: string; readonly line: string }>> = {
  covered: { line: "M1.5 6.5L4.8 9.8L10.5 2.5" },
  thin: { line: "M1 1H3.4M5 1H7.4M9 1H11V3M11 5V7.4M11 9V11H9M7.4 11H5M3.4 11H1V9M1 7.4V5M1 3V1" },
  late: { line: "M1 1H11V11H1ZM1 11L11 1" },
  notCovered: { fill: "M0 0H12V12H0Z", line: "M3 3L9 9M9 3L3 9" },
  limitedByDesign: { line: "M1 3H11M1 9H11M4 3V9M8 3V9" },
  noStrike: { line: "M4 1V11M8 1V11" },
  noDamage: { line: "M6 2A4 4 0 1 1 5.99 2Z" },
  latent: { line: "M6 1V3M6 5V7M6 9V11" },
  showsItself: { line: "M1 6L6 1L11 6L6 11Z" },
};

export function CellMark({ kind }: { readonly kind: ShownKind }) {
  const { fill, line } = SHAPES[kind];
  return (
    <svg className="mark" width="12" height="12" viewBox="0 0 12 12" aria-hidden="true">
      {fill !== undefined && <path d={fill} fill="var(--ink)" />}
      <path
        d={line}
        fill="none"
        stroke={fill === undefined ? "var(--ink)" : "var(--sheet)"}
        strokeWidth="1.5"
      />
    </svg>
  );
}
