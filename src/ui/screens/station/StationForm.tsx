/** The station as a form: one section a part, with what belongs to some of them only: band picker, tube types, lines. */
import { type ReactNode, useMemo, useState } from "react";
import { DEFAULT_BANDS } from "../../../project/defaults";
import { DIPOLES, LINE_KINDS } from "../../../project/feeders";
import { formatNumber } from "../../../units/format";
import type { FieldHelp } from "../../forms/Fields";
import { FormItems } from "../../forms/FormItems";
import { FormContext } from "../../forms/formContext";
import { PickField } from "../../forms/PickField";
import { BandFields } from "./BandFields";
import { OPEN_SECTIONS } from "./fieldLabels";
import { lineWords } from "./lineWords";
import { formPort, setField, setStation, useEdit, useStation } from "./stationContext";
import { formOf } from "./stationForm";
import { TubePicker } from "./TubePicker";

export function StationForm({ onFitTube }: { readonly onFitTube: () => void }) {
  const station = useEdit((s) => s.project.station);
  const stores = useStation();
  const port = useMemo(() => formPort(stores), [stores]);
  const [help, setHelp] = useState<FieldHelp | null>(null);
  const sections = useMemo(() => formOf(station), [station]);
  const before: Readonly<Record<string, ReactNode>> = {
    freqHz: <BandPicker />,
    tube: <TubePicker onFit={onFitTube} />,
    load: <LinePicker />,
  };
  return (
    <section className="station-forms work-forms" aria-label="Parts of the station">
      {sections.map(({ name, title, items }) => (
        <details key={name} className="form-section" open={OPEN_SECTIONS.includes(name)}>
          <summary>
            <h3>{title}</h3>
          </summary>
          <div className="form-fields">
            {before[name]}
            <FormContext.Provider value={port}>
              <FormItems items={items} section={title} onHelp={setHelp} list={BandFields} />
            </FormContext.Provider>
          </div>
        </details>
      ))}
      <p className="field-help">
        {help === null ? (
          "Prefixes are read: 225u, 3.2k, 14,2 M. Ctrl+Z takes a step back."
        ) : (
          <>
            <b>{help.label}</b> {help.words}
          </>
        )}
      </p>
    </section>
  );
}

/** The carrier at the middle of a band. */
function BandPicker() {
  const stores = useStation();
  const { tank, freqHz } = useEdit((s) => s.project.station);
  const bands = "bands" in tank ? tank.bands : DEFAULT_BANDS;
  const here = bands.find((b) => b.fromHz <= freqHz && freqHz <= b.toHz);
  return (
    <PickField
      label="Band"
      value={here?.name ?? ""}
      options={[
        ...(here === undefined ? [{ value: "", word: "outside all bands" }] : []),
        ...bands.map((b) => ({
          value: b.name,
          word: `${b.name}, ${formatNumber(b.fromHz / 1e6, 4)} to ${formatNumber(b.toHz / 1e6, 4)} MHz`,
        })),
      ]}
      onPick={(name) => {
        const band = bands.find((b) => b.name === name);
        if (band === undefined) return "";
        const middleHz = Math.round((band.fromHz + band.toHz) / 2000) * 1000;
        const words = { field: "Band", from: here?.name ?? "", to: name };
        return setField(stores, ["freqHz"], middleHz, words, "");
      }}
    />
  );
}

/** Kinds of line and dipoles to begin with, and what the line loses. */
function LinePicker() {
  const { edit } = useStation();
  const station = useEdit((s) => s.project.station);
  const { load } = station;
  if (load.kind !== "antenna") return null;
  const { line, antenna } = load;
  const dipole = antenna.kind === "resonant" ? antenna.name : "";
  return (
    <>
      <PickField
        label="Kind of line"
        value={LINE_KINDS.some((k) => k.name === line.name) ? line.name : ""}
        options={[
          { value: "", word: "own values" },
          ...LINE_KINDS.map(({ name }) => ({ value: name, word: name })),
        ]}
        onPick={(name) => {
          const kind = LINE_KINDS.find((k) => k.name === name);
          if (kind === undefined) return "";
          const next = { ...load, line: { ...kind, lengthM: line.lengthM } };
          const words = { field: "Kind of line", from: line.name, to: name };
          return setStation(edit, { ...station, load: next }, words);
        }}
      />
      {antenna.kind === "resonant" && (
        <PickField
          label="Dipole for"
          value={DIPOLES.some((d) => d.name === dipole) ? dipole : ""}
          options={[
            { value: "", word: "own values" },
            ...DIPOLES.map(({ name }) => ({ value: name, word: name })),
          ]}
          onPick={(name) => {
            const next = DIPOLES.find((d) => d.name === name);
            if (next === undefined) return "";
            const words = { field: "Antenna", from: dipole, to: name };
            return setStation(edit, { ...station, load: { ...load, antenna: next } }, words);
          }}
        />
      )}
      <p className="note">{lineWords(station)}</p>
    </>
  );
}
