/** What a field says of a level that no reading passes, and what to do about it. */
import type { MonitorDef, Sensors } from "../../../project/protection";
import type { Project } from "../../../project/types";
import { type LevelOutOfReach, levelsOutOfReach } from "../../../protection/outOfReach";
import { formatReading, QUANTITY_WORDS } from "../../../protection/quantityWords";
import type { FieldPath } from "../../../state/stationKinds";

/** Of a level of a monitor, or of the full scale it lies beyond; empty where there is nothing to say. */
export function reachWarning(path: FieldPath, project: Project): string {
  const [part, which, ...rest] = path;
  if (part === "sensors") {
    const isScale = rest.length === 1 && String(rest[0]).startsWith("fullScale");
    return isScale ? scaleWarning(which as keyof Sensors, project) : "";
  }
  const def = part === "monitors" ? project.monitors[Number(which)] : undefined;
  if (def === undefined) return "";
  const place = rest.join(".");
  const found = levelsOutOfReach(def, project.sensors).find((l) => l.path.join(".") === place);
  return found === undefined ? "" : levelWarning(found);
}

function levelWarning({ quantity, side, never, end, endCounts, setBy }: LevelOutOfReach): string {
  const { words } = QUANTITY_WORDS[quantity];
  const give = side === "under" ? "more than that" : endCounts ? "that at most" : "less than that";
  const higher =
    side === "under" || setBy.length === 0
      ? ""
      : `, or a higher full scale of ${setBy.map(sensorWords).join(" or ")} under Sensors`;
  return `It ${never}: a reading of ${words} ends at ${formatReading(quantity, end)}. Give ${give}${higher}.`;
}

function scaleWarning(sensor: keyof Sensors, { monitors, sensors }: Project): string {
  const isUsed = ({ role, tuneRole }: MonitorDef): boolean => role !== "off" || tuneRole !== "off";
  const beyond = monitors.filter(isUsed).flatMap((def) =>
    levelsOutOfReach(def, sensors)
      .filter((l) => l.side === "over" && l.setBy.includes(sensor))
      .map(
        (l) =>
          `${def.name} ${l.never} (${QUANTITY_WORDS[l.quantity].words} over ${formatReading(l.quantity, l.level)})`,
      ),
  );
  if (beyond.length === 0) return "";
  return `Readings end here: ${beyond.join("; ")}. Give a higher full scale, or lower levels under Monitors.`;
}

function sensorWords(sensor: keyof Sensors): string {
  return sensor === "comparatorTap" ? "the comparator's tap" : QUANTITY_WORDS[sensor].words;
}
