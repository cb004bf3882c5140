import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatDb, formatPercent, formatQuantity } from "../../src/units/format";
import { type ParsedQuantity, parseQuantity } from "../../src/units/parseQuantity";
import { expectWithin } from "../support/expectWithin";

function siValue(parsed: ParsedQuantity): number {
  if (!parsed.ok) throw new Error(`refused: ${parsed.problem}`);
  return parsed.value;
}

function suggestionsOf(parsed: ParsedQuantity): readonly string[] {
  return parsed.ok ? [] : parsed.suggestions;
}

const EXACT = "one rounding of a product of two doubles";

describe("prefixes of typed quantities", () => {
  it("are case-sensitive: m is milli, M and meg are mega", () => {
    expectWithin(siValue(parseQuantity("10 m", "Ω")), 0.01, 1e-17, EXACT);
    expectWithin(siValue(parseQuantity("10M", "Ω")), 1e7, 0, EXACT);
    expectWithin(siValue(parseQuantity("10 megΩ", "Ω")), 1e7, 0, EXACT);
    expectWithin(siValue(parseQuantity("2,5k", "V")), 2500, 0, EXACT);
  });
  it("read all three ways of writing micro", () => {
    for (const micro of ["u", "µ", "\u03bc"])
      expectWithin(siValue(parseQuantity(`50 ${micro}s`, "s")), 50e-6, 1e-20, EXACT);
  });
  it("echo the reading before it is used", () => {
    expect(parseQuantity("10m", "Ω")).toMatchObject({ ok: true, echo: "10\u00a0mΩ" });
    expect(parseQuantity("62.5", "W")).toMatchObject({ ok: true, echo: "62.5\u00a0W" });
  });
  it("refuse a capital K and offer kilo", () => {
    expect(suggestionsOf(parseQuantity("2 K", "V"))).toEqual(["2 kV", "2 V"]);
  });
  it("do not exist for decibel and per cent", () => {
    expect(parseQuantity("2 m", "dB").ok).toBe(false);
    expectWithin(siValue(parseQuantity("62.4 %", "%")), 0.624, 1e-16, EXACT);
    expectWithin(siValue(parseQuantity("20", "°C")), 293.15, 0, EXACT);
  });
  it("leave metre as metre: 10 m is not milli", () => {
    expectWithin(siValue(parseQuantity("10 m", "m")), 10, 0, EXACT);
    expectWithin(siValue(parseQuantity("1.5 mm", "m")), 1.5e-3, 1e-18, EXACT);
  });
  it("may be implied by the field, never over a written one", () => {
    expectWithin(siValue(parseQuantity("2", "s", { bare: "m" })), 2e-3, 0, EXACT);
    expectWithin(siValue(parseQuantity("2 s", "s", { bare: "m" })), 2, 0, EXACT);
  });
});

describe("decimal marks of typed quantities", () => {
  it("may be point or comma", () => {
    expectWithin(siValue(parseQuantity("0,5", "A")), 0.5, 0, EXACT);
    expectWithin(siValue(parseQuantity("1,23", "A")), 1.23, 0, EXACT);
    expectWithin(siValue(parseQuantity("1.234,5", "W")), 1234.5, 0, EXACT);
    expectWithin(siValue(parseQuantity("1,234.5", "W")), 1234.5, 0, EXACT);
    expectWithin(siValue(parseQuantity("1,234,567", "W")), 1234567, 0, EXACT);
  });
  it("are refused with two readings when a comma may group or divide", () => {
    expect(suggestionsOf(parseQuantity("1,234", "W"))).toEqual(["1.234 W", "1234 W"]);
  });
  it("are refused when they make no number", () => {
    expect(parseQuantity("1,23,4", "W").ok).toBe(false);
    expect(parseQuantity("watts", "W").ok).toBe(false);
    expect(parseQuantity("", "W").ok).toBe(false);
    expect(parseQuantity("5 V", "W").ok).toBe(false);
  });
});

describe("writing and reading back", () => {
  it("returns the value to the figures shown, for every unit and size", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.01e-12, max: 9.9e11, noNaN: true }),
        fc.boolean(),
        fc.constantFrom("V", "A", "W", "s", "Hz", "F", "m", "Ω"),
        (size, negative, unit) => {
          const value = negative ? -size : size;
          const back = siValue(parseQuantity(formatQuantity(value, unit), unit));
          expectWithin(
            back,
            value,
            0.00502 * size,
            "three significant figures: half a unit in the third, at worst 0.5 % of the value",
          );
        },
      ),
      { seed: 4711, numRuns: 200 },
    );
  });
  it("holds for decibel and per cent, which carry their own places", () => {
    fc.assert(
      fc.property(fc.double({ min: -99, max: 99, noNaN: true }), (value) => {
        expectWithin(
          siValue(parseQuantity(formatDb(value), "dB")),
          value,
          0.0501,
          "one decimal is written",
        );
        expectWithin(
          siValue(parseQuantity(formatPercent(value / 100), "%")),
          value / 100,
          0.00501,
          "whole per cent are written",
        );
      }),
      { seed: 815, numRuns: 100 },
    );
  });
  it("never throws, whatever is typed", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), (typed) => {
        expect(typeof parseQuantity(typed, "A").ok).toBe("boolean");
      }),
      { seed: 99, numRuns: 300 },
    );
  });
});
