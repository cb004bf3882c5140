/**
 * From a trip to the actuators' timed steps, the T/R relay that waits for the output to fall, and what goes back
 * after a reset. Pure.
 */
import type { ActuatorName } from "../project/protection";
import type { Command } from "../project/scenario";
import type { Project } from "../project/types";
import { actuatorSteps, isReleased } from "../protection/actuators/schedule";
import type { ProtectionEvent } from "../protection/events";
import type { Queued } from "./eventQueue";
import type { Logic } from "./logic";
import { type Change, release, type Scheduled, type TimedStep } from "./sequencer";

/** What the bench itself has in store: steps of sequence and actuators, and keying that stands for a text. */
export type QueuedStep = TimedStep | { readonly kind: "command"; readonly command: Command };

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

/**
 * After a reset: what `held` still demands stays; everything else a trip has moved, or was about to move, goes
 * back.
 */
export function letGo(
  project: Project,
  logic: Logic,
  held: readonly ActuatorName[],
  queue: readonly Queued<QueuedStep>[],
  ns: number,
): { readonly queue: readonly Queued<QueuedStep>[]; readonly change: Change } {
  const needed = actuatorSteps(held, project.actuators, logic.failures).map((s) => s.actuator);
  return {
    queue: queue.filter(
      ({ item }) => item.kind !== "actuate" || needed.includes(item.step.actuator),
    ),
    change: release(project, { ...logic, tripHeld: held.length > 0 }, needed, ns),
  };
}
