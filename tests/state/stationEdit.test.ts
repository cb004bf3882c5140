import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeProject } from "../../src/formats/writeProject";
import { resolveStation } from "../../src/physics/stage/stationCircuit";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import type { Station } from "../../src/project/station";
import { createStationEdit, MOST_STEPS, stepLabel } from "../../src/state/stationEdit";
import { valueAt, withKind, withValue } from "../../src/state/stationKinds";
import { expectWithin } from "../support/expectWithin";
import { fixedRuns } from "../support/properties";

const NONE = new Map<string, unknown>();

const words = (field: string, from = "", to = "") => ({ field, from, to });

function biased(station: Station, cathodeV: number): Station {
  return withValue(station, ["bias", "cathodeV"], cathodeV);
}

describe("steps of an edited station", () => {
  it("are one a gesture, whatever was typed on the way, labelled with field and values", () => {
    const edit = createStationEdit();
    for (const v of [1, 12, 12.5]) {
      edit.change(biased(DEFAULT_STATION, v), words("Bias", "9 V", `${v} V`), "bias.cathodeV");
    }
    edit.endGesture();
    const { past, project } = edit.store.getState();
    expect(past.map((s) => stepLabel(s.words))).toEqual(["Bias: 9 V to 12.5 V"]);
    expect(project.station.bias.cathodeV).toBe(12.5);
    edit.undo();
    expect(edit.store.getState().project.station.bias.cathodeV).toBe(9);
  });

  it("are none for a gesture that comes back to where it began", () => {
    const edit = createStationEdit();
    edit.change(biased(DEFAULT_STATION, 12), words("Bias"), "b");
    edit.change(biased(DEFAULT_STATION, 9), words("Bias"), "b");
    expect(edit.store.getState().past).toEqual([]);
  });

  it("are kept a hundred deep at least", () => {
    const edit = createStationEdit();
    for (let v = 1; v <= MOST_STEPS + 5; v++) {
      edit.change(biased(DEFAULT_STATION, v + 0.5), words("Bias"));
    }
    let undone = 0;
    while (edit.undo()) undone += 1;
    expect(undone).toBeGreaterThanOrEqual(100); // Z2 of the usual expectations: 100 steps at least
  });

  it("take in a file that is loaded, and give back what was there", () => {
    const edit = createStationEdit();
    const other = { ...defaultProject(), title: "Another" };
    edit.load(other, "Opened other.json");
    expect(edit.store.getState().project).toBe(other);
    edit.undo();
    expect(edit.store.getState().project.title).toBe("Skerry Light");
    edit.redo();
    expect(edit.store.getState().project).toBe(other);
  });

  it("undone and done again give the same file, over any sequence of edits", () => {
    type Act =
      | { readonly do: "type"; readonly value: number; readonly gesture: string }
      | { readonly do: "undo" | "redo" | "end" | "load" };
    const act: fc.Arbitrary<Act> = fc.oneof(
      fc.record({
        do: fc.constant("type" as const),
        value: fc.integer({ min: 1, max: 40 }),
        gesture: fc.constantFrom("", "bias.cathodeV", "supply.noLoadV"),
      }),
      fc.constantFrom({ do: "undo" as const }, { do: "redo" as const }),
      fc.constantFrom({ do: "end" as const }, { do: "load" as const }),
    );
    fc.assert(
      fc.property(fc.array(act, { maxLength: 14 }), (acts) => {
        const edit = createStationEdit();
        const text = (): string => writeProject(edit.store.getState().project);
        for (const a of acts) {
          if (a.do === "type") {
            const { station } = edit.store.getState().project;
            edit.change(biased(station, a.value), words("Bias"), a.gesture);
          } else if (a.do === "undo") edit.undo();
          else if (a.do === "redo") edit.redo();
          else if (a.do === "end") edit.endGesture();
          else edit.load({ ...defaultProject(), seed: acts.length }, "Opened");
        }
        const last = text();
        const seen = [last];
        while (edit.undo()) seen.push(text());
        for (let k = seen.length - 2; k >= 0; k--) {
          expect(edit.redo()).toBe(true);
          expect(text()).toBe(seen[k]);
        }
      }),
      fixedRuns(25),
    );
  });
});

describe("another kind of a part", () => {
  const componentsOf = (station: Station): readonly number[] => {
    const resolved = resolveStation(station);
    if (!resolved.ok) throw new Error(resolved.problem);
    const { tuningF, coilH, coilOhm, loadingF, chokeH, turnsRatio, cathodeF } = resolved.parts;
    return [tuningF, coilH, coilOhm, loadingF, chokeH, turnsRatio, cathodeF];
  };

  it("keeps the circuit: a designed tank made explicit has the same components", () => {
    const tank = withKind(DEFAULT_STATION, ["tank"], "explicitPi", NONE);
    expect(tank.tank.kind).toBe("explicitPi");
    expect(componentsOf(tank)).toEqual(componentsOf(DEFAULT_STATION));
    const input = withKind(DEFAULT_STATION, ["inputCircuit"], "explicit", NONE);
    expect(componentsOf(input)).toEqual(componentsOf(DEFAULT_STATION));
  });

  it("is the same pi after a way through the pi-L, as arrow keys take it", () => {
    const kinds = ["designedPiL", "explicitPiL", "explicitPi"];
    const through = kinds.reduce((at, kind) => withKind(at, ["tank"], kind, NONE), DEFAULT_STATION);
    const [tuningF, coilH, , loadingF] = componentsOf(through);
    const [t = 0, coil = 0, , loading = 0] = componentsOf(DEFAULT_STATION);
    const rounding = "the plate load is rounded to three digits on the way";
    expectWithin(tuningF ?? 0, t, 0.01 * t, rounding);
    expectWithin(coilH ?? 0, coil, 0.01 * coil, rounding);
    expectWithin(loadingF ?? 0, loading, 0.01 * loading, rounding);
  });

  it("is one that can be built, off the frequency of an explicit tank too", () => {
    const there = withKind(DEFAULT_STATION, ["tank"], "explicitPi", NONE);
    for (const freqHz of [1.9e6, 7.15e6, 28.5e6]) {
      for (const kind of ["explicitPiL", "designedPi", "designedPiL"]) {
        const station = withKind({ ...there, freqHz }, ["tank"], kind, NONE);
        expect(station.tank.kind).toBe(kind);
        expect(
          componentsOf(station).every((v) => v > 0),
          `${kind} at ${freqHz} Hz`,
        ).toBe(true);
      }
    }
  });

  it("is complete for every kind there is", () => {
    const kinds: readonly (readonly [path: string, kinds: readonly string[]])[] = [
      ["tank", ["explicitPi", "explicitPiL", "designedPi", "designedPiL"]],
      ["inputCircuit", ["explicit", "designed"]],
      ["supply", ["stiff", "rectified"]],
      ["load", ["admittance", "reflection", "antenna"]],
      ["exciter.alc", ["none", "output", "grid"]],
    ];
    for (const [path, names] of kinds) {
      for (const from of names) {
        for (const to of names) {
          const steps = path.split(".");
          const there = withKind(DEFAULT_STATION, steps, from, NONE);
          const station = withKind(there, steps, to, NONE);
          expect(valueAt(station, [...steps, "kind"]), `${path} ${from} to ${to}`).toBe(to);
          expect(resolveStation(station).ok, `${path} ${from} to ${to}`).toBe(true);
        }
      }
    }
  });
});
