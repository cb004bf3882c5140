/**
 * What the demonstration station does, in figures a designer would check. Standing: computed with an independent
 * model, unpublished, and, where it says ngspice, with full-waveform analyses; no other source. 65 W of drive unless
 * said.
 */
import { describe, expect, it } from "vitest";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import { DEFAULT_ACTUATORS } from "../../src/project/presets/sensors";
import type { Load, Station, SteadyArc } from "../../src/project/station";
import type { Project } from "../../src/project/types";
import { BURST_GRID_NS } from "../../src/simulation/burst";
import { CH, CHANNEL_COUNT } from "../../src/simulation/channels";
import { operatingPoint } from "../../src/simulation/operatingPoint";
import { actuatorLog, gainNowDb, reading } from "../support/benchLog";
import { benchOf, FAULT_S, faultScenario } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const DIGIT = "half a unit of the last printed digit, and 0.5 % between two solvers of one model";
/** Currents of two harmonics against the full waveform. */
const TRUNCATION = "truncation to two harmonics: 3.1 % in grid current on ordinary loads";

function at(availableW: number, change: Partial<Station> = {}) {
  const exciter = { ...DEFAULT_STATION.exciter, availableW };
  const result = operatingPoint({ ...DEFAULT_STATION, ...change, exciter });
  if (!result.ok) throw new Error("no working point");
  return result.point;
}

function loadOf(swr: number, degrees: number): Load {
  return {
    kind: "reflection",
    magnitude: (swr - 1) / (swr + 1),
    phaseRad: (degrees * Math.PI) / 180,
  };
}

/** Greatest of a reading over 24 phases of a VSWR. */
function worst(swr: number, value: (point: ReturnType<typeof at>) => number): number {
  let most = -Infinity;
  for (let k = 0; k < 24; k++) most = Math.max(most, value(at(65, { load: loadOf(swr, 15 * k) })));
  return most;
}

describe("the station at full drive", () => {
  it("gives 1453 W for 62 W, and 1523 W for 65 W", () => {
    expectWithin(at(62).outputW, 1453, 8, DIGIT);
    expectWithin(at(65).outputW, 1523, 8, DIGIT);
  });

  it("has a gain of 13.0 to 13.8 dB from 5 to 65 W", () => {
    for (const w of [5, 20, 40, 65]) expectWithin(at(w).gainDb, 13.4, 0.4, "the range named");
  });

  it.each([
    [80, 0.093],
    [100, 0.144],
    [130, 0.272],
    [195, 0.562],
  ])("draws its grid current at %i W of drive", (driveW, gridA) => {
    expectWithin(at(driveW).gridCurrentA, gridA, 0.01 * gridA + 0.0005, DIGIT);
  });

  it("compresses to 11.05 dB at 195 W", () => {
    expectWithin(at(195).gainDb, 11.05, 0.02, DIGIT);
  });

  it("never draws more than 1.25 A without an arc, up to 260 W", () => {
    for (const w of [65, 130, 195, 260]) expect(at(w).plateCurrentA).toBeLessThan(1.25);
  });
});

describe("a mismatched load, not retuned", () => {
  it("draws 143 mA of grid current at VSWR 1.5 and 259 mA at 2, worst phase", () => {
    expectWithin(
      worst(1.5, (p) => p.gridCurrentA),
      0.143,
      0.0015,
      DIGIT,
    );
    expectWithin(
      worst(2, (p) => p.gridCurrentA),
      0.259,
      0.003,
      DIGIT,
    );
  });

  it("raises the plate's RF peak to 3.12, 3.21 and 3.39 kV at VSWR 1.5, 2 and 3", () => {
    expectWithin(
      worst(1.5, (p) => p.plateRfPeakV),
      3120,
      20,
      DIGIT,
    );
    expectWithin(
      worst(2, (p) => p.plateRfPeakV),
      3210,
      20,
      DIGIT,
    );
    expectWithin(
      worst(3, (p) => p.plateRfPeakV),
      3390,
      20,
      DIGIT,
    );
  });

  it("leaves 11.6 and 10.1 dB at VSWR 2 and 3, worst phase", () => {
    // ngspice at 20 degrees of phase here and there; 15 degrees between phases cost up to 0.02 dB
    expectWithin(
      -worst(2, (p) => -p.gainDb),
      11.6,
      0.1,
      "0.05 dB of printing, 0.05 dB of truncation",
    );
    expectWithin(
      -worst(3, (p) => -p.gainDb),
      10.1,
      0.1,
      "0.05 dB of printing, 0.05 dB of truncation",
    );
  });

  it("brings 1.5 kW of plate dissipation at VSWR 1.5", () => {
    expectWithin(
      worst(1.5, (p) => p.plateDissipationW),
      1500,
      50,
      "two printed digits",
    );
  });

  it("takes an aged tube (perveance 30 % down) 2.3 dB under expected at VSWR 1.5: low gain would trip", () => {
    const tube = { ...DEFAULT_STATION.tube, perveanceAPerV1p5: 0.7 * 0.0021 };
    let least = Infinity;
    for (let k = 0; k < 24; k++) {
      least = Math.min(least, at(65, { tube, load: loadOf(1.5, 15 * k) }).forwardGainDb);
    }
    expectWithin(at(65).forwardGainDb - least, 2.3, 0.1, "printed to 0.1 dB");
    expect(at(65).forwardGainDb - least).toBeGreaterThan(2);
  });
});

describe("a load that comes off", () => {
  const open = at(65, {
    load: { kind: "admittance", conductanceSiemens: 2e-5, susceptanceSiemens: 0 },
  });

  it("delivers -11 dB and still shows 12.8 dB forward", () => {
    expectWithin(open.gainDb, -11.1, 0.25, "ngspice: -11 dB; limit of the solver on open loads");
    expectWithin(open.forwardGainDb, 12.8, 0.1, "printed to 0.1 dB");
  });

  it("holds 3.68 kV of RF peak and 187 to 195 mA of grid current", () => {
    expectWithin(open.plateRfPeakV, 3680, 40, "1 %: the plate swings below the cathode");
    expectWithin(
      open.gridCurrentA,
      0.191,
      0.0115,
      `range of two programs and 4 % more; ${TRUNCATION}`,
    );
    expect(open.plateMinV).toBeLessThan(0);
  });
});

describe("an arc", () => {
  const burning = (place: SteadyArc["place"], maintainingV: number) =>
    at(65, { arc: { place, maintainingV } });

  it.each([
    ["tuningCapacitor", 150, 5.1, -11.1, 110],
    ["tuningCapacitor", 250, 14.8, -6.4, 171],
    ["tuningCapacitor", 400, 38.9, -2.2, 252],
    ["loadingCapacitor", 150, 225, 5.4, 545],
    ["loadingCapacitor", 250, 625, 9.8, 547],
    ["coilTap", 250, 325, 7.0, 486],
  ] as const)(
    "at the %s with %i V leaves %d W and takes its share (ngspice)",
    (place, volts, outputW, gainDb, arcW) => {
      const point = burning(place, volts);
      expectWithin(point.outputW, outputW, 0.012 * outputW + 0.05, "1.2 % of output, last digit");
      expectWithin(point.gainDb, gainDb, 0.11, "0.055 dB of the solver, 0.05 dB of printing");
      expectWithin(point.arcW, arcW, 0.015 * arcW, "1.4 % in plate current at a held voltage");
    },
  );

  it("lets plate current rise by 4 to 12 % and grid current fall", () => {
    const normal = at(65);
    for (const [place, volts] of [
      ["tuningCapacitor", 250],
      ["loadingCapacitor", 160],
      ["coilTap", 250],
    ] as const) {
      const point = burning(place, volts);
      expectWithin(
        point.plateCurrentA / normal.plateCurrentA,
        1.08,
        0.042,
        "4 to 12 %, printed in whole per cent",
      );
      expect(point.gridCurrentA).toBeLessThan(normal.gridCurrentA);
      expect(point.reflectedW).toBeLessThan(1e-3);
    }
  });

  it("beyond the coupler sends power back", () => {
    const point = burning("beyondCoupler", 200);
    expect(point.reflectedW).toBeGreaterThan(170); // the pickup of reflected power
  });
});

describe("tuning off its dip", () => {
  function offBy(part: number) {
    const project = defaultProject([
      { atS: 0, do: "set", control: "driveW", value: 65 },
      { atS: 0, do: "set", control: "tuningRatio", value: 1 + part },
      { atS: 0.06, do: "key", down: true },
    ]);
    const bench = benchOf({ ...project, monitors: [] });
    bench.advanceTo(200_000_000);
    return bench;
  }

  it("by 10 % leaves 11.8 dB, by 20 % 8.5 dB and 2.4 kW on the plate", () => {
    for (const side of [-1, 1]) {
      expectWithin(gainNowDb(offBy(0.1 * side)), 11.8, 0.05, "printed to 0.1 dB");
      const bench = offBy(0.2 * side);
      expectWithin(
        gainNowDb(bench),
        8.5,
        0.15,
        "printed to 0.1 dB; a per cent of coil is 0.1 dB this far down the skirt",
      );
      expectWithin(
        reading(bench, "plateDissipationW"),
        2400,
        100,
        "two printed digits, one side and the other",
      );
    }
  });
});

describe("bias and cathode cut-off", () => {
  it.each([
    [30, 1077],
    [50, 726],
    [100, 184],
  ])("leaves power on the air with %i V of fixed bias", (cathodeV, outputW) => {
    expectWithin(
      at(65, { bias: { cathodeV } }).outputW,
      outputW,
      0.015 * outputW,
      "1.2 % of output, and the last digit",
    );
  });

  /** Low gain throws the cathode return alone; drive stays on. */
  function cutBy(resistorOhm: number) {
    const base = defaultProject([
      { atS: 0, do: "set", control: "driveW", value: 65 },
      ...faultScenario("insect", "tuningCapacitor"),
    ]);
    const project: Project = {
      ...base,
      monitors: DEFAULT_MONITORS.map((m) =>
        m.id === "lowGain"
          ? { ...m, actions: ["cathodeCutoff"] as const }
          : { ...m, role: "off" as const },
      ),
      actuators: {
        ...DEFAULT_ACTUATORS,
        cathodeCutoff: { ...DEFAULT_ACTUATORS.cathodeCutoff, resistorOhm },
      },
    };
    const bench = benchOf(project);
    bench.advanceTo(Math.round((FAULT_S + 0.05) * 1e9));
    expect(actuatorLog(bench).map((a) => a.what)).toEqual(["cathodeCutoff acted"]);
    return bench;
  }

  it("ends the arc through 10 kohm, which biases itself to 167 V and sends 53 of 65 W back", () => {
    const bench = cutBy(10e3);
    expect(bench.events.some((e) => e.kind === "arcOut")).toBe(true);
    expectWithin(reading(bench, "cathodeV"), 167, 1, DIGIT);
    expectWithin(reading(bench, "driveReflectedW"), 53, 0.6, DIGIT);
    expect(reading(bench, "forwardW")).toBeLessThan(10);
  });

  it("does not end the arc through 1 kohm", () => {
    const bench = cutBy(1e3);
    expect(bench.events.some((e) => e.kind === "arcOut")).toBe(false);
    expect(reading(bench, "arcW")).toBeGreaterThan(1);
  });
});

describe("a short of the plate supply", () => {
  function shorted(keyed: boolean) {
    const bench = benchOf(
      defaultProject([
        { atS: 0, do: "key", down: keyed },
        { atS: 0.2, do: "placeFault", fault: "plateSupplyShort", part: "supply", severity: 5 },
      ]),
    );
    bench.advanceTo(200_000_000);
    const filterV = reading(bench, "filterV");
    bench.advanceTo(212_000_000);
    const track = bench.recorder.tracks.find((t) => t.kind === "fault");
    if (track === undefined) throw new Error("no track");
    const channel = (name: keyof typeof CH, ns: number): number => {
      let k = 0;
      while (k + 1 < track.count && (BURST_GRID_NS[k + 1] as number) <= ns) k++;
      return track.data[k * CHANNEL_COUNT + CH[name]] as number;
    };
    const timeAt = (ns: number): number => BURST_GRID_NS.findLast((t) => t <= ns) ?? 0;
    return { filterV, channel, timeAt };
  }

  it("meets 187 J and 204 A key-down, 202 J and 212 A without key", () => {
    const down = shorted(true);
    expectWithin(0.5 * 40e-6 * down.filterV ** 2, 187, 1, DIGIT);
    expectWithin(down.channel("plateCurrentA", 100), 204, 1, DIGIT);
    const open = shorted(false);
    expectWithin(0.5 * 40e-6 * open.filterV ** 2, 202, 1, DIGIT);
    expectWithin(open.channel("plateCurrentA", 100), 212, 1, DIGIT);
  });

  it("shows in the negative lead and not in the tube", () => {
    const { channel } = shorted(true);
    expect(channel("plateCurrentA", 1000)).toBeGreaterThan(200);
    expect(channel("tubeCurrentA", 1000)).toBeLessThan(0.82);
  });

  it("empties the filter through 15 ohm while the mains feeds on through 150 ohm", () => {
    // 40 uF, 15 ohm parallel 150 ohm = 13.64 ohm: 0.5455 ms, towards 3180 V x 15/165 = 289.1 V. The energy in the filter is
    // down to 7 % at 0.9 ms and to 5 % at 1.06 ms; without the mains it would be 5 % at 0.9 ms
    const { filterV, channel, timeAt } = shorted(true);
    for (const ns of [100_000, 300_000, 900_000, 3_000_000, 9_000_000]) {
      const s = timeAt(ns) / 1e9;
      const v = 289.1 + (filterV - 289.1) * Math.exp(-s / 0.5455e-3);
      expectWithin(
        channel("filterV", ns),
        v,
        0.004 * filterV,
        "tube current beside 200 A: under 0.4 %",
      );
    }
    expectWithin(channel("plateCurrentA", 9_000_000), 19.3, 0.1, "3180 V over 165 ohm");
  });
});

describe("the contactor as the only actuator", () => {
  const bench = benchOf(
    defaultProject([
      { atS: 0, do: "placeFault", fault: "contactorOnly", part: "protection", severity: 1 },
      ...faultScenario("insect", "tuningCapacitor"),
    ]),
  );
  let mostGridA = 0;
  while (bench.timeNs < 520_000_000) {
    bench.advanceTo(bench.timeNs + 1_000_000);
    mostGridA = Math.max(mostGridA, reading(bench, "gridCurrentA"));
  }

  it("lets the arc burn on until the filter is empty", () => {
    const openedNs = actuatorLog(bench)[0]?.atNs ?? 0;
    const out = bench.events.find((e) => e.kind === "arcOut");
    // 40 uF from 3035 to 120 V at a mean of 0.8 A: 146 ms. The independent model, unpublished, says 120 to 140 ms at 65 W.
    expectWithin(
      ((out?.atNs ?? 0) - openedNs) / 1e9,
      0.146,
      0.015,
      "the mean current is known to a tenth",
    );
  });

  it("drives grid current to four times its rating and beyond", () => {
    // independent model, unpublished: 0.6 to 0.7 A while the filter empties, 0.76 A with no plate voltage at all
    expect(mostGridA).toBeGreaterThan(0.6);
    expect(mostGridA).toBeLessThan(0.8);
  });
});
