/** Arbitrary projects for fast-check: any project that a file may hold, in plain types. */
import fc from "fast-check";
import { DEFAULT_BANDS } from "../../src/project/defaults";
import { FAULTS, onsetFits } from "../../src/project/faults";
import type {
  Actuators,
  Condition,
  Criterion,
  MonitorDef,
  QuantityName,
  SensorDef,
  Sensors,
  Timing,
} from "../../src/project/protection";
import type { ScenarioEntry, Signal } from "../../src/project/scenario";
import type { Antenna, Station } from "../../src/project/station";
import type { Project } from "../../src/project/types";

/** A double in a range, never -0, which JSON writes as 0. */
const number = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => value + 0);
/** A time of whole nanoseconds: any other is rounded on reading and would not come back the same. */
const timeS = (maxS: number) => fc.integer({ min: 0, max: maxS * 1e9 }).map((ns) => ns / 1e9);
const words = fc.string({ unit: "grapheme", maxLength: 30 });

const quantities: readonly QuantityName[] = [
  "driveForwardW",
  "outputReflectedW",
  "plateCurrentA",
  "forwardGainDb",
  "gainDeviationDb",
  "vswr",
  "efficiency",
];
const quantity = fc.constantFrom(...quantities);
const side = fc.constantFrom("over" as const, "under" as const);
const role = fc.constantFrom("acting" as const, "shadow" as const, "off" as const);
const condition: fc.Arbitrary<Condition> = fc.record({ quantity, side, level: number(-100, 5000) });
const conditions = fc.array(condition, { maxLength: 2 });

const timing: fc.Arbitrary<Timing> = fc.oneof(
  fc.integer({ min: 1, max: 5 }).chain((ofScans) =>
    fc.record({
      kind: fc.constant("instantaneous" as const),
      scans: fc.integer({ min: 1, max: ofScans }),
      ofScans: fc.constant(ofScans),
    }),
  ),
  fc.record({ kind: fc.constant("definite" as const), delayS: number(0, 10) }),
  fc.record({
    kind: fc.constant("inverse" as const),
    curve: fc.constantFrom("iecA" as const, "ieeeF" as const),
    timeMultiplier: number(0.05, 2),
  }),
  fc.record({ kind: fc.constant("thermal" as const), timeConstantS: number(0.1, 100) }),
);

const criterion: fc.Arbitrary<Criterion> = fc
  .record(
    {
      quantity,
      side,
      pickup: number(-100, 5000),
      away: number(0, 50),
      tunePickup: number(-100, 5000),
      timing,
      when: conditions,
    },
    { requiredKeys: ["quantity", "side", "pickup", "away", "timing", "when"] },
  )
  .map(({ away, ...rest }) => ({
    ...rest,
    dropOff: rest.side === "over" ? rest.pickup - away : rest.pickup + away,
  }));

function monitor(id: string): fc.Arbitrary<MonitorDef> {
  return fc.record({
    id: fc.constant(id),
    name: words,
    deviceNumber: fc.constantFrom("", "59", "76"),
    role,
    tuneRole: role,
    path: fc.constant("scanned" as const),
    scanS: fc.integer({ min: 1, max: 40 }).map((samples) => (samples * 50_000) / 1e9),
    smoothingS: number(0, 0.1),
    arming: fc.record({
      kind: fc.constantFrom("always" as const, "onAir" as const),
      driveAboveW: number(0, 10),
      settledS: number(0, 1),
      holdS: number(0, 1),
      when: conditions,
      afterSupplyReadyS: number(0, 5),
    }),
    blankingS: number(0, 1),
    criteria: fc.array(criterion, { minLength: 1, maxLength: 3 }),
    alarm: fc.option(fc.record({ quantity, side, level: number(0, 5000), delayS: number(0, 1) })),
    actions: fc.subarray([
      "driveInhibit",
      "cathodeCutoff",
      "transmitReceive",
      "contactor",
      "crowbar",
    ] as const),
    reset: fc.record({
      kind: fc.constantFrom("byHand" as const, "self" as const, "lockout" as const),
      afterS: number(0, 10),
      tries: fc.nat(5),
      withinS: number(0, 100),
      repeatWithinS: number(0, 100),
      when: conditions,
    }),
  });
}

const sensor: fc.Arbitrary<SensorDef> = fc.record({
  timeConstantS: number(0, 0.01),
  fullScale: number(1, 1e4),
  bits: fc.integer({ min: 8, max: 16 }),
  gainError: number(-0.1, 0.1),
  offset: number(-1, 1),
  noiseFraction: number(0, 0.01),
  directivityDb: fc.option(number(10, 40)),
});

const sensors: fc.Arbitrary<Sensors> = fc.record({
  driveForwardW: sensor,
  driveReflectedW: sensor,
  outputForwardW: sensor,
  outputReflectedW: sensor,
  plateCurrentA: sensor,
  gridCurrentA: sensor,
  plateV: sensor,
  plateRfPeakV: sensor,
  exhaustAirK: sensor,
  tankLight: sensor,
  comparatorTap: fc.record({ timeConstantS: number(0, 1e-3), fullScaleA: number(1, 100) }),
});

const delaySpread = { earliestRatio: number(0, 1), latestRatio: number(1, 10) };

const actuators: fc.Arbitrary<Actuators> = fc.record({
  driveInhibit: fc.record({ delayS: number(0, 0.1), ...delaySpread }),
  cathodeCutoff: fc.record({
    ...delaySpread,
    delayS: number(0, 0.1),
    kind: fc.constantFrom("resistor" as const, "step" as const),
    resistorOhm: number(100, 1e5),
    bypassF: number(0, 1e-6),
    stepV: number(0, 500),
  }),
  transmitReceive: fc.record({
    ...delaySpread,
    releaseS: number(0, 0.1),
    waitBelowW: number(0, 100),
    waitAtMostS: number(0, 0.1),
  }),
  contactor: fc.record({ delayS: number(0, 0.1), ...delaySpread }),
  crowbar: fc.record({
    ...delaySpread,
    fitted: fc.constant(true),
    delayS: number(0, 1e-3),
    resistanceOhm: number(0.1, 10),
  }),
});

const metal = fc.constantFrom("alloy5052" as const, "aluminium" as const, "copper" as const);
const airCapacitor = fc.record({
  minF: number(1e-12, 2e-11),
  maxF: number(1e-10, 1e-8),
  gapM: number(1e-4, 0.01),
  plateThicknessM: number(1e-4, 0.01),
  metal,
  maintainingV: number(50, 500),
});
const contact = fc.record({
  gapM: number(1e-4, 0.01),
  thicknessM: number(1e-4, 0.01),
  metal,
  maintainingV: number(50, 500),
  tapFraction: number(0.01, 0.99),
});
const arcVoltage = fc.constantFrom("value" as const, "law" as const);
const edge = (min: number, max: number) =>
  fc.record({ spotAPerM2: number(min, max), electrodeShare: number(0.05, 1) });

const feedLine = fc.record({
  name: words,
  lineOhm: number(20, 1000),
  lengthM: number(0, 100),
  velocityFactor: number(0.5, 1),
  lossAtHz: number(1e6, 3e7),
  conductorDbPerM: number(0, 0.05),
  dielectricDbPerM: number(0, 0.01),
});
const antenna: fc.Arbitrary<Antenna> = fc.oneof(
  fc.record({
    kind: fc.constant("resonant" as const),
    name: words,
    resonanceHz: number(1e6, 3e7),
    resistanceOhm: number(1, 1000),
    q: number(1, 100),
  }),
  fc.record({
    kind: fc.constant("reflection" as const),
    magnitude: number(0, 0.9999),
    phaseRad: number(-6, 6),
  }),
);

const levelControlTimes = {
  attackS: number(1e-3, 0.1),
  releaseS: number(0.01, 10),
  rangeDb: number(0, 40),
};
const levelControl = fc.oneof(
  fc.constant({ kind: "none" as const }),
  fc.record({
    kind: fc.constant("output" as const),
    thresholdW: number(10, 2000),
    ...levelControlTimes,
  }),
  fc.record({
    kind: fc.constant("grid" as const),
    thresholdA: number(0.01, 1),
    ...levelControlTimes,
  }),
);
const talker = fc.integer({ min: 0, max: 0xffff_ffff });
const signal: fc.Arbitrary<Signal> = fc.oneof(
  fc.constant({ signal: "carrier" as const }),
  fc.record({ signal: fc.constant("twoTone" as const), spacingHz: number(1, 3000) }),
  fc.record({ signal: fc.constant("speech" as const), talker }),
  fc.record({
    signal: fc.constant("processedSpeech" as const),
    talker,
    processingDb: number(0, 30),
  }),
  fc.record({ signal: fc.constant("data" as const), powerShare: number(0, 1) }),
);

const station: fc.Arbitrary<Station> = fc.record(
  {
    freqHz: number(14.0e6, 14.35e6),
    exciter: fc.record({
      sourceOhm: number(10, 300),
      availableW: number(0, 500),
      keyEdgeS: number(0, 0.02),
      alc: levelControl,
      overshootDb: number(0, 6),
      overshootS: number(1e-3, 0.1),
    }),
    inputCircuit: fc.oneof(
      fc.record({
        kind: fc.constant("explicit" as const),
        turnsRatio: number(0.1, 10),
        capacitanceF: number(1e-12, 1e-8),
        inductanceH: number(1e-9, 1e-5),
        shuntOhm: number(10, 1e5),
      }),
      fc.record({
        kind: fc.constant("designed" as const),
        cathodeOhm: number(10, 300),
        loadedQ: number(1, 10),
        shuntOhm: number(10, 1e5),
      }),
    ),
    tube: fc.record({
      kind: fc.constant("triode" as const),
      name: words,
      count: fc.integer({ min: 1, max: 4 }),
      mu: number(10, 500),
      perveanceAPerV1p5: number(1e-5, 0.1),
      divisionRatio: number(0.5, 10),
      offsetV: number(-50, 50),
    }),
    bias: fc.record({ cathodeV: number(0, 100) }),
    blockingCapacitor: fc.record({ capacitanceF: number(1e-10, 1e-8), ratedV: number(1e3, 2e4) }),
    safetyChoke: fc.record({ inductanceH: number(1e-4, 1e-2), resistanceOhm: number(0, 100) }),
    supply: fc.oneof(
      fc.record({ kind: fc.constant("stiff" as const), plateV: number(0, 5000) }),
      fc.record({
        kind: fc.constant("rectified" as const),
        noLoadV: number(500, 5000),
        sourceOhm: number(10, 500),
        filterF: number(1e-6, 1e-4),
        surgeOhm: number(1, 100),
        bleederOhm: number(1e4, 1e6),
        bypassF: number(1e-10, 1e-8),
        mains: fc.record({ ratio: number(0.8, 1.2) }),
        stepStart: fc.record({ resistorOhm: number(0, 5000), timeS: number(0, 3) }),
        fuse: fc.oneof(
          fc.constant({ kind: "none" } as const),
          fc.record({
            kind: fc.constant("fitted" as const),
            meltingA2s: number(0.1, 100),
            meltingA: number(1, 100),
          }),
        ),
      }),
    ),
    tank: fc.oneof(
      fc.record({
        kind: fc.constant("explicitPi" as const),
        tuningF: number(1e-11, 1e-9),
        coilH: number(1e-7, 1e-4),
        coilSeriesOhm: number(0, 10),
        loadingF: number(1e-11, 1e-8),
        chokeH: number(1e-5, 1e-3),
        strayF: number(0, 9e-12),
      }),
      fc.record({
        kind: fc.constant("explicitPiL" as const),
        tuningF: number(1e-11, 1e-9),
        coilH: number(1e-7, 1e-4),
        coilSeriesOhm: number(0, 10),
        loadingF: number(1e-11, 1e-8),
        outputCoilH: number(1e-7, 1e-5),
        outputCoilSeriesOhm: number(0, 5),
        chokeH: number(1e-5, 1e-3),
        strayF: number(0, 9e-12),
      }),
      fc.record({
        kind: fc.constant("designedPi" as const),
        plateLoadOhm: number(500, 5000),
        bands: fc.constant(DEFAULT_BANDS),
      }),
    ),
    load: fc.oneof(
      fc.record({
        kind: fc.constant("admittance" as const),
        conductanceSiemens: number(0, 1000),
        susceptanceSiemens: number(-10, 10),
      }),
      fc.record({
        kind: fc.constant("reflection" as const),
        magnitude: number(0, 0.9999),
        phaseRad: number(-6, 6),
      }),
      fc.record({ kind: fc.constant("antenna" as const), line: feedLine, antenna }),
    ),
    site: fc.record({
      altitudeM: number(0, 3000),
      airK: number(250, 330),
      relativeHumidity: number(0, 1),
    }),
    ratings: fc.record({
      plateDissipationW: number(100, 1e4),
      plateCurrentA: number(0.1, 10),
      gridCurrentA: number(0.01, 1),
      gridDissipationW: number(1, 100),
      plateV: number(1000, 1e4),
      plateRfPeakV: number(1000, 1e4),
      exciterReflectedW: number(1, 100),
      tuningRmsA: number(0.1, 100),
      loadingRmsA: number(0.1, 100),
      coilRmsA: number(0.1, 100),
      chokeRmsA: number(0.1, 100),
      blockingRmsA: number(0.1, 100),
      outputRmsA: number(0.1, 100),
    }),
    tuningCapacitor: airCapacitor,
    loadingCapacitor: airCapacitor,
    bandSwitch: contact,
    outputContact: contact,
    cooling: fc.record(
      {
        airflowM3PerS: number(1e-3, 0.1),
        inletK: number(250, 330),
        anodeHeatCapacityJPerK: number(10, 1e4),
        ratedRiseK: number(50, 500),
        stillShare: number(0.001, 0.2),
        anodeLimitK: number(500, 1200),
        sealTimeConstantS: number(10, 1000),
        sealLimitK: number(400, 600),
      },
      {
        requiredKeys: [
          "airflowM3PerS",
          "anodeHeatCapacityJPerK",
          "ratedRiseK",
          "stillShare",
          "anodeLimitK",
          "sealTimeConstantS",
          "sealLimitK",
        ],
      },
    ),
    clocks: fc.record({
      emitter: fc.constantFrom("oxide" as const, "thoriatedTungsten" as const),
      gridRatedK: number(900, 1200),
      gridIdleK: number(300, 800),
      gridLimitK: number(1200, 2000),
      gridTimeConstantS: number(0.05, 2),
      exciterTimeConstantS: number(0.5, 60),
      contactTimeConstantS: number(0.5, 100),
      capacitorTimeConstantS: number(0.5, 100),
      chokeTimeConstantS: number(0.5, 100),
      surgeRatedJ: number(10, 1e4),
      surgeCoolingS: number(1, 100),
      relayRatedJ: number(0.1, 1e4),
    }),
    airGaps: fc.record({
      rfStrength: number(0.8, 1),
      edgeFactor: number(0.3, 1),
      strikeSpread: number(0, 0.1),
      arcVoltage: fc.record({
        tuningCapacitor: arcVoltage,
        coilTap: arcVoltage,
        loadingCapacitor: arcVoltage,
        beyondCoupler: arcVoltage,
      }),
      moltenEdgeLowers: fc.boolean(),
    }),
    erosion: fc.record({
      nominal: edge(1e6, 1e7),
      early: edge(5e6, 1e8),
      late: edge(1e5, 4e6),
      arcTimeConstantS: number(1e-6, 1e-4),
      holdingW: number(0, 100),
      startK: number(250, 400),
    }),
    powerUp: fc.record({ warmUpS: number(0, 300), fanRunOnS: number(0, 300) }),
    transmitReceive: fc.record({
      antennaRelayS: number(0, 0.1),
      inputRelayS: number(0, 0.1),
      biasS: number(0, 0.1),
      driveS: number(0, 0.1),
      holdS: number(0, 1),
    }),
    arc: fc.oneof(
      fc.record({
        place: fc.constantFrom("tuningCapacitor" as const, "loadingCapacitor" as const),
        maintainingV: number(50, 500),
      }),
      fc.record({
        place: fc.constant("coilTap" as const),
        maintainingV: number(50, 500),
        tapFraction: number(0.01, 0.99),
      }),
    ),
  },
  {
    requiredKeys: [
      "freqHz",
      "exciter",
      "inputCircuit",
      "tube",
      "bias",
      "supply",
      "tank",
      "load",
      "site",
      "ratings",
      "tuningCapacitor",
      "loadingCapacitor",
      "blockingCapacitor",
      "safetyChoke",
      "bandSwitch",
      "outputContact",
      "cooling",
      "clocks",
      "airGaps",
      "erosion",
      "transmitReceive",
      "powerUp",
    ],
  },
);

const onset = fc.oneof(
  fc.constant({ kind: "sudden" } as const),
  fc.record({ kind: fc.constant("growing" as const), overS: number(0.01, 100) }),
  fc.record({ kind: fc.constant("intermittent" as const), share: number(0.01, 0.99) }),
  fc.record({ kind: fc.constant("passing" as const), forS: number(0.01, 10) }),
);

const placed = fc.constantFrom(...Object.values(FAULTS)).chain((kind) =>
  fc.record({
    do: fc.constant("placeFault" as const),
    fault: fc.constant(kind.fault),
    part: fc.constantFrom(...kind.parts),
    severity: number(kind.severity.min, kind.severity.max),
    ...(kind.latent ? {} : { onset: onset.filter((how) => onsetFits(kind.fault, how)) }),
  }),
);

const command = fc.oneof(
  signal.map((sent) => ({ do: "signal" as const, ...sent })),
  fc.record({
    do: fc.constant("set" as const),
    control: fc.constantFrom("tuningRatio" as const, "loadingRatio" as const),
    value: number(0.5, 2),
  }),
  fc.record({ do: fc.constant("key" as const), down: fc.boolean() }),
  fc.record({
    do: fc.constant("key" as const),
    text: fc.constantFrom("PARIS", "CQ TEST = 73"),
    wordsPerMinute: number(5, 40),
  }),
  fc.record({
    do: fc.constantFrom(
      "operate" as const,
      "standby" as const,
      "acknowledge" as const,
      "clearTripMemory" as const,
      "reset" as const,
    ),
  }),
  fc.record({ do: fc.constant("power" as const), on: fc.boolean() }),
  fc.record({
    do: fc.constant("interlock" as const),
    which: fc.constantFrom("lid" as const, "airflow" as const),
    closed: fc.boolean(),
  }),
  fc.record({
    do: fc.constant("mode" as const),
    mode: fc.constantFrom("operate" as const, "tune" as const),
  }),
  placed,
  placed.map(({ fault, part }) => ({ do: "removeFault" as const, fault, part })),
  fc.record({
    do: fc.constant("configureMonitor" as const),
    monitor: fc.constant("first"),
    change: fc.record(
      { role, criterion: fc.constant(0), pickup: number(0, 100), delayS: number(0, 1), timing },
      { requiredKeys: [] },
    ),
  }),
);

const scenario: fc.Arbitrary<ScenarioEntry[]> = fc
  .array(
    fc.tuple(timeS(3), command).map(([atS, rest]): ScenarioEntry => ({ atS, ...rest })),
    { maxLength: 8 },
  )
  .map((entries) => entries.sort((a, b) => a.atS - b.atS));

const anyTank: fc.Arbitrary<Project> = fc.record({
  format: fc.constant("quietarc-project" as const),
  schemaVersion: fc.constant(1 as const),
  title: words,
  seed: fc.nat(),
  sampleNs: fc.constant(50_000),
  endS: fc.integer({ min: 1e9, max: 3e9 }).map((ns) => ns / 1e9),
  operatorS: timeS(2),
  station,
  sensors,
  monitors: fc.tuple(monitor("first"), monitor("second")),
  actuators,
  scenario,
  accepted: fc.array(
    placed.map(({ fault, part }) => ({ fault, part, reason: "looked at" })),
    { maxLength: 2 },
  ),
  notes: fc.string({ unit: "binary", maxLength: 200 }),
});

/** Any project: what is written of it must read as the same again. */
export const arbitraryProject: fc.Arbitrary<Project> = anyTank.map((project) => {
  const { tank } = project.station;
  const band = tank.kind === "designedPi" ? tank.bands[0]?.name : undefined;
  if (band === undefined) return project;
  return { ...project, accepted: project.accepted.map((entry) => ({ ...entry, band })) };
});
