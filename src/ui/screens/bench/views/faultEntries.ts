/** The faults a person can place, as chips on their parts and as rows of the list. */

import { arcPlaceOf } from "../../../../project/arcPlaceOf";
import { FAULTS, faultsOn, usualSeverity } from "../../../../project/faults";
import { SENSOR_PARTS } from "../../../../project/faults/sensor";
import type { FaultName, PartName } from "../../../../project/scenario";
import type { WorldView } from "../../../../shells/bench/worldView";
import { formatNumber } from "../../../../units/format";
import type { FaultListEntry } from "../../../instruments/controls/FaultList";
import type { FaultChoice } from "../../../instruments/path/pathView";
import { PART_WORDS } from "./words";

export interface FaultKey {
  readonly fault: FaultName;
  readonly part: PartName;
}

export function keyOf(fault: FaultName, part: PartName): string {
  return `${fault}@${part}`;
}

export function faultOfKey(key: string): FaultKey {
  const [fault, part] = key.split("@");
  return { fault: fault as FaultName, part: part as PartName };
}

/** The part of a fault's name that fits on a chip: always words of the name itself. */
const CHIP_WORDS: Readonly<Partial<Record<FaultName, string>>> = {
  insect: "Insect",
  dust: "Dust",
  offResonance: "Off resonance",
  lightLoading: "Too lightly",
  heavyLoading: "Too heavily",
};

function chipWord(fault: FaultName): string {
  return CHIP_WORDS[fault] ?? FAULTS[fault].name;
}

/** An arc names its place, where there is no room for the place beside it. */
const ARC_WORDS: Partial<Record<PartName, string>> = {
  tuningCapacitor: "Arc struck, tuning",
  loadingCapacitor: "Arc struck, loading",
  bandSwitch: "Arc struck, switch",
  outputContact: "Arc struck, output",
};

/** Faults shown on the drawing; the list has all of them. */
const ON_PATH: readonly string[] = [
  "overdrive@exciter",
  "biasLost@tube",
  "plateSupplyShort@supply",
  "insect@tuningCapacitor",
  "dust@tuningCapacitor",
  "arc@bandSwitch",
  "offResonance@tank",
  "arc@loadingCapacitor",
  "arc@outputContact",
  "openLoad@load",
  "shortLoad@load",
];

/** Faults that are always in sight, in the order of the list. */
const USUAL_PLACES: readonly FaultKey[] = [
  { fault: "insect", part: "tuningCapacitor" },
  { fault: "dust", part: "tuningCapacitor" },
  { fault: "arc", part: "tuningCapacitor" },
  { fault: "arc", part: "loadingCapacitor" },
  { fault: "arc", part: "bandSwitch" },
  { fault: "arc", part: "outputContact" },
  { fault: "openLoad", part: "load" },
  { fault: "shortLoad", part: "load" },
  { fault: "overdrive", part: "exciter" },
  { fault: "offResonance", part: "tank" },
  { fault: "lightLoading", part: "tank" },
  { fault: "heavyLoading", part: "tank" },
  { fault: "plateSupplyShort", part: "supply" },
  { fault: "plateSupplyLost", part: "supply" },
  { fault: "biasLost", part: "tube" },
  { fault: "driveInhibitFailed", part: "protection" },
  { fault: "relayStuck", part: "protection" },
  { fault: "contactorOnly", part: "protection" },
];

const USUAL_KEYS: readonly string[] = USUAL_PLACES.map((k) => keyOf(k.fault, k.part));

/** Parts in the order power flows, protection last. */
const PARTS_IN_ORDER: readonly PartName[] = [
  "exciter",
  "tube",
  "supply",
  "tuningCapacitor",
  "bandSwitch",
  "tank",
  "loadingCapacitor",
  "outputContact",
  "load",
  "protection",
  ...SENSOR_PARTS,
];

/** Every fault on every part it may be placed on: the usual ones, then all others by part. */
export const FAULT_PLACES: readonly FaultKey[] = [
  ...USUAL_PLACES,
  ...PARTS_IN_ORDER.flatMap((part) =>
    faultsOn(part)
      .map(({ fault }) => ({ fault, part }))
      .filter((k) => !USUAL_KEYS.includes(keyOf(k.fault, k.part))),
  ),
];

function standing(world: WorldView, { fault, part }: FaultKey): FaultChoice["standing"] {
  if (!world.faults.some((f) => f.fault === fault && f.part === part)) return "free";
  const place = arcPlaceOf(part);
  const struck =
    world.zero !== null && world.zero.fault === fault && world.zero.part === part && place !== null;
  return struck || (place !== null && world.burning.includes(place)) ? "struck" : "placed";
}

function choiceOf(world: WorldView, key: FaultKey): FaultChoice {
  return {
    key: keyOf(key.fault, key.part),
    word: chipWord(key.fault),
    placeWord: PART_WORDS[key.part],
    standing: standing(world, key),
    neverByHand: FAULTS[key.fault].neverByHand,
  };
}

/** Chips of the parts named, those that have room on the drawing. */
export function chipsOn(world: WorldView, parts: readonly PartName[]): readonly FaultChoice[] {
  return FAULT_PLACES.filter(
    (k) => parts.includes(k.part) && ON_PATH.includes(keyOf(k.fault, k.part)),
  ).map((k) => choiceOf(world, k));
}

function isSensor(part: PartName): boolean {
  return SENSOR_PARTS.some((sensor) => sensor === part);
}

function groupOf(part: PartName): string {
  return isSensor(part) ? "sensors" : PART_WORDS[part];
}

/** The list: severity is what a person chose, or the usual one. */
export function faultEntries(
  world: WorldView,
  chosen: Readonly<Record<string, number>>,
): readonly FaultListEntry[] {
  return FAULT_PLACES.map((key) => {
    const kind = FAULTS[key.fault];
    const choice = choiceOf(world, key);
    const severity = chosen[choice.key] ?? usualSeverity(key.fault, key.part);
    const scale = kind.severity;
    const share = scale.max > scale.min ? (severity - scale.min) / (scale.max - scale.min) : 1;
    return {
      ...choice,
      word: isSensor(key.part) ? `${kind.name}: ${choice.placeWord}` : kind.name,
      foldedUnder: USUAL_KEYS.includes(choice.key) ? null : groupOf(key.part),
      shortWord: key.fault === "arc" ? (ARC_WORDS[key.part] ?? choice.word) : kind.name,
      severity: scale.adjustable ? share : null,
      severityWord: `${formatNumber(severity, 2)}${scale.unit === "" ? "" : ` ${scale.unit}`}, ${scale.meaning}`,
    };
  });
}

/** Severity from the list's slider, 0 to 1 of the fault's range. */
export function severityAt(key: string, share: number): number {
  const { min, max } = FAULTS[faultOfKey(key).fault].severity;
  return min + (max - min) * Math.min(Math.max(share, 0), 1);
}
