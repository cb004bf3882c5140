import { describe, expect, it } from "vitest";
import { DEFAULT_STATION } from "../../../../src/project/defaults";
import type { Station } from "../../../../src/project/station";
import { withKind } from "../../../../src/state/stationKinds";
import type { FormItem } from "../../../../src/ui/forms/formTree";
import { scaleOf } from "../../../../src/ui/forms/scales";
import { FIELD_LABELS } from "../../../../src/ui/screens/station/fieldLabels";
import { pasted, pointsOf } from "../../../../src/ui/screens/station/fitRows";
import { formOf } from "../../../../src/ui/screens/station/stationForm";
import { expectWithin } from "../../../support/expectWithin";

const NONE = new Map<string, unknown>();

/** Stations that between them show every kind of every part. */
const STATIONS: readonly Station[] = [
  DEFAULT_STATION,
  withKind(withKind(DEFAULT_STATION, ["tank"], "explicitPiL", NONE), ["load"], "antenna", NONE),
  withKind(withKind(DEFAULT_STATION, ["tank"], "designedPiL", NONE), ["load"], "reflection", NONE),
  withKind(
    withKind(DEFAULT_STATION, ["inputCircuit"], "explicit", NONE),
    ["exciter", "alc"],
    "output",
    NONE,
  ),
  withKind(withKind(DEFAULT_STATION, ["supply"], "stiff", NONE), ["exciter", "alc"], "grid", NONE),
];

function leaves(items: readonly FormItem[]): readonly FormItem[] {
  return items.flatMap((item) => {
    if (item.kind === "group") return leaves(item.items);
    if (item.kind === "list") return item.entries.flatMap((e) => leaves(e.items));
    return [item];
  });
}

/** Every value of plain data by its place. */
function valuesOf(value: unknown, path = ""): readonly string[] {
  if (typeof value !== "object" || value === null) return [path];
  return Object.entries(value).flatMap(([name, inner]) =>
    valuesOf(inner, path === "" ? name : `${path}.${name}`),
  );
}

describe("the form of a station", () => {
  it("has a field for every value a station holds, each with a label", () => {
    for (const station of STATIONS) {
      const shown = new Set(
        formOf(station).flatMap(({ items }) => leaves(items).map((i) => i.path.join("."))),
      );
      const kinds = (place: string): boolean => place.endsWith("kind");
      const missing = valuesOf(station).filter((place) => !shown.has(place) && !kinds(place));
      expect(missing).toEqual([]);
    }
  });

  it("explains its fields from the table of fields and keeps values within their own ranges", () => {
    for (const station of STATIONS) {
      for (const { items } of formOf(station)) {
        for (const item of leaves(items)) {
          const place = item.path.join(".");
          expect(item.label, place).not.toBe("");
          if (item.kind !== "number" || Number.isNaN(item.value)) continue;
          expect(item.value, place).toBeGreaterThanOrEqual(item.range.min);
          expect(item.value, place).toBeLessThanOrEqual(item.range.max);
          const read = item.scale.parse(item.scale.format(item.value));
          expect(read.ok, place).toBe(true);
          const size = Math.abs(item.value) + 1e-15;
          if (read.ok) {
            expectWithin(read.value, item.value, 1e-9 * size, "ten digits are shown");
          }
        }
      }
    }
  });
});

describe("the labels of fields", () => {
  it("give a meaning, a label and a unit to each", () => {
    const all = STATIONS.flatMap((station) =>
      formOf(station).flatMap(({ items }) => leaves(items)),
    );
    const poor = all.filter(({ path, meaning, kind }) => {
      const name = String(path.at(-1));
      const place = path.filter((step) => typeof step === "string").join(".");
      const labelled = name in FIELD_LABELS || place in FIELD_LABELS || kind === "choice";
      return !labelled || (kind === "number" && meaning === "");
    });
    expect(poor.map(({ path }) => path.join("."))).toEqual([]);
  });
});

describe("a field's unit", () => {
  it("is what a bare number is taken for; prefixes, comma and own units are read", () => {
    const read = (unit: string, typed: string): number => {
      const parsed = scaleOf(unit).parse(typed);
      return parsed.ok ? parsed.value : Number.NaN;
    };
    const tiny = "rounding of one product";
    expectWithin(read("µH", "90"), 90e-6, 1e-18, tiny);
    expectWithin(read("µH", "0,09 mH"), 90e-6, 1e-18, tiny);
    expectWithin(read("MHz", "14,2"), 14.2e6, 1e-6, tiny);
    expectWithin(read("kΩ", "100000 ohm"), 1e5, 1e-9, tiny);
    expectWithin(read("°", "180"), Math.PI, 1e-15, tiny);
    expectWithin(read("A/mm²", "2 A/mm²"), 2e6, 1e-9, tiny);
    expectWithin(read("°C", "20"), 293.15, 1e-9, "degrees Celsius begin at 273.15 K");
    expectWithin(read("dB/100 m", "3.5"), 0.035, 1e-15, tiny);
    expectWithin(read("mA/V^1.5", "2.1"), 0.0021, 1e-15, tiny);
  });
});

describe("a pasted data sheet", () => {
  it("fills rows from the cell it is pasted into, and adds what is missing", () => {
    const rows = pasted(
      [["", "", "", ""]],
      "curve",
      { row: 0, column: 0 },
      "0\t2000\t95\t0\n10\t2000\t210\t4\n",
    );
    const { points, problems } = pointsOf(rows, "curve");
    expect(problems).toEqual([]);
    expect(points).toEqual([
      { kind: "curve", gridV: 0, plateV: 2000, plateCurrentA: 0.095, gridCurrentA: 0 },
      { kind: "curve", gridV: 10, plateV: 2000, plateCurrentA: 0.21, gridCurrentA: 0.004 },
    ]);
  });

  it("says which cell cannot be read, and passes over empty rows", () => {
    const rows = [
      ["1", "3000", "x", "", "400", "", "", "", ""],
      ["1", "", "", "", "", "", "", "", ""],
    ];
    const { points, problems } = pointsOf(rows, "operation");
    expect(points).toHaveLength(1);
    expect(problems.map((p) => [p.row, p.column])).toEqual([[0, 2]]);
    expect(problems[0]?.words).toContain("cathode bias");
  });
});
