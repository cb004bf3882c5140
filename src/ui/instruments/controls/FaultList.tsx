/**
 * All faults, for the keyboard and for the small sheets; the same words as on the parts. The usual ones come first; the
 * others are folded away by part, all but those that are placed.
 */
import { memo, type ReactNode, useId, useState } from "react";
import { FaultGlyph } from "../path/FaultChip";
import type { FaultChoice } from "../path/pathView";

export interface FaultListEntry extends FaultChoice {
  /** 0 to 1, or null for a fault that has no degrees. */
  readonly severity: number | null;
  /** What the severity means here: `gap bridged to 0.02 mm`. */
  readonly severityWord: string;
  /** Fault and place in a word or two, for two columns. */
  readonly shortWord: string;
  /** Part under which it is folded away; null where it is always in sight. */
  readonly foldedUnder: string | null;
}

export interface FaultListProps {
  readonly faults: readonly FaultListEntry[];
  /** Beside the heading. */
  readonly action?: ReactNode;
  /** Between the heading and the list. */
  readonly lead?: ReactNode;
  /** Two columns of short words. */
  readonly short?: boolean;
  readonly onToggle: (faultKey: string) => void;
  readonly onSeverity: (faultKey: string, severity: number) => void;
}

/** The heading, where the way to the faults leads; a page has one list. */
export const FAULTS_ID = "faults";

const STANDING_WORDS = { placed: "placed", struck: "struck" } as const;

export function FaultList(props: FaultListProps) {
  const { faults, action, lead, short = false, onToggle, onSeverity } = props;
  const row = (fault: FaultListEntry) => (
    <FaultRow
      key={fault.key}
      fault={fault}
      short={short}
      onToggle={onToggle}
      onSeverity={onSeverity}
    />
  );
  return (
    <section className={short ? "fault-list short" : "fault-list"} aria-labelledby={FAULTS_ID}>
      <div className="zone-head">
        <h2 id={FAULTS_ID} tabIndex={-1}>
          Faults
        </h2>
        {action}
      </div>
      {lead}
      <ul>{faults.filter((f) => f.foldedUnder === null).map(row)}</ul>
      {groupsOf(faults).map(([part, folded]) => (
        <FaultFold key={part} part={part} faults={folded} row={row} />
      ))}
    </section>
  );
}

function groupsOf(faults: readonly FaultListEntry[]): readonly [string, FaultListEntry[]][] {
  const groups = new Map<string, FaultListEntry[]>();
  for (const fault of faults) {
    if (fault.foldedUnder === null) continue;
    const group = groups.get(fault.foldedUnder);
    if (group === undefined) groups.set(fault.foldedUnder, [fault]);
    else group.push(fault);
  }
  return [...groups];
}

interface FaultFoldProps {
  readonly part: string;
  readonly faults: readonly FaultListEntry[];
  readonly row: (fault: FaultListEntry) => ReactNode;
}

function FaultFold({ part, faults, row }: FaultFoldProps) {
  const [isOpen, setOpen] = useState(false);
  const listId = useId();
  const shown = isOpen ? faults : faults.filter((f) => f.standing !== "free");
  return (
    <>
      <button
        type="button"
        className="fault-fold"
        aria-expanded={isOpen}
        aria-controls={listId}
        onClick={() => setOpen(!isOpen)}
      >
        <span aria-hidden="true">{isOpen ? "▾" : "▸"}</span>
        More: {part}
        <small>{faults.length}</small>
      </button>
      <ul id={listId} hidden={shown.length === 0}>
        {shown.map(row)}
      </ul>
    </>
  );
}

interface FaultRowProps {
  readonly fault: FaultListEntry;
  readonly short: boolean;
  readonly onToggle: (faultKey: string) => void;
  readonly onSeverity: (faultKey: string, severity: number) => void;
}

function PlainFaultRow({ fault, short, onToggle, onSeverity }: FaultRowProps) {
  return (
    <li>
      <button
        type="button"
        className={`fault-row ${fault.standing}${fault.neverByHand ? " never-by-hand" : ""}`}
        aria-pressed={fault.standing !== "free"}
        aria-label={short ? `${fault.shortWord}: ${fault.word}, ${fault.placeWord}` : undefined}
        aria-haspopup={fault.neverByHand && fault.standing === "free" ? "dialog" : undefined}
        onClick={() => onToggle(fault.key)}
      >
        <FaultGlyph standing={fault.standing} />
        <span className="fault-word">{short ? fault.shortWord : fault.word}</span>
        {!short && (
          <small>
            {fault.standing !== "free"
              ? STANDING_WORDS[fault.standing]
              : fault.foldedUnder === null && fault.placeWord}
          </small>
        )}
      </button>
      {fault.standing === "placed" && fault.severity !== null && (
        <label className="severity">
          <small>{fault.severityWord}</small>
          <input
            type="range"
            min="0"
            max="1"
            step="0.05"
            value={fault.severity}
            aria-label={`${fault.word}, severity`}
            aria-valuetext={fault.severityWord}
            onChange={(event) => onSeverity(fault.key, event.currentTarget.valueAsNumber)}
          />
        </label>
      )}
    </li>
  );
}

// entries are made anew with every event of the bench, and hardly any of them says anything else
const FaultRow = memo(
  PlainFaultRow,
  (old, next) =>
    old.short === next.short &&
    old.onToggle === next.onToggle &&
    old.onSeverity === next.onSeverity &&
    sameEntry(old.fault, next.fault),
);

function sameEntry(a: FaultListEntry, b: FaultListEntry): boolean {
  return (
    a.key === b.key &&
    a.word === b.word &&
    a.shortWord === b.shortWord &&
    a.placeWord === b.placeWord &&
    a.standing === b.standing &&
    a.neverByHand === b.neverByHand &&
    a.severity === b.severity &&
    a.severityWord === b.severityWord &&
    a.foldedUnder === b.foldedUnder
  );
}
