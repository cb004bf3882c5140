/**
 * What the sensors read in normal use: every band, every drive up to the full one, tuned and matched, settled; and every quantity
 * worked out from that as a monitor does.
 *
 * Exhaust air is that of a carrier kept up until the anode is warm, T = T_in + P/(m cp), at full airflow. The compartment is dark.
 * Expected gain of a band is its own gain along these drives, by straight lines over the square root of the drive.
 */
import { log10, powerOfTen } from "../math/elementary";
import { relativeAirDensity, standardPressurePa } from "../physics/airgap/airDensity";
import { clocksOf } from "../physics/heat/clocks";
import type { QuantityName, SensorDef, SensorName, Sensors } from "../project/protection";
import type { Station } from "../project/station";
import { createReader, type ExpectedForwardGainDb, sensorsOf } from "../protection/derived";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import { bandTable } from "./bandTable";
import type { Means } from "./detectionBudgetCourse";
import { type Working, WorkingPoints } from "./workingPoint";

/** One band's settled states, by rising drive; drives without a working point are left out. */
export interface NormalBand {
  readonly band: string;
  readonly freqHz: number;
  readonly points: readonly { readonly driveW: number; readonly means: Means }[];
}

/** Shares of full drive, even steps of voltage. */
export const DRIVE_STEPS = 10;

/** The bands of a station, one at a time, so that each can be a slice of a study. */
export function normalBands(station: Station): readonly (() => readonly NormalBand[])[] {
  const { tank } = station;
  if (!("bands" in tank)) return [() => bandsOf(station)];
  return tank.bands.map((band) => () => bandsOf({ ...station, tank: { ...tank, bands: [band] } }));
}

function bandsOf(station: Station): readonly NormalBand[] {
  const { availableW } = station.exciter;
  return bandTable(station, availableW).map(({ band, freqHz, result }) => {
    if (result.kind === "impossible") return { band, freqHz, points: [] };
    const at = new WorkingPoints(result.parts);
    const exhaustK = exhaustOf(station);
    const points = Array.from({ length: DRIVE_STEPS }, (_, k) => {
      const share = (k + 1) / DRIVE_STEPS;
      const driveW = availableW * share * share;
      const working = at.at(at.asDesigned(driveW));
      return working === null ? [] : [{ driveW, means: meansOf(working, exhaustK) }];
    });
    return { band, freqHz, points: points.flat() };
  });
}

function exhaustOf(station: Station): (dissipationW: number) => number {
  const { airK, altitudeM } = station.site;
  const { cooler } = clocksOf(station, 1, relativeAirDensity(standardPressurePa(altitudeM), airK));
  return (watts) => cooler.inletK + Math.max(watts, 0) / cooler.airWPerK;
}

function meansOf(w: Working, exhaustK: (dissipationW: number) => number): Means {
  const of: Readonly<Record<SensorName, number>> = {
    driveForwardW: w.setting.driveW,
    driveReflectedW: w.driveReflectedW,
    outputForwardW: w.forwardW,
    outputReflectedW: w.reflectedW,
    plateCurrentA: w.plateCurrentA,
    gridCurrentA: w.gridCurrentA,
    plateV: w.plateV,
    plateRfPeakV: w.plateRfPeakV,
    exhaustAirK: exhaustK(w.plateDissipationW),
    tankLight: 0,
  };
  return SENSOR_NAMES.map((name) => of[name]);
}

/** Expected forward gain of a band at a drive, dB; NaN where the band has no working point. */
export function expectedIn({ points }: NormalBand): ExpectedForwardGainDb {
  const FORWARD = SENSOR_NAMES.indexOf("outputForwardW");
  const known = points.map(({ driveW, means }) => ({
    root: Math.sqrt(driveW),
    db: 10 * log10((means[FORWARD] as number) / driveW),
  }));
  return (driveW) => {
    const first = known[0];
    if (first === undefined) return Number.NaN;
    const root = Math.sqrt(Math.max(driveW, 0));
    const next = known.findIndex((p) => p.root >= root);
    if (next <= 0) return next === 0 ? first.db : (known.at(-1)?.db ?? Number.NaN);
    const a = known[next - 1] as { root: number; db: number };
    const b = known[next] as { root: number; db: number };
    return a.db + ((b.db - a.db) * (root - a.root)) / (b.root - a.root);
  };
}

/** The band in use, or else the first; null without any. */
export function bandInUse(bands: readonly NormalBand[], station: Station): NormalBand | null {
  return bands.find((b) => b.freqHz === station.freqHz) ?? bands[0] ?? null;
}

/** Means of the fullest drive with a working point; all zero without one. */
export function fullCarrier(band: NormalBand | null): Means {
  return band?.points.at(-1)?.means ?? SENSOR_NAMES.map(() => 0);
}

export interface NormalReading {
  readonly band: string;
  readonly driveW: number;
  /** NaN is no reading. */
  readonly value: number;
}

/** One quantity as these sensors show it once all has settled, noise and converter steps left out. */
export function normalReadings(
  bands: readonly NormalBand[],
  quantity: QuantityName,
  sensors: Sensors,
): readonly NormalReading[] {
  const names = sensorsOf(quantity);
  const row = new Float64Array(names.length);
  return bands.flatMap((band) => {
    const read = createReader(quantity, (name) => names.indexOf(name), expectedIn(band));
    return band.points.map(({ driveW, means }) => {
      for (const [i, name] of names.entries()) row[i] = settledReading(sensors[name], name, means);
      return { band: band.band, driveW, value: read(row) };
    });
  });
}

function settledReading(def: SensorDef, name: SensorName, means: Means): number {
  const index = SENSOR_NAMES.indexOf(name);
  const { directivityDb, gainError, offset, fullScale } = def;
  const leak =
    directivityDb === null ? 0 : powerOfTen(-directivityDb / 10) * (means[index ^ 1] as number);
  const read = ((means[index] as number) + leak) * (1 + gainError) + offset;
  return Math.min(Math.max(read, 0), fullScale);
}

export interface NormalRange {
  readonly least: NormalReading;
  readonly most: NormalReading;
}

/** Least and greatest of them; null where nothing has a reading. */
export function normalRange(readings: readonly NormalReading[]): NormalRange | null {
  const read = readings.filter((r) => Number.isFinite(r.value));
  const [first] = read;
  if (first === undefined) return null;
  return {
    least: read.reduce((a, b) => (b.value < a.value ? b : a), first),
    most: read.reduce((a, b) => (b.value > a.value ? b : a), first),
  };
}
