/** The six gauges of the bench and the line of readings under them: scales, pickups, limits, words. */

import type { MonitorDef } from "../../../../project/protection";
import type { Ratings } from "../../../../project/station";
import type { MonitorView, WorldView } from "../../../../shells/bench/worldView";
import { CH, type ChannelName, NO_GAIN_DB } from "../../../../simulation/channels";
import type { ExpectedGain } from "../../../../simulation/gainTable";
import { dbNumber, formatNumber, NO_VALUE } from "../../../../units/format";
import type { Prefix } from "../../../../units/prefixes";
import type { GaugeFrame, GaugeView } from "../../../instruments/gauge/gaugeView";
import { shownParts, shownQuantity } from "../../../instruments/shownQuantity";
import { channelIn, needleIn, shownValue } from "./frameReader";

interface GaugeDef {
  readonly key: string;
  readonly name: string;
  readonly channel: ChannelName;
  readonly unit: string;
  readonly prefix?: Prefix;
  readonly scale: GaugeView["scale"];
  /** Monitors that watch this quantity, the one whose pickup is drawn first. */
  readonly monitors: readonly string[];
  readonly criterion: number;
}

function scale(
  minimum: number,
  maximum: number,
  major: number,
  minorPerMajor: number,
  maximumWord: string,
  minimumWord = "0",
): GaugeView["scale"] {
  return { minimum, maximum, major, minorPerMajor, minimumWord, maximumWord };
}

const GAUGES: readonly GaugeDef[] = [
  {
    key: "gain",
    name: "Forward gain",
    channel: "sensedForwardGainDb",
    unit: "dB",
    scale: scale(-10, 18, 4, 2, "18", "−10"),
    monitors: ["lowGain"],
    criterion: 0,
  },
  {
    key: "output",
    name: "Output",
    channel: "outputW",
    unit: "W",
    scale: scale(0, 2000, 500, 5, "2 kW"),
    monitors: [],
    criterion: 0,
  },
  {
    key: "plate",
    name: "Plate current",
    channel: "plateCurrentA",
    unit: "A",
    prefix: "",
    scale: scale(0, 2.5, 0.5, 2, "2.5"),
    monitors: ["plateTimed", "plateInstantaneous"],
    criterion: 0,
  },
  {
    key: "grid",
    name: "Grid current",
    channel: "gridCurrentA",
    unit: "A",
    prefix: "m",
    scale: scale(0, 0.4, 0.1, 5, "400"),
    monitors: ["gridTimed", "gridFast"],
    criterion: 0,
  },
  {
    key: "plateRf",
    name: "Plate RF, peak",
    channel: "plateRfPeakV",
    unit: "V",
    scale: scale(0, 5000, 1000, 2, "5 kV"),
    monitors: ["plateRfOvervoltage"],
    criterion: 0,
  },
  {
    key: "reflected",
    name: "Reflected",
    channel: "reflectedW",
    unit: "W",
    prefix: "",
    scale: scale(0, 400, 100, 5, "400"),
    monitors: ["reflectedPower"],
    criterion: 0,
  },
];

export const GAUGE_KEYS: readonly string[] = GAUGES.map((g) => g.key);

function limitOf(key: string, ratings: Ratings): number | null {
  switch (key) {
    case "plate":
      return ratings.plateCurrentA * 1.25;
    case "grid":
      return ratings.gridCurrentA * 1.2;
    case "plateRf":
      return ratings.plateRfPeakV * 1.1;
    default:
      return null;
  }
}

const RANK = [
  "lockout",
  "trip",
  "operate",
  "pickup",
  "alarm",
  "acknowledged",
  "no pickup",
  "not armed",
  "off",
];

/** Of several monitors on one quantity, the one whose word weighs most. */
function weightiest(world: WorldView, ids: readonly string[]): MonitorView | null {
  let best: MonitorView | null = null;
  for (const m of world.monitors) {
    if (!ids.includes(m.id)) continue;
    if (best === null || RANK.indexOf(m.word) < RANK.indexOf(best.word)) best = m;
  }
  return best;
}

/** Readings: three figures, a gain in dB with one decimal. */
function reading(def: GaugeDef, value: number): string {
  if (def.unit === "dB") return value <= NO_GAIN_DB ? NO_VALUE : dbNumber(value);
  return shownParts(value, def.unit, def.prefix === undefined ? {} : { prefix: def.prefix }).number;
}

function worded(def: GaugeDef, value: number): string {
  if (def.unit === "dB") return dbNumber(value);
  if (def.prefix !== undefined) return reading(def, value);
  return shownQuantity(value, def.unit);
}

export interface GaugeInput {
  readonly world: WorldView;
  readonly ratings: Ratings;
  /** Row before the fault, once there was one. */
  readonly before: Float64Array | null;
  /** Row now, while readings of the operation are held. */
  readonly now: Float64Array | null;
  readonly driveW: number;
  readonly expectedGain: ExpectedGain;
}

function pickupOf(
  def: GaugeDef,
  monitor: MonitorDef | undefined,
  input: GaugeInput,
): number | null {
  const criterion = monitor?.criteria[def.criterion];
  if (monitor === undefined || criterion === undefined || monitor.role === "off") return null;
  if (criterion.quantity === "gainDeviationDb") {
    const expected = input.expectedGain(Math.max(input.driveW, 5));
    return Number.isFinite(expected) ? expected + criterion.pickup : null;
  }
  return criterion.pickup;
}

/** Everything of the gauges that changes on events only. */
export function gaugeViews(input: GaugeInput): readonly GaugeView[] {
  return GAUGES.map((def): GaugeView => {
    const state = weightiest(input.world, def.monitors);
    const monitor = input.world.settings.find((m) => m.id === def.monitors[0]);
    const pickup = pickupOf(def, monitor, input);
    const before =
      input.before === null ? null : shownValue(input.before[CH[def.channel]] as number);
    const known = before !== null && (def.unit !== "dB" || before > NO_GAIN_DB);
    const now = input.now === null ? null : shownValue(input.now[CH[def.channel]] as number);
    const shadow = state !== null && state.role === "shadow" && state.word === "operate";
    return {
      key: def.key,
      name: def.name,
      unit: def.unit,
      ...(def.prefix === undefined ? {} : { prefix: def.prefix }),
      scale: def.scale,
      pickup,
      pickupWord: pickup === null ? "no monitor" : `pickup ${worded(def, pickup)}`,
      limit: limitOf(def.key, input.ratings),
      limitSide: "over",
      state: state === null ? "no pickup" : shadow ? "shadow" : state.word,
      stateWord: state === null ? "no monitor" : shadow ? "shadow operate" : state.word,
      isNew:
        state !== null &&
        !state.acknowledged &&
        (state.word === "trip" || state.word === "lockout"),
      before: known ? before : null,
      beforeWord: known ? `before ${worded(def, before)}` : "",
      nowWord:
        now === null
          ? ""
          : def.unit === "dB" && now <= NO_GAIN_DB
            ? "now –"
            : `now ${worded(def, now)}`,
      noReading: null,
    };
  });
}

/** Needle and value of one gauge from a frame, or from the row that is held. */
export function gaugeFrame(
  key: string,
  frame: ArrayLike<number>,
  held: Float64Array | null,
): GaugeFrame {
  const def = GAUGES.find((g) => g.key === key) as GaugeDef;
  const value =
    held === null ? channelIn(frame, def.channel) : shownValue(held[CH[def.channel]] as number);
  const needle = held === null ? needleIn(frame, def.channel) : value;
  if (def.unit === "dB" && value <= NO_GAIN_DB)
    return { needle: def.scale.minimum, value: Number.NaN };
  return { needle, value };
}

export interface SideReading {
  readonly key: string;
  readonly name: string;
  readonly number: string;
  readonly unit: string;
}

/** Under one volt or watt no panel instrument of kilovolts shows anything. */
export function wholeOf(value: number): number {
  return Math.abs(value) < 1 ? 0 : value;
}

/** What an operator also looks for: plate voltage, VSWR, efficiency, dissipation. */
export function sideReadings(frame: ArrayLike<number>): readonly SideReading[] {
  const forward = channelIn(frame, "forwardW");
  const reflected = channelIn(frame, "reflectedW");
  const plateW = channelIn(frame, "plateV") * channelIn(frame, "tubeCurrentA");
  const gamma = Math.sqrt(Math.min(reflected / Math.max(forward, 1e-9), 0.9999));
  const dissipation = shownParts(wholeOf(channelIn(frame, "plateDissipationW")), "W");
  const plate = shownParts(wholeOf(channelIn(frame, "plateV")), "V");
  return [
    { key: "plateV", name: "Plate voltage", ...plate },
    {
      key: "vswr",
      name: "VSWR",
      number: forward < 5 ? NO_VALUE : formatNumber(Math.min((1 + gamma) / (1 - gamma), 99)),
      unit: "",
    },
    {
      key: "efficiency",
      name: "Efficiency",
      number:
        plateW < 1 || forward < 1
          ? NO_VALUE
          : formatNumber((100 * channelIn(frame, "outputW")) / plateW),
      unit: "%",
    },
    { key: "dissipation", name: "Plate dissipation", ...dissipation },
  ];
}
