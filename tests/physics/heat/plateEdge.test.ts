import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { beadDiameterM } from "../../../src/physics/heat/bead";
import { METALS, type Metal } from "../../../src/physics/heat/metals";
import {
  absorbedJ,
  advancePlateEdge,
  boiledJ,
  cellK,
  createPlateEdge,
  hottestK,
  initPlateEdge,
  moltenMassKg,
  onsetFraction,
  PLATE_EDGE_CELLS,
  PLATE_EDGE_STATE_LENGTH,
  type PlateEdgeDef,
  peakMoltenKg,
  plateEdgeRadiiM,
} from "../../../src/physics/heat/plateEdge";
import { expectWithin } from "../../support/expectWithin";
import { halfDiscOnEdgeK, lineSourceMeltRoot } from "../../support/heatReference";

const SAMPLE_S = 50e-6;

function heat(def: PlateEdgeDef, arcW: number, arcPeakA: number) {
  const edge = createPlateEdge(def);
  const state = new Float64Array(PLATE_EDGE_STATE_LENGTH);
  initPlateEdge(edge, state, 0);
  let samples = 0;
  let onsetS = Infinity;
  return {
    edge,
    state,
    until(endS: number) {
      for (; samples * SAMPLE_S < endS - 1e-9; samples++) {
        advancePlateEdge(edge, state, 0, SAMPLE_S, arcW, arcPeakA);
        if (onsetS === Infinity && onsetFraction(edge, state, 0) >= 1)
          onsetS = (samples + 1) * SAMPLE_S;
      }
      return this;
    },
    onsetS: () => onsetS,
    moltenMg: () => moltenMassKg(state, 0) * 1e6,
  };
}

/** A metal with constant properties that melts where the test wants. */
function plainMetal(k: number, cp: number, rho: number, meltingK: number, fusion: number): Metal {
  return {
    name: "aluminium",
    densityKgPerM3: rho,
    solidHeat: { kind: "table", points: [[300, cp]] },
    solidConductivity: [[300, k]],
    meltingK,
    fusionJPerKg: fusion,
    liquidHeatJPerKgK: cp,
    liquidConductivityWPerMK: k,
    liquidDensityKgPerM3: rho,
    boilingK: 1e6,
    standing: "test",
  };
}

/** Current density that gives 1 A peak a root of this radius. */
function densityFor(radiusM: number): number {
  return 1 / (Math.PI * radiusM * radiusM);
}

describe("melting of a plate edge against exact conduction", () => {
  const k = 230;
  const cp = 1050;
  const rho = 2650;
  const medium = { conductivityWPerMK: k, diffusivityM2PerS: k / (rho * cp) };
  const solid = plainMetal(k, cp, rho, 5000, 1e9);
  const def = (radiusM: number, thicknessM: number): PlateEdgeDef => ({
    thicknessM,
    metal: solid,
    startK: 300,
    spotAPerM2: densityFor(radiusM),
    electrodeShare: 1,
  });

  it("follows the exact half disc in a sheet from one millisecond to two seconds", () => {
    // closed form derived in tests/support/heatReference.ts
    for (const radiusM of [0.21e-3, 0.47e-3, 1.05e-3]) {
      const run = heat(def(radiusM, 0.8e-3), 60, 1);
      for (const atS of [1e-3, 10e-3, 0.1, 1, 2]) {
        const exact = halfDiscOnEdgeK(60, radiusM, 0.8e-3, atS, medium);
        const rise = hottestK(run.until(atS).edge, run.state, 0) - 300;
        expectWithin(
          rise,
          exact,
          0.004 * exact,
          "first cell is 0.05 mm against a root of 0.2 to 1 mm: mean over the cell",
        );
      }
    }
  });

  it("keeps account of every joule", () => {
    const run = heat(
      { ...def(0.47e-3, 0.5e-3), metal: METALS.alloy5052, startK: 310, electrodeShare: 0.4 },
      561,
      7,
    );
    run.until(1);
    const { edge, state } = run;
    let storedJ = boiledJ(state, 0);
    for (let i = 0; i < PLATE_EDGE_CELLS; i++) {
      storedJ += (edge.massKg[i] as number) * ((state[i] as number) - edge.startJPerKg);
    }
    expect(boiledJ(state, 0)).toBeGreaterThan(0); // so the cap's account is tested too
    expectWithin(storedJ, 561 * 0.4 * 1, 1e-8 * 224.4, "rounding of 20,000 samples");
    expectWithin(absorbedJ(state, 0), 561 * 0.4 * 1, 1e-8 * 224.4, "rounding of 20,000 samples");
  });

  it("melts about as much as a line source does in the exact two-phase solution", () => {
    // lineSourceMeltRoot: Carslaw and Jaeger 11.6 (from memory), equal properties; half sheet, so Q = 2 P/d
    const fusion = 397e3;
    const metal = plainMetal(140, 900, 2700, 883, fusion);
    const line = { conductivityWPerMK: 140, diffusivityM2PerS: 140 / (2700 * 900) };
    for (const [watts, atS] of [
      [120, 1],
      [120, 2],
      [200, 1],
    ] as const) {
      const lam = lineSourceMeltRoot((2 * watts) / 0.8e-3, 883 - 310, fusion * 2700, line);
      const frontSquare = 4 * lam * lam * line.diffusivityM2PerS * atS;
      const exactKg = 0.5 * Math.PI * frontSquare * 0.8e-3 * 2700;
      const run = heat({ ...def(0.2e-3, 0.8e-3), metal, startK: 310 }, watts, 1).until(atS);
      expectWithin(
        moltenMassKg(run.state, 0),
        exactKg,
        0.06 * exactKg,
        "a cell at the front holds up to 15 % of the mass and melts as one; a root of 0.2 mm is no line",
      );
    }
  });

  it("stands for a strip on the edge when its radius is 0.607 of the strip's half width", () => {
    // late in time strip: (P/2 pi k d)(2 + E1(X^2)), half disc: (P/2 pi k d)(1 + E1(u)): equal for radius/half width = exp(-1/2).
    // Strip 100 W, half width 0.4 mm, sheet 0.8 mm, aluminium k 237: 580.592 K after 0.1 s (Carslaw and Jaeger, from memory)
    const aluminium = plainMetal(237, 903, 2702, 5000, 1e9);
    const run = heat({ ...def(0.4e-3 * Math.exp(-0.5), 0.8e-3), metal: aluminium }, 100, 1).until(
      0.1,
    );
    expectWithin(
      hottestK(run.edge, run.state, 0) - 300,
      580.592,
      8,
      "first cell is a fifth of the root: about 1 %",
    );
  });

  it("stands for a round spot as wide as the sheet when its radius is half the spot's", () => {
    // 150 W on a spot of radius 0.4 mm on the face of a 0.8 mm edge reaches 635.3 K after 10.6 ms by images, 10.3 ms by a
    // three-dimensional finite-volume run of another program. Half: the exact solutions of both agree there from 10 ms to 1 s
    const run = heat(
      { ...def(0.2e-3, 0.8e-3), metal: plainMetal(k, cp, rho, 935.32, 1e9) },
      150,
      1,
    );
    expectWithin(
      run.until(0.1).onsetS(),
      10.6e-3,
      0.15 * 10.6e-3,
      "1 % of temperature is 8 % of time here, and a sample is 0.05 ms",
    );
  });
});

describe("melting of a transmitting capacitor's edge", () => {
  // Arc power and peak current of a 1.5 kW stage at 65 W drive. Onsets and masses: an independent program with the same
  // equations on another grid (4 to 6 cells in the root), printed to the digits shown. J and share are estimates
  const tuning = { arcW: 171, arcPeakA: 1.4 };
  const loading = { arcW: 561, arcPeakA: 7 };
  const coilTap = { arcW: 486, arcPeakA: 3.9 };
  const sheet = (thicknessM: number, spotAPerM2: number): PlateEdgeDef => ({
    thicknessM,
    metal: METALS.alloy5052,
    startK: 310,
    spotAPerM2,
    electrodeShare: 0.4,
  });
  const GRID = "another grid: 5 %, and half a unit of the last printed digit";

  it.each([
    ["tuning capacitor", 0.5e-3, 2e6, tuning, 24e-3, 0.5e-3],
    ["loading capacitor", 0.5e-3, 2e6, loading, 7e-3, 0.5e-3],
    ["coil tap", 0.5e-3, 2e6, coilTap, 5e-3, 0.5e-3],
    ["tuning capacitor", 0.8e-3, 2e6, tuning, 232e-3, 0.5e-3],
    ["loading capacitor", 0.8e-3, 2e6, loading, 16.6e-3, 0.05e-3],
    ["coil tap", 0.8e-3, 2e6, coilTap, 12.7e-3, 0.05e-3],
    ["tuning capacitor", 0.8e-3, 10e6, tuning, 46e-3, 0.5e-3],
    ["loading capacitor", 0.8e-3, 10e6, loading, 3.4e-3, 0.05e-3],
    ["coil tap", 0.8e-3, 10e6, coilTap, 2.6e-3, 0.05e-3],
    ["loading capacitor", 1.2e-3, 2e6, loading, 45e-3, 0.5e-3],
    ["coil tap", 1.2e-3, 2e6, coilTap, 38e-3, 0.5e-3],
  ] as const)(
    "begins to melt in time at the %s, %d m, %d A/m2",
    (_place, thicknessM, J, arc, onsetS, unitS) => {
      const run = heat(sheet(thicknessM, J), arc.arcW, arc.arcPeakA).until(1.3 * onsetS);
      expectWithin(run.onsetS(), onsetS, 0.05 * onsetS + unitS, GRID);
    },
  );

  it("does not melt a thick or a pure aluminium edge within 2.5 s at the tuning capacitor", () => {
    expect(heat(sheet(1.2e-3, 2e6), tuning.arcW, tuning.arcPeakA).until(2.5).onsetS()).toBe(
      Infinity,
    );
    const pure = { ...sheet(0.8e-3, 2e6), metal: METALS.aluminium };
    expect(heat(pure, tuning.arcW, tuning.arcPeakA).until(2.5).onsetS()).toBe(Infinity);
  });

  it("melts milligrams in seconds at the tuning capacitor", () => {
    const thin = heat(sheet(0.5e-3, 2e6), tuning.arcW, tuning.arcPeakA);
    for (const [atS, mg, unit] of [
      [0.1, 0.6, 0.05],
      [1, 6, 0.5],
      [2.5, 15, 0.5],
    ] as const) {
      expectWithin(
        thin.until(atS).moltenMg(),
        mg,
        0.08 * mg + unit,
        "a cell at the front holds 15 % of the mass, and the printed digit",
      );
    }
    const usual = heat(sheet(0.8e-3, 2e6), tuning.arcW, tuning.arcPeakA).until(2.5);
    expectWithin(usual.moltenMg(), 3.2, 0.1 * 3.2, "a cell at the front holds 15 % of the mass");
    // 3.2 mg make a 1.3 mm bead
    expectWithin(
      beadDiameterM(METALS.alloy5052, peakMoltenKg(usual.state, 0)),
      1.3e-3,
      0.08e-3,
      "a third of the mass's 10 %, and the printed digit",
    );
  });

  it("melts milligrams in a tenth of a second on the output side", () => {
    const load = heat(sheet(0.5e-3, 2e6), loading.arcW, loading.arcPeakA);
    expectWithin(load.until(10e-3).moltenMg(), 0.2, 0.05, "printed digit");
    expectWithin(load.until(0.1).moltenMg(), 7, 1.1, "15 % for one cell at the front");
    const tap = heat(sheet(0.5e-3, 2e6), coilTap.arcW, coilTap.arcPeakA);
    expectWithin(tap.until(10e-3).moltenMg(), 0.4, 0.05, "printed digit");
    expectWithin(tap.until(0.1).moltenMg(), 6, 0.9, "15 % for one cell at the front");
  });
});

describe("laws that hold for any arc on an edge", () => {
  const edges = fc.record({
    thicknessM: fc.double({ min: 0.4e-3, max: 1.5e-3, noNaN: true }),
    metal: fc.constantFrom(...Object.values(METALS)),
    startK: fc.double({ min: 290, max: 340, noNaN: true }),
    spotAPerM2: fc.double({ min: 2e6, max: 10e6, noNaN: true }),
    electrodeShare: fc.double({ min: 0.25, max: 0.45, noNaN: true }),
  });
  const arcW = fc.double({ min: 50, max: 700, noNaN: true });
  const arcPeakA = fc.double({ min: 0.5, max: 8, noNaN: true });
  const RUNS = { seed: 20260, numRuns: 25 };

  it("more arc power never melts later and never less", () => {
    fc.assert(
      fc.property(
        edges,
        arcW,
        fc.double({ min: 1, max: 2, noNaN: true }),
        arcPeakA,
        (def, watts, factor, amps) => {
          const weak = heat(def, watts, amps).until(0.05);
          const strong = heat(def, watts * factor, amps).until(0.05);
          expect(strong.onsetS()).toBeLessThanOrEqual(weak.onsetS());
          expect(strong.moltenMg()).toBeGreaterThanOrEqual(weak.moltenMg());
        },
      ),
      RUNS,
    );
  });

  it("a wider root never melts earlier", () => {
    fc.assert(
      fc.property(edges, arcW, arcPeakA, (def, watts, amps) => {
        const narrow = heat(def, watts, amps).until(0.05);
        const wide = heat(def, watts, 1.5 * amps).until(0.05);
        expect(wide.onsetS()).toBeGreaterThanOrEqual(narrow.onsetS());
      }),
      RUNS,
    );
  });

  it("is hottest at the root, never colder than it began, and keeps its heat after the arc, whatever the arc does", () => {
    const bursts = fc.array(
      fc.record({
        watts: fc.oneof(fc.constant(0), arcW),
        amps: arcPeakA,
        dtS: fc.double({ min: 1e-9, max: 3e-4, noNaN: true }),
      }),
      {
        minLength: 1,
        maxLength: 60,
      },
    );
    fc.assert(
      fc.property(edges, bursts, (def, steps) => {
        const edge = createPlateEdge(def);
        const state = new Float64Array(PLATE_EDGE_STATE_LENGTH);
        initPlateEdge(edge, state, 0);
        const coldK = cellK(edge, state, 0, 0);
        expectWithin(coldK, def.startK, 0.02, "table of 7 K steps, linear between");
        let givenJ = 0;
        for (const { watts, amps, dtS } of steps) {
          advancePlateEdge(edge, state, 0, dtS, watts, amps);
          givenJ += watts * def.electrodeShare * dtS;
        }
        let storedJ = boiledJ(state, 0);
        for (let i = 0; i < PLATE_EDGE_CELLS; i++) {
          storedJ += (edge.massKg[i] as number) * ((state[i] as number) - edge.startJPerKg);
          const outer = i + 1 < PLATE_EDGE_CELLS ? cellK(edge, state, 0, i + 1) : coldK;
          expect(cellK(edge, state, 0, i)).toBeGreaterThanOrEqual(outer - 0.01); // fine cells step against a coarse one held for up to a sample
        }
        expect(Math.abs(storedJ - givenJ)).toBeLessThanOrEqual(1e-9 * Math.max(givenJ, 1)); // rounding
      }),
      RUNS,
    );
  });

  it("goes on from a copied slice exactly as if never stopped, wherever the slice lies", () => {
    const def: PlateEdgeDef = {
      thicknessM: 0.8e-3,
      metal: METALS.alloy5052,
      startK: 310,
      spotAPerM2: 10e6,
      electrodeShare: 0.45,
    };
    const whole = heat(def, 486, 3.9).until(0.01);
    const half = heat(def, 486, 3.9).until(0.005);
    const buffer = new Float64Array(PLATE_EDGE_STATE_LENGTH + 7);
    buffer.set(half.state, 7);
    const another = createPlateEdge(def);
    for (let i = 0; i < 100; i++) advancePlateEdge(another, buffer, 7, SAMPLE_S, 486, 3.9);
    expect(buffer.slice(7)).toEqual(whole.state);
  });

  it("remembers what froze again", () => {
    const def: PlateEdgeDef = {
      thicknessM: 0.5e-3,
      metal: METALS.alloy5052,
      startK: 310,
      spotAPerM2: 2e6,
      electrodeShare: 0.4,
    };
    const run = heat(def, 561, 7).until(0.02);
    const moltenKg = moltenMassKg(run.state, 0);
    expect(moltenKg).toBeGreaterThan(0);
    for (let i = 0; i < 4000; i++) advancePlateEdge(run.edge, run.state, 0, SAMPLE_S, 0, 0);
    expect(moltenMassKg(run.state, 0)).toBe(0);
    expect(peakMoltenKg(run.state, 0)).toBe(moltenKg);
    expect(onsetFraction(run.edge, run.state, 0)).toBeLessThan(1);
  });

  it("has radii that grow from 0.05 mm to at least 40 mm", () => {
    const radii = plateEdgeRadiiM();
    expect(radii.length).toBe(PLATE_EDGE_CELLS);
    expectWithin(radii[0] as number, 0.05e-3, 1e-12, "as stated");
    expect(radii[PLATE_EDGE_CELLS - 1]).toBeGreaterThanOrEqual(40e-3);
  });
});
