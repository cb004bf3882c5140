/**
 * One field of a form: label, box, unit. What is typed is read at every keystroke; the reading stands beside the box,
 * a refusal with its remedy under it, and what was typed stays until it is put right or taken back with Escape. What is taken and
 * yet good for nothing is told there too.
 */
import { useEffect, useId, useRef, useState } from "react";
import { useForm, useReplaced } from "./formContext";
import type { ChoiceItem, NumberItem, TextItem } from "./formTree";
import { NumberBox } from "./NumberBox";
import { SelectField } from "./SelectField";
import { markTyped } from "./typedMark";

/** Meaning and range for the line that explains the field in hand. */
export interface FieldHelp {
  readonly label: string;
  readonly words: string;
}

interface FieldProps<Item> {
  readonly item: Item;
  /** Where the field belongs, for labels of steps: `Tank`. */
  readonly section: string;
  readonly onHelp: (help: FieldHelp | null) => void;
}

function stepName(section: string, label: string): string {
  return section === label
    ? label
    : `${section}, ${label.charAt(0).toLowerCase()}${label.slice(1)}`;
}

/** Further off than any value of any unit, on both sides alike: it keeps out what is no figure, and limits nothing. */
const NO_LIMIT = 1e6;

/** Meaning, and range where it limits anything. */
export function helpText(item: NumberItem): string {
  const { min, max } = item.range;
  const isLimited = max < NO_LIMIT || min !== -max;
  return [item.meaning, isLimited ? rangeText(item) : ""]
    .filter((words) => words !== "")
    .join("; ");
}

function rangeText(item: NumberItem): string {
  const { min, max, aboveMin, belowMax } = item.range;
  const { full } = item.scale;
  return `${aboveMin ? "above" : "from"} ${full(min)} ${belowMax ? "to under" : "to"} ${full(max)}`;
}

/** Why a reading cannot be taken, with the range; empty where it can. */
export function refusalOf(item: NumberItem, value: number, echo: string): string {
  const { min, max, aboveMin, belowMax } = item.range;
  if (item.whole && !Number.isInteger(value)) {
    return `${item.label} ${echo} is no whole number: give one ${rangeText(item)}.`;
  }
  const inside = (aboveMin ? value > min : value >= min) && (belowMax ? value < max : value <= max);
  return inside
    ? ""
    : `${item.label} ${echo} is outside its range: give a value ${rangeText(item)}.`;
}

/** Draft, refusal and gesture of a box that is typed into. */
function useDraft(value: string | number) {
  const replaced = useReplaced();
  const [draft, setDraft] = useState<string | null>(null);
  const [refusal, setRefusal] = useState("");
  const sent = useRef<string | number>(value);
  // undo, redo and an opened file take the place of what was typed
  // biome-ignore lint/correctness/useExhaustiveDependencies: the count is the event
  useEffect(() => {
    setDraft(null);
    setRefusal("");
  }, [replaced]);
  useEffect(() => {
    if (Object.is(value, sent.current)) return;
    sent.current = value;
    setDraft(null);
    setRefusal("");
  }, [value]);
  return { draft, setDraft, refusal, setRefusal, sent };
}

/** As many characters as every box has room for. */
const MOST_IN_BOX = 10;

export function NumberField({ item, section, onHelp }: FieldProps<NumberItem>) {
  const form = useForm();
  const { label, scale, value, path, warning } = item;
  const { draft, setDraft, refusal, setRefusal, sent } = useDraft(value);
  const began = useRef<number>(value);
  const [suggestions, setSuggestions] = useState<readonly string[]>([]);
  const [echo, setEcho] = useState("");
  const fullOf = (v: number): string => (Number.isNaN(v) ? "left out" : scale.full(v));
  const type = (typed: string): void => {
    markTyped();
    setDraft(typed);
    if (item.optional && typed.trim() === "") {
      setSuggestions([]);
      setEcho("left out");
      sent.current = Number.NaN;
      const words = {
        field: stepName(section, label),
        from: fullOf(began.current),
        to: "left out",
      };
      setRefusal(form.set(path, item.leftOut, words, path.join(".")));
      return;
    }
    const read = scale.parse(typed);
    setSuggestions(read.ok ? [] : read.suggestions);
    setEcho(read.ok ? read.echo : "");
    if (!read.ok) {
      setRefusal(`${label}: ${read.problem}`);
      return;
    }
    const outside = refusalOf(item, read.value, read.echo);
    if (outside !== "") {
      setRefusal(outside);
      return;
    }
    const words = {
      field: stepName(section, label),
      from: fullOf(began.current),
      to: scale.full(read.value),
    };
    const before = sent.current;
    sent.current = read.value;
    const problem = form.set(path, read.value, words, path.join("."));
    if (problem !== "") sent.current = before;
    setRefusal(problem);
  };
  const takeBack = (): void => {
    setDraft(null);
    setRefusal("");
    setSuggestions([]);
    const back = began.current;
    const words = { field: stepName(section, label), from: "", to: fullOf(back) };
    sent.current = back;
    form.set(path, Number.isNaN(back) ? item.leftOut : back, words, path.join("."));
  };
  const textOf = (v: number): string => (Number.isNaN(v) ? "" : scale.format(v));
  return (
    <NumberBox
      label={label}
      text={draft ?? textOf(value)}
      // by the value that typing began with: a box moves under nobody's hands
      isLong={textOf(draft === null ? value : began.current).length > MOST_IN_BOX}
      unit={draft !== null && refusal === "" ? `= ${echo}` : scale.unit}
      refusal={refusal}
      warning={warning}
      {...(item.optional ? { placeholder: "left out" } : {})}
      onType={type}
      onFocus={() => {
        if (draft === null) began.current = value;
        onHelp({ label, words: helpText(item) });
      }}
      onBlur={() => {
        form.edit.endGesture();
        if (refusal === "") setDraft(null);
        onHelp(null);
      }}
      onKeyDown={(event) => {
        if (event.key === "Enter" && refusal === "") {
          setDraft(null);
          form.edit.endGesture();
          began.current = value;
        }
        if (event.key === "Escape" && draft !== null) {
          event.stopPropagation();
          takeBack();
        }
      }}
    >
      {suggestions.map((suggestion) => (
        <button
          key={suggestion}
          type="button"
          className="button small"
          onPointerDown={(event) => event.preventDefault()}
          onClick={() => type(suggestion)}
        >
          {suggestion}
        </button>
      ))}
    </NumberBox>
  );
}

export function TextField({ item, section, onHelp }: FieldProps<TextItem>) {
  const form = useForm();
  const id = useId();
  const { label, value, path, most } = item;
  return (
    <div className="field text-field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        maxLength={most}
        value={value}
        onFocus={() => onHelp({ label, words: item.meaning })}
        onChange={(event) => {
          const to = event.currentTarget.value;
          const words = { field: stepName(section, label), from: value, to };
          form.set(path, to, words, path.join("."));
        }}
        onBlur={() => {
          form.edit.endGesture();
          onHelp(null);
        }}
      />
    </div>
  );
}

export function ChoiceField({ item, section, onHelp }: FieldProps<ChoiceItem>) {
  const form = useForm();
  const [refusal, setRefusal] = useState("");
  const { label, value, path, options } = item;
  const replaced = useReplaced();
  /** Where the choice under way began. */
  const origin = useRef<{ readonly root: unknown; readonly value: string } | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the count is the event
  useEffect(() => {
    origin.current = null;
  }, [replaced]);
  const wordOf = (v: string): string => options.find((o) => o.value === v)?.word ?? v;
  const chooseKind = (to: string): string => {
    origin.current ??= { root: form.root(), value };
    const { root, value: from } = origin.current;
    const words = { field: stepName(section, label), from: wordOf(from), to: wordOf(to) };
    return form.setKind(path, to, words, root);
  };
  const choose = (to: string): string => {
    const words = { field: stepName(section, label), from: wordOf(value), to: wordOf(to) };
    return form.set(path, item.of === "flag" ? to === "true" : to, words, "");
  };
  return (
    <SelectField
      label={label}
      value={value}
      options={options}
      refusal={refusal}
      onFocus={() => onHelp({ label, words: item.meaning })}
      onBlur={() => {
        origin.current = null;
        form.edit.endGesture();
        onHelp(null);
      }}
      onChoose={(to) => setRefusal(item.of === "kind" ? chooseKind(to) : choose(to))}
    />
  );
}
