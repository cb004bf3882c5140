/** What is asked of the chosen trial: one field a line, refused in words beside the field. */
import { useId, useState } from "react";
import type { Plain, TrialKind } from "../../../study/trials/trial";
import { dressDigits } from "../../../units/format";
import { parseQuantity } from "../../../units/parseQuantity";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { type Ask, type AskChoice, type AskNumber, askedValue, withAsked } from "./asks";
import { useTrial, useTrials } from "./trialsContext";

/** More choices than this stand in a list. */
const MOST_SEGMENTS = 3;
/** Words longer than this stand under their label. */
const LONG_WORD = 14;

export function AskForm({
  kind,
  asks,
}: {
  readonly kind: TrialKind;
  readonly asks: readonly Ask[];
}) {
  const trials = useTrials();
  const wish = useTrial(kind, (s) => s.wish);
  return (
    <div className="asks">
      {asks.map((ask) => {
        const set = (value: Plain): void => trials.edit(kind, withAsked(ask, value, wish));
        const value = askedValue(ask, wish);
        return ask.kind === "number" ? (
          <NumberField key={ask.label} ask={ask} value={value as number} onValue={set} />
        ) : (
          <ChoiceField key={ask.label} ask={ask} value={value} onValue={set} />
        );
      })}
    </div>
  );
}

function ChoiceField(props: {
  readonly ask: AskChoice;
  readonly value: Plain;
  readonly onValue: (value: Plain) => void;
}) {
  const { ask, value, onValue } = props;
  const id = useId();
  const keyOf = (v: Plain): string => JSON.stringify(v);
  const choose = (key: string): void =>
    onValue(ask.choices.find((c) => keyOf(c.value) === key)?.value ?? null);
  if (ask.choices.length <= MOST_SEGMENTS) {
    return (
      <SegmentedChoice
        name={ask.label}
        small
        options={ask.choices.map((c) => ({ value: keyOf(c.value), word: c.word }))}
        value={keyOf(value)}
        onChoose={choose}
      />
    );
  }
  return (
    <div className={ask.choices.some((c) => c.word.length > LONG_WORD) ? "ask long" : "ask"}>
      <label htmlFor={id}>{ask.label}</label>
      <select id={id} value={keyOf(value)} onChange={(e) => choose(e.currentTarget.value)}>
        {ask.choices.map((c) => (
          <option key={c.word} value={keyOf(c.value)}>
            {c.word}
          </option>
        ))}
      </select>
    </div>
  );
}

/** A number that is typed: refused in words beside the field, the last good one kept. */
export function NumberField(props: {
  readonly ask: AskNumber;
  readonly value: number;
  readonly onValue: (value: number) => void;
}) {
  const { ask, value, onValue } = props;
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const refusal = draft === null ? "" : refusalOf(ask, draft);
  const type = (typed: string): void => {
    setDraft(typed);
    const read = parseQuantity(typed, "");
    if (read.ok && refusalOf(ask, typed) === "") onValue(read.value);
  };
  return (
    <div className={refusal === "" ? "ask" : "ask refused"}>
      <label htmlFor={id}>{ask.label}</label>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autoComplete="off"
        value={draft ?? String(value)}
        aria-invalid={refusal !== ""}
        aria-describedby={`${id}-says`}
        onChange={(event) => type(event.currentTarget.value)}
        onBlur={() => {
          if (refusal === "") setDraft(null);
        }}
        onKeyDown={(event) => {
          if (event.key === "Escape") setDraft(null);
        }}
      />
      <span className="ask-says" id={`${id}-says`} role={refusal === "" ? undefined : "alert"}>
        {refusal}
      </span>
    </div>
  );
}

/** Why what is typed cannot stand; empty where it can. */
function refusalOf({ least, most, whole = false }: AskNumber, typed: string): string {
  const read = parseQuantity(typed, "");
  if (!read.ok) return read.problem;
  const { value } = read;
  if (value >= least && value <= most && (!whole || Number.isInteger(value))) return "";
  const what = whole ? "a whole number" : "a number";
  const plain = (v: number): string => dressDigits(String(v));
  return `Give ${what} from ${plain(least)} to ${plain(most)}.`;
}
