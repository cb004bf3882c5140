/**
 * The cases of the README: what protection buys, and where it buys nothing. Limits are the product's own; what the
 * numbers should come to is from an independent model, unpublished, or worked out beside them.
 */
import { describe, expect, it } from "vitest";
import { caseFigures } from "../support/cases";
import { expectWithin } from "../support/expectWithin";
import { writeBlock, writtenBlock } from "../support/readmeBlock";
import { readmeTable } from "../support/readmeTable";

const insect = () => caseFigures("insect");

describe("an insect in the tuning capacitor", () => {
  it("clears no earlier with the drive inhibit failed: the cathode cut-off was first anyway", () => {
    const failed = caseFigures("inhibitFails");
    expect(failed.clearingS ?? 0).toBeGreaterThanOrEqual(insect().clearingS ?? Infinity);
    expect(failed.race.actuators).toContainEqual({
      actuator: "driveInhibit",
      atS: expect.closeTo(3.83e-3, 8),
      effect: "failed",
    });
  });

  it("burns on past the early edge of melting when only the contactor opens", () => {
    const alone = caseFigures("contactorAlone");
    // 25 ms of contactor and 146 ms to empty 40 uF at 0.8 A, then what is left of the output
    expectWithin(alone.clearingS ?? 0, 0.19, 0.02, "a tenth of the mean current");
    expect(alone.marginEarly ?? 1).toBeLessThan(1);
    expect(alone.margin ?? 0).toBeLessThan(3); // under the required margin
  });

  it("is ended by nobody but the operator when low gain only watches", () => {
    const shadow = caseFigures("shadow");
    expect(shadow.firstId).toBeNull();
    expect(shadow.race.monitors.find((m) => m.id === "lowGain")?.operateS).toBe(insect().operateS);
    expectWithin(shadow.clearingS ?? 0, 2.5, 0.006, "the key edge lasts 5 ms");
    expect(shadow.beadM ?? 0).toBeGreaterThan(1e-3);
    expect(shadow.moltenKg).toBe(shadow.moltenUnprotectedKg);
  });

  it("melts nothing of plates of 1.2 mm before an operator acts, by the early edge a third of a second", () => {
    const thick = caseFigures("thickPlates");
    expect(thick.onsetS ?? Infinity).toBeGreaterThan(2.5);
    expect(thick.moltenUnprotectedKg).toBe(0);
    expectWithin(
      thick.onsetEarlyS ?? 0,
      0.35,
      0.1,
      "independent model, unpublished: about 0.3 s at 65 W; 3 % less heat counts double so near the limit",
    );
  });

  it("melts nothing of plates of pure aluminium, which conduct better", () => {
    const pure = caseFigures("pureAluminium");
    expect(pure.onsetS).toBeNull(); // independent model, unpublished: no melting within 2.5 s
    expect(pure.onsetEarlyS ?? 0).toBeGreaterThan(10 * (insect().onsetEarlyS ?? 0));
  });

  it("melts within 30 ms at 400 V, by the early edge within 4 ms: a margin of hardly one", () => {
    const high = caseFigures("highArc");
    expectWithin(high.onsetS ?? 0, 0.032, 0.006, "independent model, unpublished: about 30 ms");
    expectWithin(
      high.onsetEarlyS ?? 0,
      4.2e-3,
      0.7e-3,
      "independent model, unpublished: about 4 ms",
    );
    expect(high.marginEarly ?? 0).toBeGreaterThan(1);
    expect(high.marginEarly ?? 0).toBeLessThan(1.5);
    expect(high.moltenKg).toBe(0);
  });

  it("melts nothing at 20 W before an operator acts, by the early edge either", () => {
    expect(caseFigures("lowDrive").onsetS).toBeNull();
    expect(caseFigures("lowDrive").onsetEarlyS).toBeNull();
    expect(caseFigures("lowDrive").firstId).toBe("lowGain");
  });
});

describe("arcs on the output side", () => {
  it("melt the loading capacitor's edge within 20 ms, by the early edge before anything acts", () => {
    const arc = caseFigures("loadingArc");
    // independent model, unpublished, at 65 W: 16.6 ms and 3.4 ms with another share; the product says that no 2 ms confirmation saves this side
    expectWithin(arc.onsetS ?? 0, 17e-3, 2e-3, "4 % less heat than at 65 W");
    expect(arc.marginEarly ?? 1).toBeLessThan(1);
    expect(arc.margin ?? 0).toBeGreaterThan(3);
    expect(arc.firstId).toBe("lowGain");
  });

  it("at the coil tap are seen by low gain", () => {
    const arc = caseFigures("tapArc");
    expect(arc.firstId).toBe("lowGain");
    expect(arc.margin ?? 0).toBeGreaterThan(3);
  });

  it("beyond the coupler are seen by reflected power and not by low gain", () => {
    const arc = caseFigures("beyondArc");
    expect(arc.firstId).toBe("reflectedPower");
    expect(arc.race.monitors.find((m) => m.id === "lowGain")?.operateS).toBeNull();
    expect(arc.clearingS ?? 1).toBeLessThan(25e-3);
  });
});

describe("faults without an arc", () => {
  it.each([
    ["openLoad", "plateRfOvervoltage", 1e-3],
    ["shortLoad", "reflectedPower", 5e-3],
    ["supplyShort", "plateInstantaneous", 0.1e-3],
    ["supplyLost", "supplyUndervoltage", 0.1],
    ["overdrive", "overdrive", 12e-3],
    ["offTune20", "lowGain", 6e-3],
    ["lightLoading", "gridTimed", 0.105], // 100 ms of confirmation, a scan of 1 ms, the detector
  ] as const)("%s: %s is first", (id, monitor, withinS) => {
    const f = caseFigures(id);
    expect(f.firstId).toBe(monitor);
    expect(f.operateS ?? Infinity).toBeLessThan(withinS);
    expect(f.race.damage.every((d) => d.onsetS === null)).toBe(true);
  });

  it.each(["offTune10", "heavyLoading", "biasLost"] as const)(
    "%s: nothing trips in a second",
    (id) => {
      expect(caseFigures(id).firstId).toBeNull();
      expect(caseFigures(id).race.monitors.filter((m) => m.operateS !== null)).toEqual([]);
    },
  );

  it("says of a short that energy, not protection, is the limit: the contactor only ends the mains' share", () => {
    const { clearingS } = caseFigures("supplyShort");
    // 25 ms of contactor, then 19 A fall below 1 A with 40 uF over 15 ohm: 0.6 ms ln 19 = 1.8 ms
    expectWithin(clearingS ?? 0, 26.8e-3, 0.2e-3, "whole samples");
  });
});

describe("the README's table", () => {
  it("says what is computed", () => {
    const table = readmeTable();
    if (process.env.QUIETARC_WRITE_README === "1") writeBlock("cases", table);
    expect(writtenBlock("cases")).toBe(table);
  });
});
