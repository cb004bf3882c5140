/** The margins that count as enough: a setting, shown with every result. */
import type { Requirement } from "../../../study/coordination/margins";
import { formatNumber, formatRatio } from "../../../units/format";
import { parseQuantity } from "../../../units/parseQuantity";
import { QuantityInput } from "../../instruments/controls/QuantityInput";

export interface RequiredMarginsProps {
  readonly required: Requirement;
  readonly onChange: (required: Requirement) => void;
}

const FIELDS = [
  ["onset", "Required margin to the first damage"],
  ["halfMilligram", "Required margin to 0.5 mg molten"],
] as const;
const WORDS = { onset: "to the first damage", halfMilligram: "to 0.5 mg molten" } as const;

export function RequiredMargins({ required, onChange }: RequiredMarginsProps) {
  return (
    <div className="required">
      <span className="control-name">Required margin</span>
      {FIELDS.map(([field, name]) => (
        <span key={field} className="required-one">
          <QuantityInput
            name={name}
            value={required[field]}
            minimum={1}
            maximum={1000}
            format={(v) => formatNumber(v, 2)}
            formatFull={(v) => formatRatio(v)}
            parse={(typed) => parseQuantity(typed.replace(/[×x]\s*$/, ""), "")}
            unit="×"
            onCommit={(value) => onChange({ ...required, [field]: value })}
          />
          <span className="note">{WORDS[field]}</span>
        </span>
      ))}
    </div>
  );
}
