import { describe, expect, it } from "vitest";
import { DEFAULT_ACTUATORS } from "../../../src/project/presets/sensors";
import { actuatorSteps, isReleased, NO_FAILURES } from "../../../src/protection/actuators/schedule";

const ALL = ["contactor", "transmitReceive", "driveInhibit", "cathodeCutoff"] as const;

describe("what a trip sets in motion", () => {
  it("cathode after 0.1 ms, drive after 0.2 ms, relay 8 ms after its wait, contactor last at 25 ms", () => {
    // Delays of the default station: design figures, common practice without source
    expect(actuatorSteps(ALL, DEFAULT_ACTUATORS)).toEqual([
      { actuator: "cathodeCutoff", delayNs: 100_000, wait: null, works: true },
      { actuator: "driveInhibit", delayNs: 200_000, wait: null, works: true },
      {
        actuator: "transmitReceive",
        delayNs: 8_000_000,
        wait: { belowW: 10, atMostNs: 30_000_000 },
        works: true,
      },
      { actuator: "contactor", delayNs: 25_000_000, wait: null, works: true },
    ]);
  });

  it("commands nothing without actions, and nothing twice", () => {
    expect(actuatorSteps([], DEFAULT_ACTUATORS, { ...NO_FAILURES, contactorOnly: true })).toEqual(
      [],
    );
    expect(actuatorSteps(["driveInhibit", "driveInhibit"], DEFAULT_ACTUATORS)).toHaveLength(1);
  });

  it("the relay waits for the output to fall, but not for ever", () => {
    const [step] = actuatorSteps(["transmitReceive"], DEFAULT_ACTUATORS);
    if (step === undefined) throw new Error("no step");
    expect(isReleased(step, 1_000_000, 1400)).toBe(false);
    expect(isReleased(step, 1_000_000, 9.9)).toBe(true);
    expect(isReleased(step, 29_999_999, 10)).toBe(false);
    expect(isReleased(step, 30_000_000, 1400)).toBe(true);
  });

  it("a failed drive inhibit or a stuck relay is commanded and does nothing", () => {
    const works = (more: Partial<typeof NO_FAILURES>) =>
      actuatorSteps(ALL, DEFAULT_ACTUATORS, { ...NO_FAILURES, ...more })
        .filter((s) => !s.works)
        .map((s) => s.actuator);
    expect(works({})).toEqual([]);
    expect(works({ driveInhibitFailed: true })).toEqual(["driveInhibit"]);
    expect(works({ relayStuck: true })).toEqual(["transmitReceive"]);
  });

  it("wired to the contactor alone, every action becomes the contactor", () => {
    const steps = actuatorSteps(["driveInhibit", "cathodeCutoff"], DEFAULT_ACTUATORS, {
      ...NO_FAILURES,
      contactorOnly: true,
    });
    expect(steps.map((s) => s.actuator)).toEqual(["contactor"]);
  });

  it("a crowbar acts first where one is fitted, and is no step where none is", () => {
    const fitted = {
      ...DEFAULT_ACTUATORS,
      crowbar: { ...DEFAULT_ACTUATORS.crowbar, fitted: true },
    };
    expect(actuatorSteps(["contactor", "crowbar"], DEFAULT_ACTUATORS)).toHaveLength(1);
    expect(actuatorSteps(["contactor", "crowbar"], fitted)[0]).toEqual({
      actuator: "crowbar",
      delayNs: 20_000,
      wait: null,
      works: true,
    });
    const dark = actuatorSteps(["crowbar"], fitted, { ...NO_FAILURES, crowbarFails: true });
    expect(dark.map((s) => s.works)).toEqual([false]);
  });

  it("a contactor is late by its factor, or welded and does nothing", () => {
    const contactor = (more: Partial<typeof NO_FAILURES>) =>
      actuatorSteps(["contactor"], DEFAULT_ACTUATORS, { ...NO_FAILURES, ...more })[0];
    expect(contactor({ contactorSlowBy: 4 })?.delayNs).toBe(100_000_000);
    expect(contactor({ contactorWelded: true })?.works).toBe(false);
  });
});
