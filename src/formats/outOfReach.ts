/**
 * Levels that no reading passes: what is sensed stops at the full scale of its sensor, so that a monitor set to more than that
 * watches and never picks up.
 *
 *   net output         at most the full scale of the forward power
 *   plate dissipation  at most that of the plate voltage times that of the plate current
 *
 * A scanned reading has to pass a level, the comparator's tap has to reach it. Ratios and levels in dB have no full scale.
 * Monitors that are off in both modes are left out.
 */
import type { Condition, MonitorDef, QuantityName, Sensors } from "../project/protection";
import type { Project } from "../project/types";
import { formatReading, QUANTITY_WORDS } from "../protection/quantityWords";
import type { Notice } from "./problem";

interface Reach {
  readonly most: number;
  /** Where it is set. */
  readonly setAt: string;
}

interface Level extends Condition {
  readonly place: string;
  /** What never comes of it. */
  readonly never: "never picks up" | "never alarms" | "is never armed";
}

/** One notice for each level out of reach. */
export function outOfReach({ monitors, sensors, scenario }: Project): readonly Notice[] {
  const inUse = ({ role, tuneRole }: MonitorDef): boolean => role !== "off" || tuneRole !== "off";
  const ofFile = monitors.flatMap((def, index) =>
    inUse(def) ? levelsOf(def, `monitors[${index}]`).flatMap((l) => noticeOf(def, l, sensors)) : [],
  );
  const ofEntries = scenario.flatMap((entry, index): readonly Notice[] => {
    if (entry.do !== "configureMonitor" || entry.change.pickup === undefined) return [];
    const def = monitors.find((m) => m.id === entry.monitor);
    const criterion = def?.criteria[entry.change.criterion ?? 0];
    if (def === undefined || criterion === undefined) return [];
    const { quantity, side } = criterion;
    const place = `scenario[${index}].change.pickup`;
    const level = { place, quantity, side, level: entry.change.pickup };
    return noticeOf(def, { ...level, never: "never picks up" }, sensors);
  });
  return [...ofFile, ...ofEntries];
}

function levelsOf({ criteria, alarm, arming }: MonitorDef, at: string): readonly Level[] {
  const levels: Level[] = [];
  for (const [k, { quantity, side, pickup, tunePickup, when }] of criteria.entries()) {
    const of = `${at}.criteria[${k}]`;
    const own = { quantity, side, never: "never picks up" } as const;
    levels.push({ ...own, level: pickup, place: `${of}.pickup` });
    if (tunePickup !== undefined)
      levels.push({ ...own, level: tunePickup, place: `${of}.tunePickup` });
    for (const [j, c] of when.entries())
      levels.push({ ...c, never: "never picks up", place: `${of}.when[${j}].level` });
  }
  if (alarm !== null) {
    const { quantity, side, level } = alarm;
    levels.push({ quantity, side, level, never: "never alarms", place: `${at}.alarm.level` });
  }
  for (const [j, c] of arming.when.entries())
    levels.push({ ...c, never: "is never armed", place: `${at}.arming.when[${j}].level` });
  return levels;
}

function noticeOf(
  { name, path }: MonitorDef,
  { place, quantity, side, level, never }: Level,
  sensors: Sensors,
): readonly Notice[] {
  const isTap = path === "comparator" && never === "never picks up" && quantity === "plateCurrentA";
  const reach = isTap
    ? { most: sensors.comparatorTap.fullScaleA, setAt: "sensors.comparatorTap.fullScaleA" }
    : reachOf(quantity, sensors);
  if (side !== "over" || reach === null || level < reach.most) return [];
  if (isTap && level === reach.most) return [];
  const { words } = QUANTITY_WORDS[quantity];
  const waits = `${name} waits for ${words} over ${formatReading(quantity, level)}`;
  const ends = `the reading ends at ${formatReading(quantity, reach.most)} (${reach.setAt})`;
  return [{ place, message: `${waits} and ${ends}: it ${never}` }];
}

/** The highest reading of a quantity; null where it is a ratio. */
function reachOf(quantity: QuantityName, sensors: Sensors): Reach | null {
  switch (quantity) {
    case "netOutputW":
      return reachOf("outputForwardW", sensors);
    case "plateDissipationW":
      return {
        most: sensors.plateV.fullScale * sensors.plateCurrentA.fullScale,
        setAt: "sensors.plateV.fullScale times sensors.plateCurrentA.fullScale",
      };
    case "forwardGainDb":
    case "gainDeviationDb":
    case "vswr":
    case "efficiency":
    case "gridPlateRatio":
    case "inputReflectedRatio":
      return null;
    default:
      return { most: sensors[quantity].fullScale, setAt: `sensors.${quantity}.fullScale` };
  }
}
