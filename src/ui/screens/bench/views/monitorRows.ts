/** The monitors as editable rows: who acts, pickup, delay, what it watches, state. */
import type { Criterion, MonitorDef, QuantityName } from "../../../../project/protection";
import { formatReading, QUANTITY_WORDS } from "../../../../protection/quantityWords";
import type { WorldView } from "../../../../shells/bench/worldView";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { formatTime, quantityParts } from "../../../../units/format";
import { PREFIXES, type Prefix } from "../../../../units/prefixes";
import type { MonitorRowView, MonitorSetting } from "../../../instruments/controls/MonitorTable";

/** What each ratio is a ratio of. */
const OF_WORDS: Partial<Record<QuantityName, string>> = {
  efficiency: "of plate input",
  gridPlateRatio: "of plate current",
  inputReflectedRatio: "of the drive",
  tankLight: "of full scale",
  vswr: "VSWR",
};

/** Bounds of a pickup: a tenth to ten times what is set, dB and temperatures by distance. */
function pickupSetting({ quantity, pickup: value }: Criterion): MonitorSetting {
  const { unit } = QUANTITY_WORDS[quantity];
  if (unit === "dB") return { value, minimum: value - 20, maximum: value + 20, unit };
  if (unit === "K") return { value, minimum: value - 100, maximum: value + 100, unit: "°C" };
  const bounds = { value, minimum: value / 10, maximum: value * 10, unit };
  const ofWord = OF_WORDS[quantity];
  return ofWord === undefined ? { ...bounds, ...prefixOf(value, unit) } : { ...bounds, ofWord };
}

function delaySetting(criterion: Criterion): MonitorSetting | null {
  if (criterion.timing.kind !== "definite") return null;
  const value = criterion.timing.delayS;
  return { value, minimum: 0, maximum: 60, unit: "s", ...prefixOf(value, "s") };
}

/** A field stands in the prefix its value reads best in; a bare number typed is taken in it. */
function prefixOf(value: number, unit: string): { readonly prefix?: Prefix } {
  if (unit === "" || !(value > 0)) return {};
  const shown = quantityParts(value, unit).unit;
  const prefix = PREFIXES.find((p) => `${p.prefix}${unit}` === shown)?.prefix ?? "";
  return prefix === "" ? {} : { prefix };
}

/** Functions of the device numbers, as IEEE C37.2 names them in short. */
const DEVICE_WORDS: Readonly<Record<string, string>> = {
  "27": "undervoltage",
  "49": "thermal",
  "59": "overvoltage",
  "76": "direct-current overcurrent",
};

function deviceWords(number: string): string {
  const words = DEVICE_WORDS[number];
  if (number === "") return "";
  return words === undefined ? `device ${number}` : `device ${number}, ${words}`;
}

/** What a monitor's criteria say, in one line. */
export function watchesWord(def: MonitorDef): string {
  return def.criteria
    .map((c) => {
      const level = `${c.side} ${formatReading(c.quantity, c.pickup)}`;
      return `${QUANTITY_WORDS[c.quantity].words} ${level}, ${timingWord(c)}`;
    })
    .join("; ");
}

function timingWord(c: Criterion): string {
  switch (c.timing.kind) {
    case "instantaneous":
      return `${c.timing.scans} of ${c.timing.ofScans} scans`;
    case "definite":
      return `for ${formatTime(c.timing.delayS)}`;
    case "inverse":
      return `inverse time: the higher, the sooner, multiplier ${c.timing.timeMultiplier}`;
    case "thermal":
      return `thermal replica, ${formatTime(c.timing.timeConstantS)}`;
  }
}

/** Rows in the order of the project. */
export function monitorRows(
  world: WorldView,
  events: readonly BenchEvent[],
): readonly MonitorRowView[] {
  return world.settings.map((def): MonitorRowView => {
    const state = world.monitors.find((m) => m.id === def.id);
    const first = def.criteria[0];
    const word = state?.word ?? "off";
    const shadowed = state?.role === "shadow" && word === "operate";
    return {
      key: def.id,
      name: def.name,
      device: deviceWords(def.deviceNumber),
      watches: watchesWord(def),
      mode: def.role,
      pickup: first === undefined ? null : pickupSetting(first),
      delay: first === undefined ? null : delaySetting(first),
      state: shadowed ? "shadow" : word,
      stateWord: shadowed ? "shadow operate" : word,
      isNew: state !== undefined && !state.acknowledged && (word === "trip" || word === "lockout"),
      operateCount: events.filter(
        (e) =>
          e.kind === "protection" && e.event.kind === "operate" && e.event.monitorId === def.id,
      ).length,
    };
  });
}
