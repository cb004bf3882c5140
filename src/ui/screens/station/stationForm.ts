/**
 * The form of a station, taken from the file's schema: a new field of a station appears by itself; a line of
 * `fieldLabels.ts` gives it a better name and a handier unit.
 */
import { stationSchema } from "../../../formats/schema/stationSchema";
import type { Station } from "../../../project/station";
import { valueAt } from "../../../state/stationKinds";
import { type FormItem, type FormWords, fieldsOf, plainWords } from "../../forms/formTree";
import { CHOICE_WORDS, FIELD_LABELS, GROUP_TITLES, SECTION_TITLES } from "./fieldLabels";

export interface FormSection {
  readonly name: string;
  readonly title: string;
  readonly items: readonly FormItem[];
}

/** Parts of one shape share their notes under the first of them. */
const SHARED: Readonly<Record<string, string>> = {
  loadingCapacitor: "station.tuningCapacitor",
  outputContact: "station.bandSwitch",
  erosion: "station.erosion.nominal",
};

const WORDS: FormWords = {
  labels: FIELD_LABELS,
  groups: GROUP_TITLES,
  choices: CHOICE_WORDS,
  rootPlace: "station",
  fixedKinds: ["tube"],
  sharedNotes: (path) => SHARED[String(path[0])] ?? "",
};

/** Every section of the form with what stands in it now. */
export function formOf(station: Station): readonly FormSection[] {
  const names = Object.keys(stationSchema._zod.def.shape);
  const known = Object.keys(SECTION_TITLES).filter((name) => names.includes(name));
  return [...known, ...names.filter((name) => !known.includes(name))].flatMap((name) => {
    if (valueAt(station, [name]) === undefined) return []; // what a station may leave out, and does
    const items = fieldsOf(stationSchema, station, [name], WORDS);
    if (items.length === 0) return [];
    return [{ name, title: SECTION_TITLES[name] ?? plainWords(name), items }];
  });
}
