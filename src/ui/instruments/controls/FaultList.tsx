/** All faults, for the keyboard and for the small sheets; the same words as on the parts. */
import { type ReactNode, useId } from "react";
import { FaultGlyph } from "../path/FaultChip";
import type { FaultChoice } from "../path/pathView";

export interface FaultListEntry extends FaultChoice {
  /** 0 to 1, or null for a fault that has no degrees. */
  readonly severity: number | null;
  /** What the severity means here: `gap bridged to 0.02 mm`. */
  readonly severityWord: string;
  /** Fault and place in a word or two, for two columns. */
  readonly shortWord: string;
}

export interface FaultListProps {
  readonly faults: readonly FaultListEntry[];
  /** Beside the heading. */
  readonly action?: ReactNode;
  /** Two columns of short words. */
  readonly short?: boolean;
  readonly onToggle: (faultKey: string) => void;
  readonly onSeverity: (faultKey: string, severity: number) => void;
}

const STANDING_WORDS = { placed: "placed", struck: "struck" } as const;

export function FaultList({ faults, action, short = false, onToggle, onSeverity }: FaultListProps) {
  const titleId = useId();
  return (
    <section className={short ? "fault-list short" : "fault-list"} aria-labelledby={titleId}>
      <div className="zone-head">
        <h2 id={titleId}>Faults</h2>
        {action}
      </div>
      <ul>
        {faults.map((fault) => (
          <li key={fault.key}>
            <button
              type="button"
              className={`fault-row ${fault.standing}${fault.neverByHand ? " never-by-hand" : ""}`}
              aria-pressed={fault.standing !== "free"}
              aria-label={
                short ? `${fault.shortWord}: ${fault.word}, ${fault.placeWord}` : undefined
              }
              aria-haspopup={fault.neverByHand && fault.standing === "free" ? "dialog" : undefined}
              onClick={() => onToggle(fault.key)}
            >
              <FaultGlyph standing={fault.standing} />
              <span className="fault-word">{short ? fault.shortWord : fault.word}</span>
              {!short && (
                <small>
                  {fault.standing === "free" ? fault.placeWord : STANDING_WORDS[fault.standing]}
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
        ))}
      </ul>
    </section>
  );
}
