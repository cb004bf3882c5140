/** Shape and ranges of the station. Ranges are wide: they keep out slips of the pen and what the solver cannot stand. */
import * as z from "zod/mini";
import { anObject, flag, list, quantity, record, share, text } from "./parts";
import { tubeSchema } from "./tubeSchema";

const positive = { min: 0, aboveMin: true } as const;
const freqHz = quantity("Hz", { min: 1e5, max: 1e8 });
const resistanceOhm = quantity("ohm", { min: 1e-3, max: 1e12 });
const reactorF = quantity("F", { ...positive, max: 1e-6 });
const reactorH = quantity("H", { ...positive, max: 1 });
const maintainingV = quantity("V", { min: 10, max: 5000 });
const lengthM = quantity("m", { min: 1e-6, max: 1 });
const tapFraction = quantity("", { min: 0, max: 1, aboveMin: true, belowMax: true });
const powerW = quantity("W", { ...positive, max: 1e6 });
const partA = quantity("A", { ...positive, max: 1e3 });
const airK = quantity("K", { min: 200, max: 400 });
const partK = quantity("K", { min: 250, max: 4000 });
const timeConstantS = quantity("s", { min: 0.1, max: 1e5 });
const energyJ = quantity("J", { min: 1e-3, max: 1e9 });
const sequenceS = quantity("s", { min: 0, max: 1 });

/** Attack may not come near a sample: the control is stepped once in each. */
const levelControlTimes = {
  attackS: quantity("s", { min: 1e-3, max: 1 }),
  releaseS: quantity("s", { min: 1e-3, max: 100 }),
  rangeDb: quantity("dB", { min: 0, max: 60 }),
};

const levelControl = z.discriminatedUnion(
  "kind",
  [
    record({ kind: z.literal("none") }),
    record({
      kind: z.literal("output"),
      thresholdW: quantity("W", { min: 1, max: 1e6 }),
      ...levelControlTimes,
    }),
    record({
      kind: z.literal("grid"),
      thresholdA: quantity("A", { min: 1e-4, max: 1e3 }),
      ...levelControlTimes,
    }),
  ],
  anObject,
);

const exciter = record({
  sourceOhm: quantity("ohm", { min: 1, max: 1e5 }),
  availableW: quantity("W", { min: 0, max: 1e4 }),
  keyEdgeS: quantity("s", { min: 0, max: 0.1 }),
  alc: levelControl,
  overshootDb: quantity("dB", { min: 0, max: 20 }),
  overshootS: quantity("s", { min: 1e-4, max: 1 }),
});

const inputCircuit = z.discriminatedUnion(
  "kind",
  [
    record({
      kind: z.literal("explicit"),
      turnsRatio: quantity("", { min: 0.01, max: 100 }),
      capacitanceF: reactorF,
      inductanceH: reactorH,
      shuntOhm: resistanceOhm,
    }),
    record({
      kind: z.literal("designed"),
      cathodeOhm: quantity("ohm", { min: 1, max: 1e4 }),
      loadedQ: quantity("", { min: 0.1, max: 100 }),
      shuntOhm: resistanceOhm,
    }),
  ],
  anObject,
);

const fuse = z.discriminatedUnion(
  "kind",
  [
    record({ kind: z.literal("none") }),
    record({
      kind: z.literal("fitted"),
      meltingA2s: quantity("A2s", { ...positive, max: 1e6 }),
      meltingA: quantity("A", { ...positive, max: 1e4 }),
    }),
  ],
  anObject,
);

const supply = z.discriminatedUnion(
  "kind",
  [
    record({ kind: z.literal("stiff"), plateV: quantity("V", { min: 0, max: 2e4 }) }),
    record({
      kind: z.literal("rectified"),
      noLoadV: quantity("V", { min: 0, max: 2e4 }),
      sourceOhm: quantity("ohm", { min: 0.1, max: 1e5 }),
      filterF: quantity("F", { min: 1e-9, max: 1 }),
      surgeOhm: quantity("ohm", { min: 0.1, max: 1e4 }),
      bleederOhm: quantity("ohm", { min: 100, max: 1e12 }),
      bypassF: quantity("F", { min: 1e-12, max: 1e-3 }),
      mains: record({ ratio: quantity("", { min: 0.5, max: 1.5 }) }),
      stepStart: record({
        resistorOhm: quantity("ohm", { min: 0, max: 1e6 }),
        timeS: quantity("s", { min: 0, max: 60 }),
      }),
      fuse,
    }),
  ],
  anObject,
);

const bandTank = record({
  name: text(40),
  fromHz: freqHz,
  toHz: freqHz,
  loadedQ: quantity("", { min: 2, max: 100 }),
  coilQ: quantity("", { min: 10, max: 1e5 }),
  chokeH: reactorH,
  strayF: quantity("F", { min: 0, max: 1e-6 }),
});

const tank = z.discriminatedUnion(
  "kind",
  [
    record({
      kind: z.literal("explicitPi"),
      tuningF: reactorF,
      coilH: reactorH,
      coilSeriesOhm: quantity("ohm", { min: 0, max: 1000 }),
      loadingF: reactorF,
      chokeH: reactorH,
      strayF: quantity("F", { min: 0, max: 1e-6 }),
    }),
    record({
      kind: z.literal("explicitPiL"),
      tuningF: reactorF,
      coilH: reactorH,
      coilSeriesOhm: quantity("ohm", { min: 0, max: 1000 }),
      loadingF: reactorF,
      outputCoilH: reactorH,
      outputCoilSeriesOhm: quantity("ohm", { min: 0, max: 1000 }),
      chokeH: reactorH,
      strayF: quantity("F", { min: 0, max: 1e-6 }),
    }),
    record({
      kind: z.literal("designedPiL"),
      plateLoadOhm: quantity("ohm", { min: 100, max: 1e5 }),
      intermediateOhm: quantity("ohm", { min: 50, max: 1e5 }),
      bands: list(bandTank),
    }),
    record({
      kind: z.literal("designedPi"),
      plateLoadOhm: quantity("ohm", { min: 100, max: 1e5 }),
      bands: list(bandTank),
    }),
  ],
  anObject,
);

const lineDbPerM = quantity("dB", { min: 0, max: 100 });

const feedLine = record({
  name: text(100),
  lineOhm: quantity("ohm", { min: 1, max: 2000 }),
  lengthM: quantity("m", { min: 0, max: 1e4 }),
  velocityFactor: quantity("", { min: 0.1, max: 1 }),
  lossAtHz: freqHz,
  conductorDbPerM: lineDbPerM,
  dielectricDbPerM: lineDbPerM,
});

const antenna = z.discriminatedUnion(
  "kind",
  [
    record({
      kind: z.literal("resonant"),
      name: text(100),
      resonanceHz: freqHz,
      resistanceOhm: quantity("ohm", { min: 0.1, max: 1e4 }),
      q: quantity("", { min: 0.1, max: 1e4 }),
    }),
    record({
      kind: z.literal("reflection"),
      // Over 1 is refused as not passive, in meaningStation.ts.
      magnitude: quantity("", { min: 0, max: 1e6 }),
      phaseRad: quantity("rad", { min: -7, max: 7 }),
    }),
  ],
  anObject,
);

const load = z.discriminatedUnion(
  "kind",
  [
    record({
      kind: z.literal("admittance"),
      // A negative conductance is refused as not passive, in meaning.ts, rather than as out of range.
      conductanceSiemens: quantity("S", { min: -1e6, max: 1e6 }),
      susceptanceSiemens: quantity("S", { min: -1e6, max: 1e6 }),
    }),
    record({
      kind: z.literal("reflection"),
      magnitude: quantity("", { min: 0, max: 1e6 }),
      phaseRad: quantity("rad", { min: -7, max: 7 }),
    }),
    record({ kind: z.literal("antenna"), line: feedLine, antenna }),
  ],
  anObject,
);

const metal = z.enum(["alloy5052", "aluminium", "copper", "brass"]);

const airCapacitor = record({
  minF: reactorF,
  maxF: reactorF,
  gapM: lengthM,
  plateThicknessM: lengthM,
  metal,
  maintainingV,
});

const contactPart = record({
  gapM: lengthM,
  thicknessM: lengthM,
  metal,
  maintainingV,
  tapFraction,
});

const erosionEdge = record({
  spotAPerM2: quantity("", { min: 1e3, max: 1e10 }),
  electrodeShare: quantity("", { min: 0, max: 1, aboveMin: true }),
});

const arcVoltage = z.enum(["value", "law"]);

export const stationSchema = record({
  freqHz,
  exciter,
  inputCircuit,
  tube: tubeSchema,
  bias: record({ cathodeV: quantity("V", { min: -500, max: 5000 }) }),
  supply,
  tank,
  load,
  site: record({
    altitudeM: quantity("m", { min: -500, max: 9000 }),
    airK,
    relativeHumidity: share,
  }),
  ratings: record({
    plateDissipationW: powerW,
    plateCurrentA: quantity("A", { ...positive, max: 1e3 }),
    gridCurrentA: quantity("A", { ...positive, max: 1e3 }),
    gridDissipationW: powerW,
    plateV: quantity("V", { ...positive, max: 1e5 }),
    plateRfPeakV: quantity("V", { ...positive, max: 1e5 }),
    exciterReflectedW: powerW,
    tuningRmsA: partA,
    loadingRmsA: partA,
    coilRmsA: partA,
    chokeRmsA: partA,
    blockingRmsA: partA,
    outputRmsA: partA,
  }),
  tuningCapacitor: airCapacitor,
  loadingCapacitor: airCapacitor,
  blockingCapacitor: record({
    capacitanceF: reactorF,
    ratedV: quantity("V", { ...positive, max: 1e5 }),
  }),
  safetyChoke: record({
    inductanceH: reactorH,
    resistanceOhm: quantity("ohm", { min: 0, max: 1e4 }),
  }),
  bandSwitch: contactPart,
  outputContact: contactPart,
  cooling: record({
    airflowM3PerS: quantity("m3/s", { min: 1e-4, max: 10 }),
    inletK: z.exactOptional(airK),
    anodeHeatCapacityJPerK: quantity("J/K", { min: 1, max: 1e6 }),
    ratedRiseK: quantity("K", { min: 10, max: 1500 }),
    stillShare: quantity("", { min: 1e-3, max: 1 }),
    anodeLimitK: partK,
    sealTimeConstantS: timeConstantS,
    sealLimitK: partK,
  }),
  clocks: record({
    emitter: z.enum(["oxide", "thoriatedTungsten"]),
    gridRatedK: partK,
    gridIdleK: partK,
    gridLimitK: partK,
    gridTimeConstantS: quantity("s", { min: 0.01, max: 1e4 }),
    exciterTimeConstantS: timeConstantS,
    contactTimeConstantS: timeConstantS,
    capacitorTimeConstantS: timeConstantS,
    chokeTimeConstantS: timeConstantS,
    surgeRatedJ: energyJ,
    surgeCoolingS: timeConstantS,
    relayRatedJ: energyJ,
  }),
  airGaps: record({
    rfStrength: quantity("", { min: 0.8, max: 1 }),
    edgeFactor: quantity("", { min: 0.3, max: 1 }),
    strikeSpread: quantity("", { min: 0, max: 0.1 }),
    arcVoltage: record({
      tuningCapacitor: arcVoltage,
      coilTap: arcVoltage,
      loadingCapacitor: arcVoltage,
      beyondCoupler: arcVoltage,
    }),
    moltenEdgeLowers: flag,
  }),
  erosion: record({
    nominal: erosionEdge,
    early: erosionEdge,
    late: erosionEdge,
    arcTimeConstantS: quantity("s", { min: 1e-7, max: 1e-3 }),
    holdingW: quantity("W", { min: 0, max: 1e4 }),
    startK: quantity("K", { min: 200, max: 800 }),
  }),
  transmitReceive: record({
    antennaRelayS: sequenceS,
    inputRelayS: sequenceS,
    biasS: sequenceS,
    driveS: sequenceS,
    holdS: quantity("s", { min: 0, max: 60 }),
  }),
  powerUp: record({
    warmUpS: quantity("s", { min: 0, max: 3600 }),
    fanRunOnS: quantity("s", { min: 0, max: 3600 }),
  }),
  arc: z.exactOptional(
    record({
      place: z.enum(["tuningCapacitor", "loadingCapacitor", "coilTap", "beyondCoupler"]),
      maintainingV,
      tapFraction: z.exactOptional(tapFraction),
    }),
  ),
});
