/**
 * View models of one quiet arc at the tuning capacitor, as a screen would hand them to the drawings.
 * Figures are those of the demonstration station where it has them, otherwise plausible; nothing is computed here.
 */
import type { EdgeView } from "../../../../src/ui/instruments/edge/edgeView";
import type { EventListView } from "../../../../src/ui/instruments/events/eventView";
import type { GaugeFrame, GaugeView } from "../../../../src/ui/instruments/gauge/gaugeView";
import type { FaultChoice, PathPart, PathView } from "../../../../src/ui/instruments/path/pathView";
import type {
  DamageLane,
  MonitorLane,
  RacePoint,
  RaceView,
} from "../../../../src/ui/instruments/race/raceView";
import type { StripFrame, StripView } from "../../../../src/ui/instruments/strip/stripView";
import type { TimeBarFrame, TimeBarView } from "../../../../src/ui/instruments/time/timeView";

const CLEARED_S = 4.3e-3;
const ONSET_S = 0.221;

function rise(fromS: number, toS: number, onsetS: number): readonly RacePoint[] {
  const points: RacePoint[] = [];
  for (let i = 0; i <= 60; i += 1) {
    const atS = fromS * (toS / fromS) ** (i / 60);
    points.push({ atS, fraction: Math.min(Math.sqrt(atS / onsetS), 1) });
  }
  return points;
}

function quietLane(key: string, name: string, device: string, why: string): MonitorLane {
  return {
    key,
    name,
    device,
    setting: "",
    mode: "acting",
    leading: false,
    pickup: null,
    scansS: [],
    operate: null,
    trip: null,
    arcOut: null,
    why,
    words: [],
    subWords: "",
    state: "no pickup",
    stateWord: "no pickup",
    stateNote: "",
  };
}

function monitors(happened: boolean): readonly MonitorLane[] {
  return [
    {
      ...quietLane("lowGain", "Low gain", "", ""),
      setting: "2.0 dB under expected, 3 scans of 1 ms",
      leading: true,
      pickup: { atS: 0.93e-3, happened },
      scansS: [1.63e-3, 2.63e-3],
      operate: { atS: 3.63e-3, happened },
      trip: { atS: 3.63e-3, happened },
      arcOut: { atS: CLEARED_S, happened },
      words: [
        { text: happened ? "operate " : "would operate " },
        { text: "3.63", strong: true },
        { text: ", cathode cut off " },
        { text: "3.73", strong: true },
        { text: ", arc out " },
        { text: "4.30 ms", strong: true },
      ],
      subWords: "trip: drive inhibited 3.83, cathode cut off 3.73, T/R relay due 11.6 ms",
      state: happened ? "trip" : "no pickup",
      stateWord: happened ? "trip" : "no pickup",
      stateNote: happened ? "3.63 ms" : "",
    },
    {
      ...quietLane("plateDissipation", "Plate dissipation", "49", "timing, thermal replica"),
      pickup: { atS: 1.7e-3, happened },
      operate: { atS: 3.1, happened: false },
      state: "shadow",
      stateWord: "shadow",
      stateNote: "3.10 s",
    },
    quietLane("gridTimed", "Grid overcurrent, timed", "51", "fell, 93.0 to 71.0 mA, pickup 150 mA"),
    quietLane("gridFast", "Grid overcurrent, fast", "50", "fell, 93.0 to 71.0 mA, pickup 350 mA"),
    quietLane("overdrive", "Overdrive", "", "steady, 65.0 W, pickup 100 W"),
    quietLane("reflected", "Reflected power", "", "fell, 15.0 to 0.160 W, pickup 170 W"),
    quietLane(
      "plateInstant",
      "Plate overcurrent, instantaneous",
      "76",
      "from 0.830 to 0.920 A, pickup 2.00 A",
    ),
    quietLane(
      "plateTimed",
      "Plate overcurrent, timed",
      "76",
      "from 0.830 to 0.920 A, pickup 1.05 A",
    ),
    quietLane("plateRf", "Plate RF overvoltage", "59", "fell, 2.47 kV to 250 V, pickup 3.40 kV"),
    quietLane("undervoltage", "Supply undervoltage", "27", "from 3.00 to 2.97 kV, pickup 2.50 kV"),
    {
      ...quietLane("noDrive", "Output without drive", "", "drive over 0.500 W"),
      state: "not armed",
      stateWord: "not armed",
    },
  ];
}

function lowLane(key: string, name: string, why: string, head: string): DamageLane {
  return {
    key,
    name,
    notes: [],
    tall: false,
    burning: [],
    cooling: [],
    leftAlone: [],
    slowEdge: [],
    onsetEarlyS: null,
    onsetS: null,
    onsetLateS: null,
    stages: [],
    limitWord: "",
    reachedWord: "",
    why,
    head,
    headNotes: [],
  };
}

function damage(struck: boolean): readonly DamageLane[] {
  return [
    {
      ...lowLane("tuningEdge", "Plate edge", "", "221 ms"),
      notes: ["tuning capacitor, aluminium", "way to melt onset"],
      tall: true,
      burning: struck ? rise(1e-6, CLEARED_S, ONSET_S) : [],
      cooling: struck
        ? [...Array(40).keys()].map((i) => ({
            atS: CLEARED_S * 300 ** (i / 39),
            fraction: 0.14 / (1 + i * 0.4),
          }))
        : [],
      leftAlone: rise(struck ? CLEARED_S : 1e-6, ONSET_S, ONSET_S),
      slowEdge: rise(1e-6, 1.3, 1.3),
      onsetEarlyS: 0.026,
      onsetS: ONSET_S,
      onsetLateS: 1.3,
      stages: [
        { word: "melt", fromS: ONSET_S, toS: 0.65, happened: false },
        { word: "bead", fromS: 0.65, toS: 2.9, happened: false },
        { word: "bridged", fromS: 2.9, toS: null, happened: false },
      ],
      limitWord: "melt onset, 607 °C",
      reachedWord: struck ? "14 % when the arc went out" : "14 % when the arc goes out",
      headNotes: ["melt onset", "26.0 ms to 1.30 s"],
    },
    {
      ...lowLane("anode", "Anode", "2.55 kW in the arc, 1.50 kW rated", "12.0 s"),
      onsetS: 12,
      leftAlone: rise(0.6, 10, 30),
    },
    lowLane("grid", "Grid", "stress fell, 93.0 to 71.0 mA", "below rating"),
    lowLane("cathode", "Cathode", "0.920 of 1.00 A", "below rating"),
    lowLane("exciter", "Exciter", "reflected 4.00 of 50.0 W", "below rating"),
  ];
}

const SUMMARY =
  "Low gain picks up 0.93 ms after the strike and operates at 3.63 ms; the arc is out at 4.30 ms. Left alone the plate edge would begin to melt at 221 ms: margin 51 times. An operator alone is 11 times too late.";

export const RACE_LIVE: RaceView = {
  standing: "live",
  title: "The race",
  note: "protection above the axis, damage below",
  nowS: 6e-3,
  monitors: monitors(true),
  spine: {
    clearingS: CLEARED_S,
    clearingHappened: true,
    onsetEarlyS: 0.026,
    onsetS: ONSET_S,
    onsetLateS: 1.3,
    margin: 51.4,
    marginEarly: 6.05,
    marginRequired: 3,
    noMarginWord: "",
  },
  operator: { earliestS: 2, latestS: 3, nominalS: 2.5, margin: 0.0884 },
  damage: damage(true),
  summary: SUMMARY,
};

export const RACE_FORECAST: RaceView = {
  ...RACE_LIVE,
  standing: "forecast",
  note: "forecast for the chosen fault: insect, tuning capacitor, if it struck now",
  nowS: null,
  monitors: monitors(false),
  spine: { ...RACE_LIVE.spine, clearingHappened: false },
  damage: damage(false),
  summary: `Forecast. ${SUMMARY}`,
};

/** An arc at the loading capacitor whose early edge is past before anything clears, and whose nominal margin is thin. */
export const RACE_LATE: RaceView = {
  ...RACE_LIVE,
  spine: {
    clearingS: CLEARED_S,
    clearingHappened: true,
    onsetEarlyS: 1.2e-3,
    onsetS: 2.4e-3,
    onsetLateS: 20e-3,
    margin: 0.56,
    marginEarly: 0.28,
    marginRequired: 3,
    noMarginWord: "",
  },
  operator: { ...RACE_LIVE.operator, margin: 0.00096 },
};

export const RACE_THIN: RaceView = {
  ...RACE_LIVE,
  spine: {
    ...RACE_LIVE.spine,
    onsetEarlyS: 4e-3,
    onsetS: 9e-3,
    onsetLateS: 30e-3,
    margin: 2.1,
    marginEarly: 0.93,
  },
  operator: { ...RACE_LIVE.operator, margin: 0.0036 },
};

export const RACE_UNCLEARED: RaceView = {
  ...RACE_LIVE,
  monitors: RACE_LIVE.monitors.filter((lane) => !lane.leading),
  spine: {
    ...RACE_LIVE.spine,
    clearingS: null,
    clearingHappened: false,
    margin: null,
    marginEarly: null,
    noMarginWord: "no monitor clears this fault",
  },
};

function fault(
  key: string,
  word: string,
  placeWord: string,
  extra: Partial<FaultChoice> = {},
): FaultChoice {
  return { key, word, placeWord, standing: "free", neverByHand: false, ...extra };
}

function part(
  symbol: PathPart["symbol"],
  name: string,
  readings: PathPart["readings"],
  extra: Partial<PathPart> = {},
): PathPart {
  return {
    symbol,
    name,
    readings,
    notes: [],
    bars: [],
    faults: [],
    arc: null,
    powerW: 16,
    powerBeforeW: 1450,
    open: false,
    ...extra,
  };
}

export const PATH_STRUCK: PathView = {
  summary: "Signal path from exciter to antenna. An arc burned at the tuning capacitor.",
  parts: [
    part(
      "exciter",
      "Exciter",
      [{ key: "drive", number: "65.0", unit: "W drive", before: "before 65.0 W" }],
      {
        powerW: 65,
        powerBeforeW: 65,
        bars: [{ key: "exciter", label: "reflected", kind: "stress", fraction: 0.06 }],
        faults: [fault("overdrive", "Overdrive", "exciter")],
      },
    ),
    part(
      "input",
      "Input circuit",
      [{ key: "vswr", number: "1.30", unit: "VSWR", before: "before 1.20" }],
      { powerW: 65, powerBeforeW: 65, faults: [fault("overshoot", "Overshoot", "input")] },
    ),
    part(
      "tube",
      "Tube, two triodes",
      [
        { key: "plate", number: "0.920", unit: "A plate", before: "before 0.830 A" },
        { key: "grid", number: "71.0", unit: "mA grid", before: "before 93.0 mA" },
      ],
      {
        powerW: 1400,
        powerBeforeW: 1450,
        bars: [
          { key: "grid", label: "grid", kind: "stress", fraction: 0.42 },
          { key: "cathode", label: "cathode", kind: "stress", fraction: 0.92 },
          { key: "anode", label: "anode", kind: "stress", fraction: 1.7 },
        ],
        faults: [
          fault("flashArc", "Flashover", "tube", { neverByHand: true }),
          fault("biasLoss", "Loss of bias", "tube"),
        ],
      },
    ),
    part("supply", "Supply", [{ key: "plate", number: "2.97", unit: "kV", before: "" }]),
    part(
      "tuning",
      "Tuning capacitor",
      [{ key: "rf", number: "250", unit: "V peak", before: "before 2.47 kV" }],
      {
        bars: [
          { key: "edge", label: "plate edge, way to melt onset", kind: "damage", fraction: 0.14 },
        ],
        faults: [
          fault("insect", "Insect", "tuning capacitor", { standing: "struck" }),
          fault("dust", "Dust", "tuning capacitor"),
        ],
        arc: { standing: "out", lines: ["169 W, burned 4.30 ms", "0.727 J, insect in the gap"] },
      },
    ),
    part("coil", "Coil", [{ key: "current", number: "1.10", unit: "A", before: "before 10.9 A" }], {
      bars: [{ key: "coil", label: "heat", kind: "stress", fraction: 0.01 }],
      faults: [fault("mistuned", "Off tune", "tank")],
    }),
    part(
      "loading",
      "Loading capacitor",
      [{ key: "rf", number: "40.0", unit: "V peak", before: "before 389 V" }],
      {
        bars: [{ key: "loading", label: "gap", kind: "stress", fraction: 0.05 }],
        faults: [fault("arcLoading", "Arc here", "loading capacitor")],
      },
    ),
    part(
      "relay",
      "T/R relay",
      [{ key: "state", number: "closed", unit: "", before: "due to open 11.6 ms" }],
      {
        bars: [{ key: "contacts", label: "contacts", kind: "stress", fraction: 0 }],
        faults: [fault("hotSwitch", "Hot switch", "relay")],
      },
    ),
    part("line", "Line", [{ key: "vswr", number: "1.22", unit: "VSWR", before: "before 1.22" }], {
      notes: ["reflected 0.160 W", "before 15.0 W"],
      faults: [
        fault("open", "Open", "line", { standing: "placed" }),
        fault("short", "Short", "line"),
      ],
    }),
    part(
      "antenna",
      "Antenna",
      [{ key: "power", number: "16.0", unit: "W", before: "before 1.45 kW" }],
      { notes: ["line weight: power", "grey: before"], faults: [fault("gust", "Gust", "antenna")] },
    ),
  ],
};

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

export const EDGE: EdgeView = {
  gapM: 1.5e-3,
  thisRun: {
    caption: "this run, arc out at 4.30 ms",
    peakK: 420,
    isotherms: [{ temperatureK: 373.15, radiusM: 0.7e-3 }],
    arc: "out",
    beadRadiusM: 0,
    bridged: false,
  },
  leftAlone: {
    caption: "left to the operator, 2.50 s",
    peakK: 933,
    isotherms: [
      { temperatureK: 373.15, radiusM: 3.6e-3 },
      { temperatureK: 473.15, radiusM: 2.7e-3 },
      { temperatureK: 673.15, radiusM: 1.9e-3 },
      { temperatureK: 873.15, radiusM: 1.1e-3 },
    ],
    arc: "burning",
    beadRadiusM: 0.67e-3,
    bridged: false,
  },
  summary:
    "Magnified plate edge: this run peaks at 147 degrees, unmelted; left to the operator a molten bead.",
};

export const EVENTS: EventListView = {
  title: "Sequence of events",
  note: "from the strike",
  rows: [
    {
      key: "1",
      atS: -3.2,
      mark: "change",
      sentence: [{ text: "Key down, drive 65.0 W" }],
      firstUp: false,
      isNew: false,
      ahead: false,
    },
    {
      key: "2",
      atS: -0.8,
      mark: "change",
      sentence: [{ text: "Fault placed: insect, tuning capacitor" }],
      firstUp: false,
      isNew: false,
      ahead: false,
    },
    {
      key: "3",
      atS: 0,
      mark: "strike",
      sentence: [{ text: "Strike, plate RF 2.47 kV to 250 V" }],
      firstUp: false,
      isNew: false,
      ahead: false,
    },
    {
      key: "4",
      atS: 0.93e-3,
      mark: "pickup",
      sentence: [{ text: "Low gain " }, { text: "pickup", strong: true }, { text: ", 11.7 dB" }],
      firstUp: true,
      isNew: false,
      ahead: false,
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
    },
    {
      key: "7",
      atS: 3.63e-3,
      mark: "trip",
      sentence: [{ text: "Trip", strong: true }, { text: ": drive, cathode, T/R relay" }],
      firstUp: false,
      isNew: false,
      ahead: false,
    },
    {
      key: "8",
      atS: 3.83e-3,
      mark: "change",
      sentence: [{ text: "Drive inhibited" }],
      firstUp: false,
      isNew: false,
      ahead: false,
    },
    {
      key: "9",
      atS: 4.3e-3,
      mark: "change",
      sentence: [{ text: "Arc out, 0.727 J" }],
      firstUp: false,
      isNew: false,
      ahead: false,
    },
    {
      key: "10",
      atS: 11.6e-3,
      mark: "due",
      sentence: [{ text: "T/R relay due to open" }],
      firstUp: false,
      isNew: false,
      ahead: true,
    },
    {
      key: "11",
      atS: 0.221,
      mark: "due",
      sentence: [{ text: "Left alone: melt onset" }],
      firstUp: false,
      isNew: false,
      ahead: true,
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
