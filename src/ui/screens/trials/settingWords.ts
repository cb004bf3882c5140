/** Settings by their paths, `lowGain.pickup`, as a person says them. */
import { FAULTS } from "../../../project/faults";
import type { FaultName, PartName } from "../../../project/scenario";
import { formatDb, formatNumber, formatTime } from "../../../units/format";
import { lowerFirst, PART_WORDS } from "../bench/views/words";

const FIELDS: Readonly<Record<string, string>> = {
  pickup: "pickup",
  dropOff: "drop-off",
  confirmation: "confirmation",
  smoothing: "smoothing",
  scan: "scan",
};

const MONITORS: Readonly<Record<string, string>> = {
  lowGain: "low gain",
  deepGain: "deep and fast low gain",
  gainFloor: "floor of gain",
};

/** "confirmation of low gain" */
export function settingWords(path: string): string {
  const [monitor = "", ...rest] = path.split(".");
  const field = rest.at(-1) ?? "";
  const name = MONITORS[monitor] ?? monitor;
  return `${FIELDS[field] ?? field} of ${name}`;
}

/** `insect@tuningCapacitor` as a person says it. */
export function sweptFaultWords(name: string): string {
  const [fault = "", part = ""] = name.split("@");
  return `${FAULTS[fault as FaultName]?.name ?? fault}, ${PART_WORDS[part as PartName] ?? part}`;
}

/** A sentence that names settings, faults and parts as data does, as a person says it. */
export function plainWords(sentence: string): string {
  return sentence
    .replace(/\b(\w+)\.(?:\d+\.)?(pickup|dropOff|confirmation|smoothing|scan)\b/g, (path) =>
      settingWords(path),
    )
    .replace(/\b\w+@\w+\b/g, (name) => lowerFirst(sweptFaultWords(name)))
    .replace(/\((\w+)\)/g, (all, part: string) => {
      const words = PART_WORDS[part as PartName];
      return words === undefined ? all : `(${words})`;
    });
}

/** The title of a case: that of the project it is of as it stands, and after it what the case is, as a person says it. */
export function caseTitle(title: string, ofProject: string): string {
  return title.startsWith(ofProject)
    ? `${ofProject}${plainWords(title.slice(ofProject.length))}`
    : title;
}

/** The value with its unit: times in seconds' multiples, gains in decibels, else a plain number in SI. */
export function valueWords(path: string, value: number): string {
  const field = path.split(".").at(-1);
  if (field === "confirmation" || field === "smoothing" || field === "scan")
    return value === 0 ? "0" : formatTime(value);
  if (!/[gG]ain/.test(path)) return formatNumber(value);
  // a sweep may go by less than the tenth that gains are read to
  return Number.isInteger(10 * value) ? formatDb(value) : `${formatNumber(value)}\u00a0dB`;
}
