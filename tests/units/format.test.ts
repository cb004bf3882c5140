import { describe, expect, it } from "vitest";
import {
  figuresToShow,
  formatApart,
  formatCelsius,
  formatDb,
  formatLate,
  formatNumber,
  formatPercent,
  formatQuantity,
  formatRatio,
  formatTime,
  spokenQuantity,
} from "../../src/units/format";

// Expected strings are written by hand from SI Brochure 9th ed. 5.4.3 and NIST SP 811 10.5.3; \u00a0 no-break, \u202f thin space.
describe("how a quantity is written", () => {
  it("keeps three significant figures with their trailing zeros", () => {
    expect(formatNumber(65)).toBe("65.0");
    expect(formatNumber(0.83)).toBe("0.830");
    expect(formatNumber(1453)).toBe("1450");
    expect(formatNumber(0)).toBe("0.00");
  });
  it("chooses the prefix by the rounded value, so that 999.6 W is 1.00 kW", () => {
    expect(formatQuantity(999.6, "W")).toBe("1.00\u00a0kW");
    expect(formatQuantity(999.4, "W")).toBe("999\u00a0W");
    expect(formatQuantity(2466, "V")).toBe("2.47\u00a0kV");
    expect(formatQuantity(1e-3, "A")).toBe("1.00\u00a0mA");
    expect(formatQuantity(225e-6, "H")).toBe("225\u00a0µH");
  });
  it("keeps to a fixed prefix and then to fixed places, so that the width does not jitter", () => {
    expect(formatQuantity(0.071, "A", { prefix: "m" })).toBe("71.0\u00a0mA");
    expect(formatQuantity(0.0000004, "A", { prefix: "" })).toBe("0.000\u00a0A");
  });
  it("uses a true minus and no sign on zero", () => {
    expect(formatDb(-6.08)).toBe("\u22126.1\u00a0dB");
    expect(formatDb(-0.04)).toBe("0.0\u00a0dB");
  });
  it("groups by thin spaces from 10 000", () => {
    expect(formatRatio(12345)).toBe("12\u202f000×");
    expect(formatNumber(9999, 4)).toBe("9999");
  });
  it("shows nothing as a dash, never as zero", () => {
    expect(formatQuantity(Number.NaN, "A")).toBe("\u2013\u00a0A");
    expect(formatNumber(Number.POSITIVE_INFINITY)).toBe("\u2013");
  });
});

it("tells a number from a limit, however near, and rounds it away from that", () => {
  expect(formatApart(0.1011, 0.1, 2)).toBe("0.102");
  expect(formatApart(0.1026, 0.1, 2)).toBe("0.103");
  expect(formatApart(3.689, 0.1, 2)).toBe("3.7");
  expect(formatApart(4, 0.1, 2)).toBe("4.0");
  expect(formatApart(0.0996, 0.05, 2)).toBe("0.10");
  expect(formatApart(368.86, 369)).toBe("368.8");
  expect(formatApart(99.98, 100)).toBe("99.98");
  expect(formatApart(36.5, 37)).toBe("36.5");
  expect(formatApart(37, 37)).toBe("37.0");
  expect(formatApart(0.1 + 2 ** -56, 0.1, 2)).toBe("0.10000000000000002");
});

describe("times on screen", () => {
  it("are microseconds below 1 ms, milliseconds below 1 s, seconds above", () => {
    expect(formatTime(50e-6)).toBe("50.0\u00a0µs");
    expect(formatTime(0.93e-3)).toBe("930\u00a0µs");
    expect(formatTime(4.3e-3)).toBe("4.30\u00a0ms");
    expect(formatTime(0.001)).toBe("1.00\u00a0ms");
    expect(formatTime(2.5)).toBe("2.50\u00a0s");
    expect(formatTime(-0.8)).toBe("\u2212800\u00a0ms");
  });
  it("have as many figures as a step asks for, in whatever unit they are written", () => {
    const written = (seconds: number, stepS: number) =>
      formatTime(seconds, figuresToShow(seconds, stepS));
    expect(written(1.00035, 50e-6)).toBe("1.00035\u00a0s");
    expect(written(-12.5, 50e-6)).toBe("\u221212.50000\u00a0s");
    expect(written(0.10005, 50e-6)).toBe("100.05\u00a0ms");
    expect(written(350e-6, 50e-6)).toBe("350\u00a0µs");
    expect(written(0.25001, 10e-6)).toBe("250.01\u00a0ms");
    expect(written(3, 1)).toBe("3\u00a0s");
  });
});

describe("margins", () => {
  it("carry two figures and a multiplication sign", () => {
    expect(formatRatio(13.95)).toBe("14×");
    expect(formatRatio(0.5651)).toBe("0.57×");
  });
  it("below one are also said as how many times too late", () => {
    expect(formatLate(1 / 42)).toBe("42× too late");
    expect(formatLate(0)).toBe("never in time");
  });
});

describe("other readings", () => {
  it("gives per cent and degrees without decimals", () => {
    expect(formatPercent(1.704)).toBe("170\u00a0%");
    expect(formatCelsius(933.473)).toBe("660\u00a0°C"); // ITS-90, freezing point of aluminium
  });
  it("speaks units in words", () => {
    expect(spokenQuantity(0.84, "A", { prefix: "" })).toBe("0.840 ampere");
    expect(spokenQuantity(0.05, "A")).toBe("50.0 milliampere");
    expect(spokenQuantity(-6.1, "dB")).toBe("minus 6.1 decibel");
  });
});
