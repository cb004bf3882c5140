/**
 * The preset monitors and sensors as a station needs them: those of the demonstration station, each level times what the
 * station has over what the demonstration station has, at full drive into 50 ohm.
 *
 *   drive               drive of the exciter                          overdrive
 *   forward, reflected  output at full drive                          reflected power
 *   plate voltage       plate voltage at full drive                   undervoltage, and who is armed by it
 *   plate RF            plate RF voltage at full drive                RF overvoltage
 *   plate current       rating, or what full drive needs where that is more
 *   grid current        as plate current
 *   plate dissipation   as plate current
 *
 * Levels that stand for noise or leakage, gains, ratios, temperatures and times stay. Scaled levels are rounded to three
 * figures. What is within 3 % of the demonstration station has its levels, just as `presets/` has them.
 *
 * Validity: a station of the demonstration's kind, at home within its ratings. A level scaled from full drive because the
 * rating is less keeps the station on the air and does not protect the tube; `beyondRating` says so.
 */
import { DEFAULT_LOAD, DEFAULT_STATION } from "../project/defaults";
import { DEFAULT_MONITORS } from "../project/presets/monitors";
import { DEFAULT_SENSORS } from "../project/presets/sensors";
import type { MonitorDef, QuantityName, SensorName, Sensors } from "../project/protection";
import { isSameData } from "../project/sameData";
import type { Station } from "../project/station";
import type { Project } from "../project/types";
import { type OperatingPoint, operatingPoint } from "../simulation/operatingPoint";

export interface StationPresets {
  readonly monitors: readonly MonitorDef[];
  readonly sensors: Sensors;
  /** Ratings that full drive passes, in words. */
  readonly beyondRating: readonly string[];
}

/** What levels are scaled by. */
interface Measure {
  readonly driveW: number;
  readonly outputW: number;
  readonly plateV: number;
  readonly plateRfPeakV: number;
  readonly plateCurrentA: number;
  readonly gridCurrentA: number;
  readonly plateDissipationW: number;
}

const MEASURE_OF: Readonly<Partial<Record<QuantityName | SensorName, keyof Measure>>> = {
  driveForwardW: "driveW",
  driveReflectedW: "driveW",
  outputForwardW: "outputW",
  outputReflectedW: "outputW",
  plateV: "plateV",
  plateRfPeakV: "plateRfPeakV",
  plateCurrentA: "plateCurrentA",
  gridCurrentA: "gridCurrentA",
  plateDissipationW: "plateDissipationW",
};

/** Under this drive nobody transmits: levels of noise and arming. Output and currents likewise. */
const FIXED_UNDER: Readonly<Record<keyof Measure, number>> = {
  driveW: 50,
  outputW: 60,
  plateV: 0,
  plateRfPeakV: 0,
  plateCurrentA: 0,
  gridCurrentA: 0.05,
  plateDissipationW: 0,
};

/** Stations this much alike have the same levels. */
const ALIKE = 0.03;

/** The presets of a station; null where it has no operating point. */
export function stationPresets(station: Station): StationPresets | null {
  const point = pointOf(station);
  const usual = usualMeasure();
  if (point === null || usual === null) return null;
  const own = measureOf(station, point);
  const scale = (of: QuantityName | SensorName, level: number): number => {
    const measure = MEASURE_OF[of];
    if (measure === undefined || Math.abs(level) < FIXED_UNDER[measure]) return level;
    const ratio = own[measure] / usual[measure];
    return Math.abs(ratio - 1) < ALIKE ? level : threeFigures(level * ratio);
  };
  return {
    monitors: DEFAULT_MONITORS.map((m) => scaledMonitor(m, scale)),
    sensors: scaledSensors(scale),
    beyondRating: ratingsPassed(point, station.ratings).map(
      (rating) => `full drive passes the rating of ${rating}`,
    ),
  };
}

/**
 * A project whose monitors have followed its station, where they are the presets as they come or those of one of the stations
 * `known`; where somebody has set them otherwise they stay. Full scales that nobody has changed go with them, each by itself.
 */
export function withPresetsFollowing(project: Project, ...known: readonly Station[]): Project {
  const now = stationPresets(project.station);
  const old = known.flatMap((station) => stationPresets(station) ?? []);
  const isPreset = [DEFAULT_MONITORS, ...old.map((o) => o.monitors)].some((monitors) =>
    isSameData(project.monitors, monitors),
  );
  if (now === null || !isPreset) return project;
  const usual = [DEFAULT_SENSORS, ...old.map((o) => o.sensors)];
  const sensors = withFullScales(project.sensors, now.sensors, (name) => {
    const scale = fullScaleOf(project.sensors, name);
    return usual.some((of) => fullScaleOf(of, name) === scale);
  });
  return { ...project, monitors: now.monitors, sensors };
}

/** `sensors` with the full scales of `model` where they are `free` to follow; what else they say stays. */
export function withFullScales(
  sensors: Sensors,
  model: Sensors,
  isFree: (name: keyof Sensors) => boolean,
): Sensors {
  return rescaled(sensors, (name) => fullScaleOf(isFree(name) ? model : sensors, name));
}

function fullScaleOf({ comparatorTap, ...sensors }: Sensors, name: keyof Sensors): number {
  return name === "comparatorTap" ? comparatorTap.fullScaleA : sensors[name].fullScale;
}

function rescaled(
  { comparatorTap, ...sensors }: Sensors,
  scaleOf: (name: keyof Sensors) => number,
): Sensors {
  const scaled = Object.fromEntries(
    Object.entries(sensors).map(([name, def]) => [
      name,
      { ...def, fullScale: scaleOf(name as SensorName) },
    ]),
  ) as unknown as Omit<Sensors, "comparatorTap">;
  return {
    ...scaled,
    comparatorTap: { ...comparatorTap, fullScaleA: scaleOf("comparatorTap") },
  };
}

type Scale = (of: QuantityName | SensorName, level: number) => number;

function scaledMonitor(m: MonitorDef, scale: Scale): MonitorDef {
  const level = <T extends { readonly quantity: QuantityName; readonly level: number }>(
    c: T,
  ): T => ({
    ...c,
    level: scale(c.quantity, c.level),
  });
  return {
    ...m,
    arming: { ...m.arming, when: m.arming.when.map(level) },
    criteria: m.criteria.map((c) => ({
      ...c,
      pickup: scale(c.quantity, c.pickup),
      dropOff: scale(c.quantity, c.dropOff),
      when: c.when.map(level),
    })),
    alarm: m.alarm === null ? null : level(m.alarm),
    reset: { ...m.reset, when: m.reset.when.map(level) },
  };
}

function scaledSensors(scale: Scale): Sensors {
  return rescaled(DEFAULT_SENSORS, (name) =>
    scale(name === "comparatorTap" ? "plateCurrentA" : name, fullScaleOf(DEFAULT_SENSORS, name)),
  );
}

/** At full drive into 50 ohm, nothing burning: what the levels are for, whatever hangs on the connector. */
function pointOf(station: Station): OperatingPoint | null {
  const { arc: _, ...whole } = station;
  const solved = operatingPoint({ ...whole, load: DEFAULT_LOAD });
  return solved.ok ? solved.point : null;
}

function measureOf({ ratings, exciter }: Station, point: OperatingPoint): Measure {
  return {
    driveW: exciter.availableW,
    outputW: point.outputW,
    plateV: point.plateV,
    plateRfPeakV: point.plateRfPeakV,
    plateCurrentA: Math.max(ratings.plateCurrentA, point.plateCurrentA),
    gridCurrentA: Math.max(ratings.gridCurrentA, MARGIN * point.gridCurrentA),
    plateDissipationW: Math.max(ratings.plateDissipationW, point.plateDissipationW),
  };
}

let known: Measure | null = null;

/** The demonstration station's, found once. */
function usualMeasure(): Measure | null {
  const point = known === null ? pointOf(DEFAULT_STATION) : null;
  if (point !== null) known = measureOf(DEFAULT_STATION, point);
  return known;
}

/** Grid current peaks on the way to a settled tank; full drive keeps this much under its pickup. */
const MARGIN = 1.2;

const RATED = [
  ["plate current", "plateCurrentA"],
  ["grid current", "gridCurrentA"],
  ["plate dissipation", "plateDissipationW"],
] as const;

/** Names of the ratings that a working point passes: a level scaled from it does not protect the tube. */
export function ratingsPassed(
  point: Pick<OperatingPoint, (typeof RATED)[number][1]>,
  ratings: Station["ratings"],
): readonly string[] {
  return RATED.flatMap(([words, name]) => (point[name] > ratings[name] ? [words] : []));
}

function threeFigures(x: number): number {
  return Number(x.toPrecision(3));
}
