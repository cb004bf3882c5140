/**
 * Random stations that work, and random orders of faults on them: three classes of tube, every band, pi and pi-L, plain
 * loads and antennas behind a cable, mains, bias, drive, site; carrier, Morse, tones and speech; every fault of the list at any
 * severity and onset it allows, taken away again or not; resets. Drawn by fast-check from a number, so that each can be had again.
 */
import fc from "fast-check";
import {
  DEFAULT_BANDS,
  DEFAULT_LINE,
  DEFAULT_STATION,
  defaultProject,
} from "../../src/project/defaults";
import { FAULT_NAMES, FAULTS, onsetFits } from "../../src/project/faults";
import type { Onset, ScenarioEntry } from "../../src/project/scenario";
import type { Load, Station, Tank } from "../../src/project/station";
import { findRegisteredTube, registeredRatings, registeredTriode } from "../../src/project/tubes";
import type { Project } from "../../src/project/types";
import { withPresetsFollowing } from "../../src/study/stationPresets";
import { between } from "./waveformStations";

interface StationClass {
  readonly tube: string;
  readonly count: number;
  readonly biasV: number;
  readonly supplyV: number;
  readonly loadOhm: number;
  readonly driveW: number;
}

/** Plate loads from the tubes' columns of typical operation in the register, shared by their count. */
const CLASSES: readonly StationClass[] = [
  { tube: "3-500Z", count: 1, biasV: 0, supplyV: 2600, loadOhm: 3450, driveW: 35 },
  { tube: "3-500Z", count: 2, biasV: 0, supplyV: 2700, loadOhm: 1725, driveW: 60 },
  { tube: "8877", count: 1, biasV: 8.2, supplyV: 3200, loadOhm: 2000, driveW: 50 },
  { tube: "", count: 2, biasV: 9, supplyV: 3180, loadOhm: 1900, driveW: 62 },
];

const load = (freqHz: number): fc.Arbitrary<Load> =>
  fc.oneof(
    fc.record({
      kind: fc.constant("reflection" as const),
      magnitude: between(0, 0.33),
      phaseRad: between(-Math.PI, Math.PI),
    }),
    fc.record({
      kind: fc.constant("antenna" as const),
      line: between(5, 40).map((lengthM) => ({ ...DEFAULT_LINE, lengthM })),
      antenna: fc.record({
        kind: fc.constant("resonant" as const),
        name: fc.constant("wire"),
        resonanceHz: between(0.99 * freqHz, 1.01 * freqHz),
        resistanceOhm: between(40, 65),
        q: between(6, 15),
      }),
    }),
  );

const station: fc.Arbitrary<Station> = fc
  .record({
    of: fc.constantFrom(...CLASSES),
    band: fc.constantFrom(...DEFAULT_BANDS),
    inBand: between(0, 1),
    isPiL: fc.boolean(),
    mains: between(0.92, 1.06),
    drive: between(0.4, 1.1),
    altitudeM: between(0, 2000),
    humidity: between(0.1, 0.9),
  })
  .chain((r) => {
    const { of, band } = r;
    const freqHz = Math.round(band.fromHz + r.inBand * (band.toHz - band.fromHz));
    return load(freqHz).map((loaded): Station => {
      const type = findRegisteredTube(of.tube);
      const { supply, exciter, site, ratings } = DEFAULT_STATION;
      if (supply.kind !== "rectified") throw new Error("the demonstration's supply is rectified");
      const plain = { plateLoadOhm: of.loadOhm, bands: DEFAULT_BANDS };
      const tank: Tank = r.isPiL
        ? { kind: "designedPiL", intermediateOhm: 300, ...plain }
        : { kind: "designedPi", ...plain };
      return {
        ...DEFAULT_STATION,
        freqHz,
        tank,
        load: loaded,
        tube: registeredTriode(of.tube, of.count) ?? DEFAULT_STATION.tube,
        bias: { cathodeV: of.biasV },
        exciter: { ...exciter, availableW: of.driveW * r.drive },
        supply: { ...supply, noLoadV: of.supplyV, mains: { ratio: r.mains } },
        site: { ...site, altitudeM: r.altitudeM, relativeHumidity: r.humidity },
        ratings: { ...ratings, ...(type === null ? {} : registeredRatings(type, of.count)) },
      };
    });
  });

const onset: fc.Arbitrary<Onset> = fc.oneof(
  fc.constant({ kind: "sudden" } as const),
  fc.record({ kind: fc.constant("growing" as const), overS: between(0.01, 2) }),
  fc.record({ kind: fc.constant("intermittent" as const), share: between(0.1, 0.9) }),
  fc.record({ kind: fc.constant("passing" as const), forS: between(0.01, 1) }),
);

/** A fault, its end and a reset, each at a share of the run's length. */
const trouble = fc
  .tuple(
    fc.constantFrom(...FAULT_NAMES),
    between(0.05, 0.9),
    between(0.02, 0.3),
    between(0, 1),
    onset,
  )
  .chain(([fault, at, later, severe, how]) =>
    fc.constantFrom(...FAULTS[fault].parts).map((part) => {
      const { min, max } = FAULTS[fault].severity;
      const onsetOf = onsetFits(fault, how) ? { onset: how } : {};
      const severity = min + (max - min) * severe;
      return { fault, part, severity, at, until: at + later, ...onsetOf };
    }),
  );

const scenario = (endS: number): fc.Arbitrary<readonly ScenarioEntry[]> =>
  fc
    .record({
      signal: fc.constantFrom<ScenarioEntry>(
        { atS: 0, do: "signal", signal: "carrier" },
        { atS: 0, do: "signal", signal: "twoTone", spacingHz: 700 },
        { atS: 0, do: "signal", signal: "speech", talker: 3 },
      ),
      troubles: fc.array(trouble, { minLength: 1, maxLength: 4 }),
      isMended: fc.boolean(),
    })
    .map(({ signal, troubles, isMended }) => {
      const placed = troubles.flatMap(({ at, until, fault, part, ...rest }): ScenarioEntry[] => [
        { atS: at * endS, do: "placeFault", fault, part, ...rest },
        ...(isMended
          ? ([
              { atS: until * endS, do: "removeFault", fault, part },
              { atS: (until + 0.01) * endS, do: "reset" },
            ] as const)
          : []),
      ]);
      const keyed: ScenarioEntry[] = [
        signal,
        { atS: 0.001, do: "key", down: true },
        { atS: 0.45 * endS, do: "key", down: false },
        { atS: 0.5 * endS, do: "key", down: true },
      ];
      const whole = (atS: number): number => Math.round(atS * 1e9) / 1e9;
      return [...keyed, ...placed]
        .map((e): ScenarioEntry => ({ ...e, atS: whole(e.atS) }))
        .filter((e) => e.atS < endS)
        .sort((a, b) => a.atS - b.atS);
    });

/** Station and scenario number `index`, of `endS` seconds; presets follow the station. */
export function randomProject(index: number, endS: number): Project {
  const drawn = fc.record({ station, scenario: scenario(endS) });
  const [one] = fc.sample(drawn, { seed: 20_260_114 + index, numRuns: 1 });
  if (one === undefined) throw new Error("nothing was drawn");
  const project = { ...defaultProject(one.scenario), station: one.station, seed: index, endS };
  return withPresetsFollowing(project);
}
