import { describe, expect, it } from "vitest";
import { DEFAULT_BANDS, DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { expectWithin } from "../support/expectWithin";

describe("the demonstration station", () => {
  it("is the generic pair of triodes behind a 160 ohm supply", () => {
    const { tube, supply, bias, tank } = DEFAULT_STATION;
    // Design values of our own station; the numbers are stated here a second time, not taken from the source.
    expect(tube).toMatchObject({ count: 2, mu: 200, perveanceAPerV1p5: 0.0021, divisionRatio: 3 });
    expect(bias.cathodeV).toBe(9);
    expect(supply).toMatchObject({ kind: "rectified", noLoadV: 3180, filterF: 4e-5 });
    if (supply.kind === "rectified") expect(supply.sourceOhm + supply.surgeOhm).toBe(160);
    expect(tank).toMatchObject({ kind: "designedPi", plateLoadOhm: 1900 });
  });

  it("has nine bands that do not look alike", () => {
    expect(DEFAULT_BANDS.map((band) => band.name)).toEqual([
      "160 m",
      "80 m",
      "40 m",
      "30 m",
      "20 m",
      "17 m",
      "15 m",
      "12 m",
      "10 m",
    ]);
    const values = DEFAULT_BANDS.map((band) => `${band.loadedQ} ${band.coilQ} ${band.strayF}`);
    expect(new Set(values).size).toBe(9);
    DEFAULT_BANDS.forEach((band, index) => {
      expect(band.fromHz).toBeLessThan(band.toHz);
      expect(band.fromHz).toBeGreaterThan(DEFAULT_BANDS[index - 1]?.toHz ?? 0);
    });
    const twenty = DEFAULT_BANDS.find((band) => band.name === "20 m");
    expectWithin(twenty?.strayF ?? 0, 21e-12, 1e-18, "stated as 21 pF; one part in a million");
  });

  it("carries less than its rated current in the plate choke on the lowest band", () => {
    // Peak current V/(w L) of 2.5 kV at 1.8 MHz in 225 uH: 0.98 A, against 2.46 A in 90 uH.
    const lowest = DEFAULT_BANDS[0];
    const currentA = 2500 / (2 * Math.PI * 1.8e6 * (lowest?.chokeH ?? 0));
    expectWithin(currentA, 0.982, 0.001, "one unit in the last printed digit");
  });

  it("heats a struck part between an early and a late estimate", () => {
    const { early, nominal, late } = DEFAULT_STATION.erosion;
    expect(nominal).toEqual({ spotAPerM2: 2e6, electrodeShare: 0.4 });
    expect(early).toEqual({ spotAPerM2: 10e6, electrodeShare: 0.45 });
    expect(late).toEqual({ spotAPerM2: 2e6, electrodeShare: 0.25 });
  });

  it("takes 15 ms from the key to the drive", () => {
    const { antennaRelayS, inputRelayS, biasS, driveS } = DEFAULT_STATION.transmitReceive;
    expectWithin(antennaRelayS + inputRelayS + biasS + driveS, 15e-3, 1e-12, "rounding of a sum");
  });

  it("makes a project that shares nothing that could be changed by accident", () => {
    expect(defaultProject()).toEqual(defaultProject());
    expect(defaultProject().scenario).toEqual([]);
    expect(defaultProject([{ atS: 0, do: "key", down: true }]).scenario.length).toBe(1);
  });
});
