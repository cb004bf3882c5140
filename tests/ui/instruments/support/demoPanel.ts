/**
 * View models of one quiet arc at the tuning capacitor, as a screen would hand them to the drawings: gauges, strip chart, plate edge, events and time.
 * Figures are those of the demonstration station where it has them, otherwise plausible; nothing is computed here.
 */
import type { EventListView } from "../../../../src/ui/instruments/events/eventView";
import type { GaugeFrame, GaugeView } from "../../../../src/ui/instruments/gauge/gaugeView";
import type { StripFrame, StripView } from "../../../../src/ui/instruments/strip/stripView";
import type { TimeBarFrame, TimeBarView } from "../../../../src/ui/instruments/time/timeView";

function gauge(
  key: string,
  name: string,
  unit: string,
  minimum: number,
  maximum: number,
  major: number,
  extra: Partial<GaugeView>,
): GaugeView {
  return {
    key,
    name,
    unit,
    scale: {
      minimum,
      maximum,
      major,
      minorPerMajor: 2,
      minimumWord: String(minimum).replace("-", "\u2212"),
      maximumWord: String(maximum),
    },
    pickup: null,
    pickupWord: "no monitor",
    limit: null,
    limitSide: "over",
    state: "no pickup",
    stateWord: "no pickup",
    isNew: false,
    before: null,
    beforeWord: "",
    nowWord: "",
    noReading: null,
    ...extra,
  };
}

export const GAUGES: readonly { readonly view: GaugeView; readonly initial: GaugeFrame }[] = [
  {
    view: gauge("gain", "Forward gain", "dB", -10, 18, 4, {
      pickup: 11.7,
      pickupWord: "pickup 11.7",
      state: "trip",
      stateWord: "trip",
      isNew: true,
      before: 13.7,
      beforeWord: "before 13.7",
      nowWord: "now no drive",
    }),
    initial: { needle: 9.2, value: -6.1 },
  },
  {
    view: gauge("output", "Output", "W", 0, 2000, 500, {
      scale: {
        minimum: 0,
        maximum: 2000,
        major: 500,
        minorPerMajor: 5,
        minimumWord: "0",
        maximumWord: "2 kW",
      },
      stateWord: "no monitor",
      before: 1450,
      beforeWord: "before 1.45 kW",
      nowWord: "now 0",
    }),
    initial: { needle: 400, value: 16 },
  },
  {
    view: gauge("plate", "Plate current", "A", 0, 2.5, 0.5, {
      prefix: "",
      pickup: 1.05,
      pickupWord: "pickup 1.05",
      limit: 1.7,
      before: 0.83,
      beforeWord: "before 0.830",
      nowWord: "now 0.000",
    }),
    initial: { needle: 0.9, value: 0.92 },
  },
  {
    view: gauge("grid", "Grid current", "A", 0, 0.2, 0.05, {
      prefix: "m",
      scale: {
        minimum: 0,
        maximum: 0.2,
        major: 0.05,
        minorPerMajor: 5,
        minimumWord: "0",
        maximumWord: "200",
      },
      pickup: 0.15,
      pickupWord: "pickup 150",
      limit: 0.17,
      before: 0.093,
      beforeWord: "before 93.0",
      nowWord: "now 0.000",
      state: "pickup",
      stateWord: "pickup 0.4 s",
    }),
    initial: { needle: 0.088, value: 0.071 },
  },
  {
    view: gauge("plateRf", "Plate RF, peak", "V", 0, 4000, 1000, {
      scale: {
        minimum: 0,
        maximum: 4000,
        major: 1000,
        minorPerMajor: 2,
        minimumWord: "0",
        maximumWord: "4 kV",
      },
      pickup: 3400,
      pickupWord: "pickup 3.40 kV",
      limit: 3700,
      before: 2470,
      beforeWord: "before 2.47 kV",
      nowWord: "now 0",
    }),
    initial: { needle: 2000, value: 250 },
  },
  {
    view: gauge("reflected", "Reflected", "W", 0, 300, 100, {
      pickup: 170,
      pickupWord: "pickup 170",
      limit: 200,
      before: 15,
      beforeWord: "before 15.0",
      nowWord: "now 0.000",
      noReading: "sensor open",
    }),
    initial: { needle: 0, value: Number.NaN },
  },
];

export const STRIP: StripView = {
  lanes: [
    { key: "gain", name: "Gain", unit: "dB", minimum: -10, maximum: 16, pickup: 11.7 },
    { key: "output", name: "Output", unit: "W", minimum: 0, maximum: 1600, pickup: null },
    { key: "plate", name: "Plate", unit: "A", prefix: "", minimum: 0, maximum: 1.2, pickup: 1.05 },
    { key: "grid", name: "Grid", unit: "A", prefix: "m", minimum: 0, maximum: 0.2, pickup: 0.15 },
    { key: "reflected", name: "Reflected", unit: "W", minimum: 0, maximum: 200, pickup: 170 },
  ],
  fromS: -4e-3,
  toS: 6e-3,
  ticks: [-4, -2, 0, 2, 4, 6].map((ms) => ({
    atS: ms / 1000,
    word: ms === 6 ? "6 ms" : String(ms).replace("-", "\u2212"),
  })),
  valueWord: "held",
  summary: "Strip chart from 4 ms before to 6 ms after the strike.",
};

function column(before: number, during: number, after: number): readonly number[] {
  return [...Array(101).keys()].map((i) =>
    i < 40 ? before : i < 83 ? during + (before - during) * Math.exp(-(i - 40) / 6) : after,
  );
}

const STRIP_COLUMNS = [
  column(13.7, -6.1, Number.NaN),
  column(1450, 16, 0),
  column(0.83, 0.92, 0),
  column(0.093, 0.071, 0),
  column(15, 0.16, 0),
];
export const STRIP_FRAME: StripFrame = {
  columns: 101,
  minima: STRIP_COLUMNS,
  maxima: STRIP_COLUMNS,
  values: [-6.1, 16, 0.92, 0.071, 0.16],
  headColumn: 100,
  arc: { fromColumn: 40, toColumn: 83 },
};

export const EVENTS: EventListView = {
  title: "Sequence of events",
  note: "from the strike",
  heldKey: null,
  rows: [
    {
      key: "1",
      atS: -3.2,
      mark: "change",
      sentence: [{ text: "Key down, drive 65.0 W" }],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "2",
      atS: -0.8,
      mark: "change",
      sentence: [{ text: "Fault placed: insect, tuning capacitor" }],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "3",
      atS: 0,
      mark: "strike",
      sentence: [{ text: "Strike, plate RF 2.47 kV to 250 V" }],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "4",
      atS: 0.93e-3,
      mark: "pickup",
      sentence: [{ text: "Low gain " }, { text: "pickup", strong: true }, { text: ", 11.7 dB" }],
      firstUp: true,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "5",
      atS: 1.7e-3,
      mark: "pickup",
      sentence: [
        { text: "Plate dissipation " },
        { text: "pickup", strong: true },
        { text: ", 1.80 kW" },
      ],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "6",
      atS: 3.63e-3,
      mark: "operate",
      sentence: [
        { text: "Low gain " },
        { text: "operate", strong: true },
        { text: ", 3 of 3 scans" },
      ],
      firstUp: false,
      isNew: true,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "7",
      atS: 3.63e-3,
      mark: "trip",
      sentence: [{ text: "Trip", strong: true }, { text: ": drive, cathode, T/R relay" }],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "8",
      atS: 3.83e-3,
      mark: "change",
      sentence: [{ text: "Drive inhibited" }],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "9",
      atS: 4.3e-3,
      mark: "change",
      sentence: [{ text: "Arc out, 0.727 J" }],
      firstUp: false,
      isNew: false,
      ahead: false,
      leftAlone: false,
    },
    {
      key: "10",
      atS: 11.6e-3,
      mark: "due",
      sentence: [{ text: "T/R relay due to open" }],
      firstUp: false,
      isNew: false,
      ahead: true,
      leftAlone: false,
    },
    {
      key: "11",
      atS: 0.221,
      mark: "due",
      sentence: [{ text: "Left alone: melt onset" }],
      firstUp: false,
      isNew: false,
      ahead: true,
      leftAlone: false,
    },
  ],
};

export const TIME_VIEW: TimeBarView = {
  running: false,
  knots: [
    { atS: -4, fraction: 0 },
    { atS: 0, fraction: 0.35 },
    { atS: 6e-3, fraction: 1 },
  ],
  ticks: [
    { atS: -4, word: "\u22124 s" },
    { atS: -2, word: "\u22122" },
    { atS: 0, word: "0" },
    { atS: 2e-3, word: "2 ms" },
    { atS: 4e-3, word: "4" },
    { atS: 6e-3, word: "6" },
  ],
  events: [
    { key: "a", atS: -3.2, mark: "change" },
    { key: "b", atS: 0, mark: "strike" },
    { key: "c", atS: 0.93e-3, mark: "pickup" },
    { key: "d", atS: 1.7e-3, mark: "pickup" },
    { key: "e", atS: 3.63e-3, mark: "operate" },
    { key: "f", atS: 3.63e-3, mark: "trip" },
  ],
  lensSpans: [{ fromS: -1e-4, toS: 6e-3 }],
  lensOn: true,
  paceWord: "on screen 1 s = 2 ms",
  reachedWord: "",
  canSlower: true,
  canFaster: true,
  identityWord: "seed 7, 3f9a 0c",
  live: true,
};

export const TIME_FRAME: TimeBarFrame = {
  headS: 6e-3,
  clockNumber: "+6.000",
  clockUnit: "ms",
  clockNote: "paused, from the strike",
};
