/** Why nothing is on the air just now, and what would change that: said wherever a forecast has nothing to strike. */
import type { Project } from "../../../../project/types";
import type { WorldView } from "../../../../shells/bench/worldView";

/** Faults of the supply, which need nobody on the air. */
const WITHOUT_DRIVE: ReadonlySet<string> = new Set(["plateSupplyShort", "plateSupplyLost"]);

type Bench = Pick<WorldView, "operate" | "keyDown" | "driveInhibited" | "monitors">;

/** Words for a bench off the air; empty while it is on the air, or on its way there. */
export function offAirWords(
  world: Bench,
  scenario: Project["scenario"],
  playNs: number,
  running: boolean,
): string {
  const held = world.monitors.find(
    (m) => m.word === "lockout" || m.word === "trip" || m.word === "acknowledged",
  );
  if (held !== undefined)
    return `off the air after a ${held.word === "lockout" ? "lockout" : "trip"}: key up, reset, key down`;
  if (scenario.some((e) => e.atS * 1e9 >= playNs) && !world.keyDown)
    return running
      ? "off the air so far: the scenario is playing"
      : "off the air: Run plays the scenario";
  if (!world.operate) return "in standby: operate, then key down";
  if (!world.keyDown) return "off the air: key down for a forecast";
  return world.driveInhibited ? "drive inhibited" : "";
}

/** Whether a forecast of this fault says anything on a bench off the air. */
export function speaksOffAir(fault: string): boolean {
  return WITHOUT_DRIVE.has(fault);
}
