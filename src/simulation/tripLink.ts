/** From a trip to the actuators' timed steps, and the T/R relay that waits for the output to fall. Pure. */
import type { Project } from "../project/types";
import { actuatorSteps, isReleased } from "../protection/actuators/schedule";
import type { ProtectionEvent } from "../protection/events";
import type { Logic } from "./logic";
import type { Scheduled } from "./sequencer";

export interface Linked {
  readonly logic: Logic;
  readonly later: readonly Scheduled[];
}

/** What a trip (or the key-down limit) sets going: its commands go out together. */
export function commandActuators(project: Project, logic: Logic, event: ProtectionEvent): Linked {
  if (event.actions.length === 0) return { logic, later: [] };
  const steps = actuatorSteps(event.actions, project.actuators, logic.failures);
  const waits = steps.some((step) => step.wait !== null);
  return {
    logic: {
      ...logic,
      tripHeld: true,
      relayWaitSinceNs: waits ? (logic.relayWaitSinceNs ?? event.atNs) : logic.relayWaitSinceNs,
    },
    later: steps
      .filter((step) => step.wait === null)
      .map((step) => ({ atNs: event.atNs + step.delayNs, step: { kind: "actuate", step } })),
  };
}

/** The relay that waits, at the end of a sample: released once the output has fallen, or after the longest wait. */
export function releaseRelay(
  project: Project,
  logic: Logic,
  endNs: number,
  outputW: number,
): Linked | null {
  const since = logic.relayWaitSinceNs;
  if (since === null) return null;
  const step = actuatorSteps(["transmitReceive"], project.actuators, logic.failures)[0];
  if (step === undefined || !isReleased(step, endNs - since, outputW)) return null;
  return {
    logic: { ...logic, relayWaitSinceNs: null },
    later: [{ atNs: endNs + step.delayNs, step: { kind: "actuate", step } }],
  };
}
