/**
 * From a trip's actions to timed steps: which actuator takes effect when, counted from the trip.
 *
 * The commands go out together. Drive inhibit and cathode cut-off take effect after their own delay; the T/R relay is
 * released only once the output is under a level, or after the longest wait, and opens its release time later (a relay
 * that opens under power burns); the contactor comes last by its own slowness. A crowbar that is not fitted gets no step.
 * Delays are [E], see presets.
 */
import type { ActuatorName, Actuators } from "../../project/protection";
import { nanoseconds } from "../../units/nanoseconds";
import { unionOfActions } from "../latch";

/** Latent faults of the actuators themselves. */
export interface ActuatorFailures {
  readonly driveInhibitFailed: boolean;
  /** The T/R relay's contacts stay closed. */
  readonly relayStuck: boolean;
  /** Wired wrong: every action opens the contactor and nothing else. */
  readonly contactorOnly: boolean;
  /** Multiple of the contactor's delay. */
  readonly contactorSlowBy: number;
  readonly contactorWelded: boolean;
  readonly crowbarFails: boolean;
}

export const NO_FAILURES: ActuatorFailures = {
  driveInhibitFailed: false,
  relayStuck: false,
  contactorOnly: false,
  contactorSlowBy: 1,
  contactorWelded: false,
  crowbarFails: false,
};

export interface ActuatorStep {
  readonly actuator: ActuatorName;
  /** From the command (or, with a wait, from the end of the wait) to the effect. */
  readonly delayNs: number;
  /** The T/R relay's wait for a falling output; null for actuators that do not wait. */
  readonly wait: { readonly belowW: number; readonly atMostNs: number } | null;
  /** False: commanded, but nothing will happen. */
  readonly works: boolean;
}

/** The steps of a trip in the order of their earliest effect. */
export function actuatorSteps(
  actions: readonly ActuatorName[],
  actuators: Actuators,
  failures: ActuatorFailures = NO_FAILURES,
): readonly ActuatorStep[] {
  if (actions.length === 0) return [];
  const commanded = failures.contactorOnly ? (["contactor"] as const) : unionOfActions([actions]);
  return commanded
    .filter((actuator) => actuator !== "crowbar" || actuators.crowbar.fitted)
    .map((actuator) => stepOf(actuator, actuators, failures))
    .sort((a, b) => a.delayNs - b.delayNs);
}

/** Whether a waiting relay is released now: `sinceCommandNs` after the command with this much output left. */
export function isReleased(step: ActuatorStep, sinceCommandNs: number, outputW: number): boolean {
  if (step.wait === null) return true;
  return outputW < step.wait.belowW || sinceCommandNs >= step.wait.atMostNs;
}

function stepOf(
  actuator: ActuatorName,
  actuators: Actuators,
  failures: ActuatorFailures,
): ActuatorStep {
  switch (actuator) {
    case "driveInhibit":
      return {
        actuator,
        delayNs: nanoseconds(actuators.driveInhibit.delayS),
        wait: null,
        works: !failures.driveInhibitFailed,
      };
    case "cathodeCutoff":
      return {
        actuator,
        delayNs: nanoseconds(actuators.cathodeCutoff.delayS),
        wait: null,
        works: true,
      };
    case "transmitReceive": {
      const { releaseS, waitBelowW, waitAtMostS } = actuators.transmitReceive;
      return {
        actuator,
        delayNs: nanoseconds(releaseS),
        wait: { belowW: waitBelowW, atMostNs: nanoseconds(waitAtMostS) },
        works: !failures.relayStuck,
      };
    }
    case "contactor":
      return {
        actuator,
        delayNs: nanoseconds(actuators.contactor.delayS * failures.contactorSlowBy),
        wait: null,
        works: !failures.contactorWelded,
      };
    case "crowbar":
      return {
        actuator,
        delayNs: nanoseconds(actuators.crowbar.delayS),
        wait: null,
        works: !failures.crowbarFails,
      };
  }
}
