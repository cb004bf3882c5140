/** The values of a tank band by band: one band at a time, chosen, changed, added as a copy, taken away. */
import { useId, useState } from "react";
import type { BandTank } from "../../../project/station";
import { valueAt } from "../../../state/stationKinds";
import { FormItems, type ListFieldsProps } from "../../forms/FormItems";
import type { ListItem } from "../../forms/formTree";
import { Refusal } from "../../forms/Refusal";
import { setField, useEdit, useStation } from "./stationContext";

export function BandFields({ item, section, onHelp }: ListFieldsProps) {
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
      <Refusal words={refusal} />
    </fieldset>
  );
}
