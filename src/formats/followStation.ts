/**
 * The monitors of a file that says what its station is and not what watches it: the presets, at levels that follow that
 * station, as they do when a station is taken to the bench. The full scale of every sensor goes with them, but for those that
 * the file gives. Whatever the file says itself stays.
 */
import type { Sensors } from "../project/protection";
import { isSameData } from "../project/sameData";
import type { Project } from "../project/types";
import { stationPresets, withFullScales } from "../study/stationPresets";
import { isPlain } from "./fillDefaults";
import type { Notice } from "./problem";

export interface Followed {
  readonly project: Project;
  readonly notices: readonly Notice[];
}

/** `given` is the file as parsed, `project` what became of it with the demonstration station's monitors. */
export function followStation(project: Project, given: object): Followed {
  if (!Object.hasOwn(given, "station") || Object.hasOwn(given, "monitors"))
    return { project, notices: [] };
  const presets = stationPresets(project.station);
  if (presets === null) {
    const message =
      "the station has no operating point that the preset monitors could follow: they have the demonstration station's levels";
    return { project, notices: [{ place: "monitors", message }] };
  }
  const { monitors, sensors, beyondRating } = presets;
  if (isSameData(monitors, project.monitors)) return { project, notices: [] };
  return {
    project: {
      ...project,
      monitors,
      sensors: withFullScales(project.sensors, sensors, (name) => !givesFullScale(given, name)),
    },
    notices: [
      {
        place: "monitors",
        message: "the file names no monitors: the presets watch, at levels that follow its station",
      },
      ...beyondRating.map((passed) => ({
        place: "monitors",
        message: `${passed}: a pickup scaled to it keeps the station on the air and does not protect the tube`,
      })),
    ],
  };
}

function givesFullScale(given: object, name: keyof Sensors): boolean {
  const sensors: unknown = "sensors" in given ? given.sensors : undefined;
  const own = isPlain(sensors) ? sensors[name] : undefined;
  return isPlain(own) && Object.hasOwn(own, name === "comparatorTap" ? "fullScaleA" : "fullScale");
}
