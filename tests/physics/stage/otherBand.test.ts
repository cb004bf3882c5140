import { describe, expect, it } from "vitest";
import { otherBandCoils } from "../../../src/physics/stage/otherBand";
import { resolveStation, type StationParts } from "../../../src/physics/stage/stationCircuit";
import { DEFAULT_STATION } from "../../../src/project/defaults";
import type { Station } from "../../../src/project/station";
import { expectWithin } from "../../support/expectWithin";

function partsOf(station: Station): StationParts {
  const resolved = resolveStation(station);
  if (!resolved.ok) throw new Error(resolved.problem);
  return resolved.parts;
}

const HERE = partsOf(DEFAULT_STATION);

describe("the coil of another band", () => {
  it("is the one its own design has there", () => {
    const there = partsOf({ ...DEFAULT_STATION, freqHz: DEFAULT_STATION.freqHz / 2 });
    const { coilShare } = otherBandCoils(HERE, 0.5);
    expectWithin(coilShare, there.coilH / HERE.coilH, 1e-12, "rounding");
  });

  it("is the one in use where the switch stands where it should", () => {
    expectWithin(otherBandCoils(HERE, 1).coilShare, 1, 1e-12, "rounding");
  });

  it("has the same reactance at its own frequency where the tank's components are given", () => {
    const { strayF, tuningF, coilH, loadingF, chokeH } = HERE;
    const coilSeriesOhm = HERE.coilOhm;
    const parts = partsOf({
      ...DEFAULT_STATION,
      tank: { kind: "explicitPi", strayF, tuningF, coilH, coilSeriesOhm, loadingF, chokeH },
    });
    // w L = w' L', w' = 1.6 w
    expect(otherBandCoils(parts, 1.6).coilShare).toBe(1 / 1.6);
  });
});
