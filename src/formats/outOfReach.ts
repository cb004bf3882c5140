/** What is told of levels in a file that no reading passes, by `protection/outOfReach`. Monitors that are off in both modes are left out. */
import type { MonitorDef } from "../project/protection";
import type { Project } from "../project/types";
import { type LevelOutOfReach, levelsOutOfReach, pickupOutOfReach } from "../protection/outOfReach";
import { formatReading, QUANTITY_WORDS } from "../protection/quantityWords";
import { type Notice, placeOf } from "./problem";

/** One notice for each level out of reach. */
export function outOfReach({ monitors, sensors, scenario }: Project): readonly Notice[] {
  const inUse = ({ role, tuneRole }: MonitorDef): boolean => role !== "off" || tuneRole !== "off";
  const ofFile = monitors.flatMap((def, index) =>
    inUse(def)
      ? levelsOutOfReach(def, sensors).map((level) =>
          noticeOf(def, level, placeOf(["monitors", index, ...level.path])),
        )
      : [],
  );
  const ofEntries = scenario.flatMap((entry, index): readonly Notice[] => {
    if (entry.do !== "configureMonitor" || entry.change.pickup === undefined) return [];
    const def = monitors.find((m) => m.id === entry.monitor);
    if (def === undefined) return [];
    const { criterion = 0, pickup } = entry.change;
    const place = placeOf(["scenario", index, "change", "pickup"]);
    return pickupOutOfReach(def, criterion, pickup, sensors).map((l) => noticeOf(def, l, place));
  });
  return [...ofFile, ...ofEntries];
}

function noticeOf({ name }: MonitorDef, l: LevelOutOfReach, place: string): Notice {
  const { words } = QUANTITY_WORDS[l.quantity];
  const scale = (sensor: string): string =>
    `sensors.${sensor}.${sensor === "comparatorTap" ? "fullScaleA" : "fullScale"}`;
  const by = l.setBy.length === 0 ? "" : ` (${l.setBy.map(scale).join(" times ")})`;
  const waits = `${name} waits for ${words} ${l.side} ${formatReading(l.quantity, l.level)}`;
  const ends = `the reading ends at ${formatReading(l.quantity, l.end)}${by}`;
  return { place, message: `${waits} and ${ends}: it ${l.never}` };
}
