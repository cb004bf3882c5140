/**
 * View models of one quiet arc at the tuning capacitor, as a screen would hand them to the drawings: the race.
 * Figures are those of the demonstration station where it has them, otherwise plausible; nothing is computed here.
 */
import type {
  DamageLane,
  MonitorLane,
  RacePoint,
  RaceView,
} from "../../../../src/ui/instruments/race/raceView";

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
    beforeWord: "filter",
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
      reachedWord: struck ? "peak 14 %, when the arc went out" : "peak 14 %, when the arc goes out",
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
    clearingWord: "cleared at",
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
  spine: { ...RACE_LIVE.spine, clearingHappened: false, clearingWord: "would clear at" },
  damage: damage(false),
  summary: `Forecast. ${SUMMARY}`,
};

/** An arc at the loading capacitor whose early edge is past before anything clears, and whose nominal margin is thin. */
export const RACE_LATE: RaceView = {
  ...RACE_LIVE,
  spine: {
    clearingS: CLEARED_S,
    clearingHappened: true,
    clearingWord: "cleared at",
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
