/**
 * View models of one quiet arc at the tuning capacitor, as a screen would hand them to the drawings: the signal path.
 * Figures are those of the demonstration station where it has them, otherwise plausible; nothing is computed here.
 */
import type { FaultChoice, PathPart, PathView } from "../../../../src/ui/instruments/path/pathView";

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
