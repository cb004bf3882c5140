import { describe, expect, it } from "vitest";
import {
  FAULT_NAMES,
  FAULTS,
  faultFits,
  faultsOn,
  onsetFits,
  usualSeverity,
} from "../../src/project/faults";
import { FAULT_WORDS } from "../../src/project/faultWords";

describe("the table of faults", () => {
  it("names every fault by its own key, with a part, words and a scale that holds its usual value", () => {
    for (const name of FAULT_NAMES) {
      const kind = FAULTS[name];
      expect(kind.fault).toBe(name);
      expect(kind.parts.length).toBeGreaterThan(0);
      const { what, does, gives } = FAULT_WORDS[name];
      for (const words of [kind.name, what, does, gives, kind.severity.meaning]) {
        expect(words).toMatch(/\w/);
      }
      for (const part of kind.parts) {
        expect(usualSeverity(name, part)).toBeGreaterThanOrEqual(kind.severity.min);
        expect(usualSeverity(name, part)).toBeLessThanOrEqual(kind.severity.max);
      }
    }
  });

  it("calls latent what shows only at the next trip", () => {
    const latent = FAULT_NAMES.filter((name) => FAULTS[name].latent);
    expect(latent).toEqual([
      "safetyChokeOpen",
      "bleederOpen",
      "fuseTooLarge",
      "driveInhibitFailed",
      "relayStuck",
      "contactorOnly",
      "contactorSlow",
      "contactorWelded",
      "crowbarFails",
      "sensorOpen",
      "sensorStuck",
      "sensorDrifts",
      "outputDetectorLost",
      "plateShuntLost",
      "gridShuntLost",
      "scanStopped",
    ]);
    for (const name of latent)
      expect(["protection", "supply", "tank", "plateCurrentA"]).toContain(FAULTS[name].parts[0]);
  });

  it("warns of every fault that must never be tried by hand", () => {
    for (const name of [
      "plateSupplyShort",
      "plateSupplyLost",
      "tubeFlashover",
      "blockingShorted",
      "safetyChokeOpen",
      "bleederOpen",
      "contactorWelded",
      "arc",
      "openLoad",
    ] as const) {
      expect(FAULTS[name].neverByHand).toBe(true);
    }
    for (const name of FAULT_NAMES) {
      if (FAULTS[name].neverByHand) expect(FAULT_WORDS[name].caution).toMatch(/\w/);
    }
  });

  it("gives an arc the maintaining voltage of its place", () => {
    // Demonstration station: tuning capacitor and coil tap 250 V, loading capacitor 160 V, beyond the coupler 200 V.
    expect(usualSeverity("arc", "tuningCapacitor")).toBe(250);
    expect(usualSeverity("arc", "bandSwitch")).toBe(250);
    expect(usualSeverity("arc", "loadingCapacitor")).toBe(160);
    expect(usualSeverity("arc", "outputContact")).toBe(200);
  });

  it("knows which faults fit on a part", () => {
    expect(faultFits("insect", "tuningCapacitor")).toBe(true);
    expect(faultFits("insect", "tube")).toBe(false);
    expect(faultsOn("load").map((kind) => kind.fault)).toEqual([
      "openLoad",
      "shortLoad",
      "feedPointBroken",
      "wrongAntenna",
      "antennaChanged",
      "ice",
      "sway",
      "gust",
    ]);
    expect(faultsOn("exciter").map((kind) => kind.fault)).toEqual([
      "overdrive",
      "leadingEdge",
      "alcLost",
      "driveAhead",
    ]);
  });

  it("lets no switch be turned bit by bit, and no break grow", () => {
    const growing = { kind: "growing", overS: 1 } as const;
    const intermittent = { kind: "intermittent", share: 0.5 } as const;
    expect(onsetFits("antennaChanged", growing)).toBe(false);
    expect(onsetFits("antennaChanged", intermittent)).toBe(false);
    expect(onsetFits("feedPointBroken", growing)).toBe(false);
    expect(onsetFits("feedPointBroken", intermittent)).toBe(true);
    expect(onsetFits("ice", growing)).toBe(true);
  });
});
