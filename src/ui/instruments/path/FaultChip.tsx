import { StateMark } from "../state/StateMark";
import type { FaultChoice } from "./pathView";

const ACTION_WORDS = { free: "place", placed: "remove", struck: "remove" } as const;

/** Plus to place, minus to remove, bolt where it struck. */
export function FaultGlyph({ standing }: { readonly standing: FaultChoice["standing"] }) {
  if (standing === "struck") return <StateMark mark="strike" sizePx={13} />;
  return (
    <svg className="mark" width="12" height="12" viewBox="0 0 12 12" aria-hidden="true">
      <path d={standing === "free" ? "M2 6H10M6 2V10" : "M2 6H10"} className="glyph-line" />
    </svg>
  );
}

export interface FaultChipProps {
  readonly fault: FaultChoice;
  readonly onToggle: (faultKey: string) => void;
}

/** A fault on the part it belongs to: free, placed or struck; a hatched corner says that a caution opens first. */
export function FaultChip({ fault, onToggle }: FaultChipProps) {
  const caution = fault.neverByHand ? ", opens a caution first" : "";
  return (
    <button
      type="button"
      className={`chip ${fault.standing}${fault.neverByHand ? " never-by-hand" : ""}`}
      aria-pressed={fault.standing !== "free"}
      aria-label={`${fault.word}, ${fault.placeWord}: ${fault.standing === "struck" ? "struck, remove" : ACTION_WORDS[fault.standing]}${caution}`}
      onClick={() => onToggle(fault.key)}
    >
      <FaultGlyph standing={fault.standing} />
      <span>{fault.word}</span>
    </button>
  );
}
