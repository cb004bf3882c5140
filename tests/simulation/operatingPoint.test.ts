/**
 * A station's working point, from the station as a file describes it. Reference: full-waveform transient analyses
 * (ngspice 39, tests/reference/fullWaveformStage.json); limits in tests/support/waveformCases.ts.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_STATION } from "../../src/project/defaults";
import type { Load, Station } from "../../src/project/station";
import {
  type OperatingPoint,
  operatingPoint,
  powerGainDb,
} from "../../src/simulation/operatingPoint";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";
import {
  errorsOf,
  limitsOf,
  outsideLimits,
  STEADY_CASES,
  stationOf,
  steadyCase,
} from "../support/waveformCases";
import { anyInput } from "../support/waveformStations";

function solved(station: Station): OperatingPoint {
  const result = operatingPoint(station);
  if (!result.ok) throw new Error(JSON.stringify(result));
  return result.point;
}

function withDrive(watts: number): Station {
  return { ...stationOf(steadyCase("normal_14.2").input), exciter: driven(watts) };
}

function driven(availableW: number): Station["exciter"] {
  return { ...DEFAULT_STATION.exciter, availableW };
}

const modelled = STEADY_CASES.filter((k) => k.input.arc?.model !== "clamp");

describe("working point of a station given part by part", () => {
  it.each(modelled)("agrees with the full waveform: $name", ({ name, input, ngspice }) => {
    const p = solved(stationOf(input));
    const errors = errorsOf(
      {
        Pout: p.outputW,
        V1: p.plateRfPeakV,
        V2: p.loadRfPeakV,
        Ip: p.plateCurrentA,
        Ig: p.gridCurrentA,
        gain: p.gainDb,
      },
      ngspice,
    );
    expect(outsideLimits(name, errors, limitsOf(name))).toEqual([]);
    expectWithin(p.driveW, input.Pd, 1e-9 * input.Pd, "the available drive itself, rounding");
    expectWithin(
      p.plateMinV,
      ngspice.vpmin,
      limitsOf(name).V1 * ngspice.V1 + 25,
      "limit of the fundamental, and a third harmonic of up to 24 V that is not carried",
    );
    expectWithin(p.plateV, input.Eb, 2e-3, "1 mohm of supply at 1 A");
  });
});

describe("working point", () => {
  it("has its own sums right", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const p = solved(stationOf(input));
        expectWithin(p.forwardW - p.reflectedW, p.outputW, 1e-9 * p.forwardW, "rounding");
        expectWithin(
          p.gainDb,
          10 * Math.log10(p.outputW / input.Pd),
          1e-9,
          "definition of gain in dB, rounding",
        );
        expectWithin(
          p.forwardGainDb,
          10 * Math.log10(p.forwardW / input.Pd),
          1e-9,
          "definition, rounding",
        );
        expectWithin(p.efficiency, p.outputW / (p.plateV * p.plateCurrentA), 1e-12, "rounding");
        expect(p.driveReflectedW).toBeLessThan(p.driveW);
        expect(p.arcW).toBe(0);
      }),
      fixedRuns(20),
    );
  });

  it("is the same number for number when asked again", () => {
    expect(operatingPoint(DEFAULT_STATION)).toEqual(operatingPoint(DEFAULT_STATION));
  });

  it.each([
    // full-waveform transient analyses: ngspice 39 (0.5, 32.5, 65, 130 W), ngspice 45 of the same netlist (2, 100 W)
    [0.5, 13.1862],
    [2, 12.8163],
    [32.5, 13.5284],
    [65, 13.6644],
    [100, 13.3917],
    [130, 12.6234],
  ])(
    "at %d W of drive gains %d dB: lowest between idle and class B, falling again above 65 W",
    (watts, dB) => {
      expectWithin(solved(withDrive(watts)).gainDb, dB, 0.055, "the limit of ordinary circuits");
    },
  );

  it("delivers next to nothing without drive", () => {
    const p = solved(withDrive(0));
    expectWithin(p.outputW, 0, 1e-6, "no signal anywhere; Newton's last update");
    expect(p.gainDb).toBeNaN();
    expect(p.plateCurrentA).toBeGreaterThan(0.05);
  });

  it("reads a load given as a reflection like the same load given as an admittance", () => {
    // gamma = 0.5 at 225 degrees: Y = (1 - gamma)/(1 + gamma)/50 = 27.6297 + j 26.0496 mS (reference case, by hand)
    const { input } = steadyCase("vswr3_ph225_14.2");
    const byGamma: Load = { kind: "reflection", magnitude: 0.5, phaseRad: (225 * Math.PI) / 180 };
    const a = solved(stationOf(input));
    const b = solved({ ...stationOf(input), load: byGamma });
    expectWithin(b.outputW, a.outputW, 1e-4, "admittance printed to nine digits");
    expectWithin(b.reflectedW / b.forwardW, 0.25, 1e-9, "|gamma|^2, rounding");
  });

  it("takes the tap of the band switch when the arc names none", () => {
    const { input } = steadyCase("arcCoil0.3_cassie_250_14.2");
    const station = stationOf(input);
    const arc = { place: "coilTap", maintainingV: 250 } as const;
    const own = { ...station, bandSwitch: { ...station.bandSwitch, tapFraction: 0.3 } };
    const named = solved(station);
    expectWithin(solved({ ...own, arc }).outputW, named.outputW, 1e-9 * named.outputW, "same tap");
    const other = { ...station, bandSwitch: { ...station.bandSwitch, tapFraction: 0.7 } };
    expect(solved({ ...other, arc }).outputW).toBeLessThan(0.5 * named.outputW);
  });

  it("shows an arc beyond the coupler as reflected power, an arc before it not", () => {
    // in parallel with 50 ohm, G Z0 = 1 + g 50: gamma = -g 50/(2 + g 50)
    const station = stationOf(steadyCase("normal_14.2").input);
    const at = (place: "loadingCapacitor" | "beyondCoupler"): OperatingPoint =>
      solved({ ...station, arc: { place, maintainingV: 200 } });
    const before = at("loadingCapacitor");
    const beyond = at("beyondCoupler");
    expectWithin(before.reflectedW, 0, 1e-9, "a matched line");
    const extra = (50 * beyond.arcPeakA) / 200;
    const gamma = extra / (2 + extra);
    expectWithin(beyond.reflectedW / beyond.forwardW, gamma * gamma, 1e-4, "settled to 1e-6");
    expectWithin(beyond.plateCurrentA, before.plateCurrentA, 1e-6, "the same node, the same arc");
  });

  it("says what is wrong with a design that cannot be built", () => {
    const result = operatingPoint({
      ...DEFAULT_STATION,
      tank: { kind: "designedPi", plateLoadOhm: 1900, bands: [] },
    });
    expect(result).toMatchObject({ ok: false, kind: "design" });
  });

  it("does not invent a steady arc that the stage could not feed", () => {
    // the matched stage has 389 V at the loading capacitor
    const station = stationOf(steadyCase("normal_14.2").input);
    const result = operatingPoint({
      ...station,
      arc: { place: "loadingCapacitor", maintainingV: 450 },
    });
    expect(result.ok).toBe(false);
  });
});

describe("gain in dB", () => {
  it("is ten times the decadic logarithm of the power ratio", () => {
    expectWithin(powerGainDb(1500, 15), 20, 1e-12, "log10 100 = 2, rounding");
    expect(powerGainDb(0, 15)).toBe(-Infinity);
    expect(powerGainDb(10, 0)).toBeNaN();
  });
});
