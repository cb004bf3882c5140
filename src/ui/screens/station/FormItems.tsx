/** Fields one after the other, parts inside a section under their own heading, lists one entry at a time. */
import { useId, useState } from "react";
import type { BandTank } from "../../../project/station";
import { valueAt } from "../../../state/stationKinds";
import { ChoiceField, type FieldHelp, NumberField, TextField } from "./Fields";
import { GROUP_TITLES } from "./fieldLabels";
import { setField, useEdit, useStation } from "./stationContext";
import { type FormItem, type ListItem, placeOf } from "./stationForm";

export interface FormItemsProps {
  readonly items: readonly FormItem[];
  readonly section: string;
  readonly onHelp: (help: FieldHelp | null) => void;
}

export function FormItems({ items, section, onHelp }: FormItemsProps) {
  return items.map((item) => {
    const key = item.path.join(".") + item.kind + (item.kind === "choice" ? item.of : "");
    switch (item.kind) {
      case "number":
        return <NumberField key={key} item={item} section={section} onHelp={onHelp} />;
      case "text":
        return <TextField key={key} item={item} section={section} onHelp={onHelp} />;
      case "choice":
        return <ChoiceField key={key} item={item} section={section} onHelp={onHelp} />;
      case "group": {
        const title = GROUP_TITLES[placeOf(item.path)] ?? item.label;
        return (
          <fieldset key={key} className="form-group">
            <legend>{title}</legend>
            <FormItems items={item.items} section={`${section}, ${title}`} onHelp={onHelp} />
          </fieldset>
        );
      }
      default:
        return <ListFields key={key} item={item} section={section} onHelp={onHelp} />;
    }
  });
}

interface ListFieldsProps extends Pick<FormItemsProps, "section" | "onHelp"> {
  readonly item: ListItem;
}

/** One entry of a list at a time: chosen, changed, added as a copy, taken away. */
function ListFields({ item, section, onHelp }: ListFieldsProps) {
  const stores = useStation();
  const station = useEdit((s) => s.project.station);
  const id = useId();
  const here = bandIndex(item, station.freqHz);
  const [chosen, setChosen] = useState<number | null>(null);
  const [refusal, setRefusal] = useState("");
  const index = Math.min(chosen ?? here, item.entries.length - 1);
  const entry = item.entries[index];
  const list = valueAt(station, item.path) as readonly BandTank[];
  const put = (next: readonly BandTank[], field: string, at: number): void => {
    const words = { field: `${section}, ${field}`, from: "", to: "" };
    const problem = setField(stores, item.path, next, words, "");
    setRefusal(problem);
    if (problem === "") setChosen(Math.min(Math.max(at, 0), next.length - 1));
  };
  function bandIndex({ entries }: ListItem, freqHz: number): number {
    const bands = valueAt(station, item.path) as readonly BandTank[];
    const found = bands.findIndex((b) => b.fromHz <= freqHz && freqHz <= b.toHz);
    return found < 0 ? Math.max(entries.length - 1, 0) : found;
  }
  return (
    <fieldset className="form-group">
      <legend>Values band by band</legend>
      <div className="field text-field">
        <label htmlFor={id}>Band shown</label>
        <select id={id} value={index} onChange={(e) => setChosen(Number(e.currentTarget.value))}>
          {item.entries.map((e, k) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: entries have no name of their own that stays
            <option key={k} value={k}>
              {e.name}
            </option>
          ))}
        </select>
      </div>
      {entry !== undefined && (
        <FormItems
          key={index}
          items={entry.items}
          section={`${section}, ${entry.name}`}
          onHelp={onHelp}
        />
      )}
      <div className="field-buttons">
        <button
          type="button"
          className="button"
          onClick={() => {
            const copied = list[index];
            if (copied === undefined) return;
            const added = { ...copied, name: `${copied.name} copy`.slice(0, 40) };
            put([...list, added], `band ${added.name} added`, list.length);
          }}
        >
          Add a copy of this band
        </button>
        <button
          type="button"
          className="button"
          disabled={list.length < 2}
          onClick={() =>
            put(
              list.filter((_, k) => k !== index),
              `band ${list[index]?.name} removed`,
              index - 1,
            )
          }
        >
          Remove this band
        </button>
      </div>
      {refusal !== "" && (
        <p className="field-says" role="alert">
          {refusal}
        </p>
      )}
    </fieldset>
  );
}
