/** The station that the monitors of the edited project came with: presets at its levels are nobody's own setting. */
import type { Station } from "../../../project/station";
import type { StationEditState } from "../../../state/stationEdit";

/** As it was when the last step that brought monitors was done; as it was at the first step where none did. */
export function monitorsStation({
  project,
  past,
}: Pick<StationEditState, "project" | "past">): Station {
  const brought = past.findLast(({ before, after }) => before.monitors !== after.monitors);
  return (brought?.after ?? past[0]?.before ?? project).station;
}
