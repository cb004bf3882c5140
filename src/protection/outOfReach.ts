/**
 * Levels that no reading passes: a monitor set to one watches and never picks up. What is sensed lies between nothing and the full
 * scale F of its sensor, and what is worked out from that has ends of its own:
 *
 *   net output         -F of the reflected power to F of the forward power
 *   plate dissipation  -F of the forward power to F of the plate voltage times F of the plate current
 *   forward gain       the floor of the output over F of the drive to F of the forward power over the floor of the drive, dB
 *   VSWR               1 to its cap
 *   efficiency         -F of the reflected power to F of the forward power, over the floor of the plate input
 *   other ratios       nothing to F of what is divided over the floor of what divides
 *
 * A scanned reading has to pass a level, the comparator's tap has to reach it. Where the gain against expected ends lies with the
 * gain expected, which the band in use settles: of its levels nothing is told.
 */
import type { Condition, MonitorDef, QuantityName, Sensors } from "../project/protection";
import {
  EFFICIENCY_INPUT_FLOOR_W,
  forwardGainDb,
  GAIN_DRIVE_FLOOR_W,
  RATIO_PLATE_FLOOR_A,
  REFLECTED_DRIVE_FLOOR_W,
  VSWR_CAP,
} from "./derived";

/** What never comes of a level. */
export type Never = "never picks up" | "never alarms" | "is never armed" | "can never be reset";

/** A level of a monitor, and the end of the readings that it lies beyond. */
export interface LevelOutOfReach extends Condition {
  /** Inside the monitor. */
  readonly path: readonly (string | number)[];
  readonly never: Never;
  readonly end: number;
  /** A reading of just the level would do. */
  readonly endCounts: boolean;
  /** Whose full scales set the end, as factors; none where the quantity ends by itself. */
  readonly setBy: readonly (keyof Sensors)[];
}

type Level = Pick<LevelOutOfReach, "path" | "never"> & Condition;
type End = Pick<LevelOutOfReach, "end" | "setBy">;
type Ends = { readonly least: End; readonly most: End } | null;

/** Every level of a monitor that is out of reach. */
export function levelsOutOfReach(def: MonitorDef, sensors: Sensors): readonly LevelOutOfReach[] {
  return levelsOf(def).flatMap((level) => beyond(def, level, sensors));
}

/** The same of one more pickup of a criterion. */
export function pickupOutOfReach(
  def: MonitorDef,
  criterion: number,
  pickup: number,
  sensors: Sensors,
): readonly LevelOutOfReach[] {
  const found = def.criteria[criterion];
  if (found === undefined) return [];
  const { quantity, side } = found;
  const path = ["criteria", criterion, "pickup"];
  return beyond(def, { path, quantity, side, level: pickup, never: "never picks up" }, sensors);
}

function levelsOf({ criteria, alarm, arming, reset }: MonitorDef): readonly Level[] {
  const levels: Level[] = [];
  const conditions = (
    list: readonly Condition[],
    path: Level["path"],
    never: Level["never"],
  ): void => {
    for (const [j, c] of list.entries())
      levels.push({ ...c, never, path: [...path, "when", j, "level"] });
  };
  for (const [k, { quantity, side, pickup, tunePickup, when }] of criteria.entries()) {
    const own = { quantity, side, never: "never picks up" } as const;
    levels.push({ ...own, level: pickup, path: ["criteria", k, "pickup"] });
    if (tunePickup !== undefined)
      levels.push({ ...own, level: tunePickup, path: ["criteria", k, "tunePickup"] });
    conditions(when, ["criteria", k], "never picks up");
  }
  if (alarm !== null) {
    const { quantity, side, level } = alarm;
    levels.push({ quantity, side, level, never: "never alarms", path: ["alarm", "level"] });
  }
  conditions(arming.when, ["arming"], "is never armed");
  conditions(reset.when, ["reset"], "can never be reset");
  return levels;
}

function beyond(
  { path: looks }: MonitorDef,
  level: Level,
  sensors: Sensors,
): readonly LevelOutOfReach[] {
  const { quantity, side, path, never } = level;
  const isPickup = path.at(-1) !== "level";
  if (looks === "comparator" && isPickup && quantity === "plateCurrentA" && side === "over") {
    const end = sensors.comparatorTap.fullScaleA;
    if (level.level <= end) return [];
    return [{ ...level, path, never, end, endCounts: true, setBy: ["comparatorTap"] }];
  }
  const ends = endsOf(quantity, sensors);
  if (ends === null) return [];
  const isBeyond = side === "over" ? level.level >= ends.most.end : level.level <= ends.least.end;
  if (!isBeyond) return [];
  return [{ ...level, ...(side === "over" ? ends.most : ends.least), endCounts: false }];
}

/** The lowest and the highest reading of a quantity; null where there is no telling. */
function endsOf(quantity: QuantityName, sensors: Sensors): Ends {
  const { driveForwardW, driveReflectedW, outputForwardW, outputReflectedW } = sensors;
  const { plateV, plateCurrentA, gridCurrentA } = sensors;
  const between = (
    least: number,
    leastBy: End["setBy"],
    most: number,
    mostBy: End["setBy"],
  ): Ends => ({ least: { end: least, setBy: leastBy }, most: { end: most, setBy: mostBy } });
  switch (quantity) {
    case "netOutputW":
      return between(-outputReflectedW.fullScale, [], outputForwardW.fullScale, ["outputForwardW"]);
    case "plateDissipationW":
      return between(-outputForwardW.fullScale, [], plateV.fullScale * plateCurrentA.fullScale, [
        "plateV",
        "plateCurrentA",
      ]);
    case "forwardGainDb":
      return between(
        forwardGainDb(Math.max(driveForwardW.fullScale, GAIN_DRIVE_FLOOR_W), 0),
        ["driveForwardW"],
        forwardGainDb(GAIN_DRIVE_FLOOR_W, outputForwardW.fullScale),
        ["outputForwardW"],
      );
    case "vswr":
      return between(1, [], VSWR_CAP, []);
    case "gridPlateRatio":
      return between(0, [], gridCurrentA.fullScale / RATIO_PLATE_FLOOR_A, ["gridCurrentA"]);
    case "inputReflectedRatio":
      return between(0, [], driveReflectedW.fullScale / REFLECTED_DRIVE_FLOOR_W, [
        "driveReflectedW",
      ]);
    case "efficiency":
      return between(
        -outputReflectedW.fullScale / EFFICIENCY_INPUT_FLOOR_W,
        [],
        outputForwardW.fullScale / EFFICIENCY_INPUT_FLOOR_W,
        ["outputForwardW"],
      );
    case "gainDeviationDb":
      return null;
    default:
      return between(0, [], sensors[quantity].fullScale, [quantity]);
  }
}
