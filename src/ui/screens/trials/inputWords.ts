/** What is drawn for each unit, as a person says it: sensors and actuators by the names they have on every screen. */
import type { ActuatorName } from "../../../project/protection";
import type { PartName } from "../../../project/scenario";
import type { InputReport } from "../../../study/trials/toleranceSummary";
import { PART_WORDS, STEP_WORDS } from "../bench/views/words";

/** "offset of the sensor, of full scale: plate RF" */
export function inputWords({ name, what }: Pick<InputReport, "name" | "what">): string {
  const [, of = ""] = name.split(".");
  const owner = STEP_WORDS[of as ActuatorName] ?? PART_WORDS[of as PartName];
  return owner === undefined ? what : `${what}: ${owner}`;
}
