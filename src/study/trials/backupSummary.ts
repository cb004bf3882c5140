/** What back-up tells of a case, and summed up by what had failed: the worst margin, what stays uncovered, who takes over. */
import type { FaultName, PartName } from "../../project/scenario";
import type { BackupItem } from "./backupItems";
import type { RequiredMargins } from "./coverageOptions";
import type { CellKind } from "./judgeCell";

export interface BackupOutcome {
  readonly fault: FaultName;
  readonly part: PartName;
  /** Ids of what had failed; none for the intact scheme. */
  readonly failed: readonly string[];
  /** `showsItself`: the failure has tripped something before the fault came. */
  readonly kind: CellKind | "showsItself";
  /** A clause without a full stop. */
  readonly reason: string;
  readonly firstTrip: { readonly id: string; readonly name: string; readonly atS: number } | null;
  readonly endedS: number | null;
  readonly margin: number | null;
  readonly marginEarly: number | null;
}

interface FaultAt {
  readonly fault: FaultName;
  readonly part: PartName;
}

export interface BackupRow {
  /** Ids of what had failed; none for the intact scheme. */
  readonly failed: readonly string[];
  readonly names: readonly string[];
  readonly done: number;
  /** Least margin, and its fault; null where no fault has one. */
  readonly worstMargin: number | null;
  readonly worstMarginEarly: number | null;
  readonly worstFault: FaultAt | null;
  /** Faults that are thin, late or not covered now. */
  readonly open: readonly (FaultAt & Pick<BackupOutcome, "kind" | "reason">)[];
  /** Faults that another monitor trips first for than with nothing failed. */
  readonly takesOver: readonly (FaultAt & {
    readonly monitor: string;
    readonly margin: number | null;
  })[];
  /** Faults ahead of which the failure shows itself. */
  readonly showsItself: number;
}

export interface BackupSummary extends RequiredMargins {
  readonly done: number;
  readonly count: number;
  readonly rows: readonly BackupRow[];
}

const OPEN: readonly BackupOutcome["kind"][] = ["thin", "late", "notCovered"];

/** Sums up what is known, in the order of the cases. */
export function summariseBackup(
  outcomes: readonly (BackupOutcome | null)[],
  items: readonly BackupItem[],
  { requiredMargin, requiredMarginHalfMilligram }: RequiredMargins,
): BackupSummary {
  const rows = new Map<string, BackupOutcome[]>();
  for (const o of outcomes) {
    if (o === null) continue;
    const key = o.failed.join();
    const row = rows.get(key) ?? [];
    row.push(o);
    rows.set(key, row);
  }
  const intact = rows.get("") ?? [];
  const names = new Map(items.map(({ id, name }) => [id, name]));
  return {
    done: outcomes.filter((o) => o !== null).length,
    count: outcomes.length,
    rows: [...rows.values()].map((row) => rowOf(row, intact, names)),
    requiredMargin,
    requiredMarginHalfMilligram,
  };
}

function rowOf(
  row: readonly BackupOutcome[],
  intact: readonly BackupOutcome[],
  names: ReadonlyMap<string, string>,
): BackupRow {
  let worst: BackupOutcome | null = null;
  let early: number | null = null;
  for (const o of row) {
    // what nothing fitted could end says nothing about what has failed
    if (o.kind === "limitedByDesign" || o.margin === null) continue;
    if (o.margin < (worst?.margin ?? Infinity)) worst = o;
    if (o.marginEarly !== null) early = Math.min(early ?? Infinity, o.marginEarly);
  }
  const failed = row[0]?.failed ?? [];
  return {
    failed,
    names: failed.map((id) => names.get(id) ?? id),
    done: row.length,
    worstMargin: worst?.margin ?? null,
    worstMarginEarly: early,
    worstFault: worst === null ? null : { fault: worst.fault, part: worst.part },
    open: row
      .filter((o) => OPEN.includes(o.kind))
      .map(({ fault, part, kind, reason }) => ({ fault, part, kind, reason })),
    takesOver: row.flatMap((o) => {
      const { fault, part, firstTrip, margin } = o;
      const before = intact.find((i) => i.fault === fault && i.part === part)?.firstTrip;
      if (firstTrip === null || before === undefined || before?.id === firstTrip.id) return [];
      return [{ fault, part, monitor: firstTrip.name, margin }];
    }),
    showsItself: row.filter((o) => o.kind === "showsItself").length,
  };
}
