/**
 * Each preset both ways: what must operate it, and what must not. Levels and times are those of the settings sheet of
 * the demonstration station: a practitioner's judgement, no source.
 */
import { describe, expect, it } from "vitest";
import { DEFAULT_MONITORS } from "../../src/project/presets/monitors";
import { MONITOR_STANDING } from "../../src/project/presets/standing";
import type { MonitorDef } from "../../src/project/protection";
import { resetProtection } from "../../src/protection/byHand";
import { expectWithin } from "../support/expectWithin";
import { NORMAL, ON_AIR, type Readings, Rig } from "./rig";

const START_S = 0.1;

/** Runs a tenth of a second of normal carrier, then `readings` for `timeS`; answers the operate times after the change. */
function following(readings: Readings, timeS: number, id: string) {
  const rig = new Rig(DEFAULT_MONITORS).run(START_S, NORMAL);
  expect(rig.events.filter((e) => e.kind === "pickup" || e.kind === "alarm")).toEqual([]);
  rig.run(timeS, readings);
  const operateS = rig.timesOf("operate", id).map((t) => t - START_S);
  return { rig, operateS, firstS: operateS[0] ?? Number.NaN };
}

// Seen at the scan after the change (1 ms), operates the confirmation later: both are whole scans, so the sum is exact.
const EXACT = "whole scans; rounding of a difference of seconds";

describe("a normal carrier", () => {
  it("trips and alarms nothing", () => {
    const rig = new Rig(DEFAULT_MONITORS).run(3, NORMAL);
    expect(rig.events.map((e) => e.kind)).toEqual(["armed", "armed"]); // low gain and supply
  });

  it("has a word on its standing for each monitor", () => {
    expect(Object.keys(MONITOR_STANDING)).toEqual(DEFAULT_MONITORS.map((m) => m.id));
  });

  it("needs no rounding: every time is a whole number of scans", () => {
    expect(new Rig(DEFAULT_MONITORS).system.notices).toEqual([]);
  });
});

describe("low gain", () => {
  // 62 W at 13.7 dB expected is 1453 W; 2 dB under is 916.9 W, 0.5 dB above that 1028.8 W
  it("operates 2 ms after 915 W is first seen, and not at 919 W", () => {
    expectWithin(following({ outputForwardW: 915 }, 0.1, "lowGain").firstS, 3e-3, 1e-9, EXACT);
    expect(following({ outputForwardW: 919 }, 5, "lowGain").operateS).toEqual([]);
  });

  it("alarms at 1.2 dB under, after half a second", () => {
    const { rig } = following({ outputForwardW: 1095 }, 2, "lowGain"); // -1.23 dB
    expectWithin((rig.timesOf("alarm", "lowGain")[0] ?? 0) - START_S, 0.501, 1e-9, EXACT);
    expect(
      following({ outputForwardW: 1105 }, 2, "lowGain").rig.timesOf("alarm", "lowGain"),
    ).toEqual([]); // -1.19 dB
  });

  it("is not armed under 2.5 kV of plate voltage", () => {
    expect(following({ outputForwardW: 300, plateV: 2450 }, 0.05, "lowGain").operateS).toEqual([]);
  });

  it("stays silent on an open load, where forward power stands", () => {
    expect(
      following({ outputForwardW: 1200, outputReflectedW: 1000 }, 0.05, "lowGain").operateS,
    ).toEqual([]);
  });

  it("is in shadow in tune mode", () => {
    const rig = new Rig(DEFAULT_MONITORS);
    rig.situation = { ...ON_AIR, mode: "tune" };
    rig.run(0.5, { ...NORMAL, driveForwardW: 20, outputForwardW: 100 });
    expect(rig.timesOf("operate", "lowGain")).not.toEqual([]);
    expect(rig.timesOf("trip")).toEqual([]);
  });

  it("locks out at a second operation inside a minute", () => {
    const { rig } = following({ outputForwardW: 300 }, 0.1, "lowGain");
    rig.run(5, NORMAL);
    rig.state = resetProtection(rig.system, rig.state, rig.row, rig.nowNs, rig.situation, (e) =>
      rig.events.push(e),
    );
    rig.run(0.1, { outputForwardW: 300 });
    expect(rig.timesOf("lockout", "lowGain")).toHaveLength(1);
  });
});

describe("grid overcurrent", () => {
  it("timed: 151 mA for 100 ms operates, 149 mA does not, nor does 300 mA for 99 ms", () => {
    expectWithin(following({ gridCurrentA: 0.151 }, 0.2, "gridTimed").firstS, 0.101, 1e-9, EXACT);
    expect(following({ gridCurrentA: 0.149 }, 5, "gridTimed").operateS).toEqual([]);
    expect(
      following({ gridCurrentA: 0.3 }, 99e-3, "gridTimed").rig.run(1, NORMAL).timesOf("operate"),
    ).toEqual([]);
  });

  it("timed: retries once after 2 s, then locks out", () => {
    const { rig } = following({ gridCurrentA: 0.16 }, 0.15, "gridTimed");
    rig.run(3, NORMAL).run(0.15, { gridCurrentA: 0.16 }).run(10, NORMAL);
    // operates after a scan and 100 ms
    expectWithin((rig.timesOf("selfReset", "gridTimed")[0] ?? 0) - START_S, 2.101, 1e-9, EXACT);
    expect(rig.timesOf("lockout", "gridTimed")).toHaveLength(1);
    expect(rig.timesOf("selfReset", "gridTimed")).toHaveLength(1);
  });

  it("fast: 0.351 A for 15 ms operates, 0.349 A does not", () => {
    expectWithin(following({ gridCurrentA: 0.351 }, 0.2, "gridFast").firstS, 16e-3, 1e-9, EXACT);
    expect(following({ gridCurrentA: 0.349 }, 1, "gridFast").operateS).toEqual([]);
  });
});

describe("overdrive", () => {
  it("operates at 101 W after 30 ms and at 181 W after 3 ms, not at 99 W", () => {
    const scaled = (driveForwardW: number): Readings => ({ driveForwardW, outputForwardW: 2400 });
    expectWithin(following(scaled(101), 0.2, "overdrive").firstS, 31e-3, 1e-9, EXACT);
    expectWithin(following(scaled(181), 0.2, "overdrive").firstS, 4e-3, 1e-9, EXACT);
    expect(following(scaled(99), 1, "overdrive").operateS).toEqual([]);
  });

  it("in tune mode operates at 26 W and not at 24 W", () => {
    for (const [driveForwardW, count] of [
      [26, 1],
      [24, 0],
    ] as const) {
      const rig = new Rig(DEFAULT_MONITORS);
      rig.situation = { ...ON_AIR, mode: "tune" };
      rig.run(0.5, { ...NORMAL, driveForwardW, outputForwardW: 500 });
      expect(rig.timesOf("trip", "overdrive")).toHaveLength(count);
    }
  });

  it("retries three times in 30 s, then locks out", () => {
    const rig = new Rig(DEFAULT_MONITORS).run(START_S, NORMAL);
    for (let i = 0; i < 4; i++)
      rig.run(0.1, { driveForwardW: 120, outputForwardW: 2400 }).run(3, NORMAL);
    expect(rig.timesOf("selfReset", "overdrive")).toHaveLength(3);
    expect(rig.timesOf("lockout", "overdrive")).toHaveLength(1);
  });
});

describe("reflected power", () => {
  it("operates at 171 W after 20 ms and at 351 W after 2 ms, not at 169 W", () => {
    expectWithin(
      following({ outputReflectedW: 171 }, 0.1, "reflectedPower").firstS,
      21e-3,
      1e-9,
      EXACT,
    );
    expectWithin(
      following({ outputReflectedW: 351 }, 0.1, "reflectedPower").firstS,
      3e-3,
      1e-9,
      EXACT,
    );
    expect(following({ outputReflectedW: 169 }, 1, "reflectedPower").operateS).toEqual([]);
  });

  it("operates at VSWR over 3 with over 50 W forward after 200 ms, not with 49 W", () => {
    // a quarter of the power coming back is VSWR 3
    const low: Readings = { driveForwardW: 3 };
    expectWithin(
      following({ ...low, outputForwardW: 60, outputReflectedW: 15.5 }, 0.5, "reflectedPower")
        .firstS,
      0.201,
      1e-9,
      EXACT,
    );
    expect(
      following({ ...low, outputForwardW: 60, outputReflectedW: 14.5 }, 1, "reflectedPower")
        .operateS,
    ).toEqual([]);
    expect(
      following({ ...low, outputForwardW: 49, outputReflectedW: 20 }, 1, "reflectedPower").operateS,
    ).toEqual([]);
  });

  it("keeps the relay closed", () => {
    expect(following({ outputReflectedW: 400 }, 0.1, "reflectedPower").rig.held()).toEqual([
      "driveInhibit",
    ]);
  });
});

describe("plate overcurrent", () => {
  it("timed: 1.1 A operates in 2.0 s, 1.0 A does not", () => {
    const heavy: Readings = { plateCurrentA: 1.1, outputForwardW: 1700 };
    expectWithin(
      following(heavy, 3, "plateTimed").firstS,
      2,
      0.1,
      "five per cent, asked of the setting",
    );
    expect(
      following({ plateCurrentA: 1.0, outputForwardW: 1600 }, 10, "plateTimed").operateS,
    ).toEqual([]);
    expect(
      following({ ...heavy }, 1.9, "plateTimed")
        .rig.run(1, NORMAL)
        .timesOf("operate"),
    ).toEqual([]);
  });

  it("instantaneous: acts on everything and locks out, even in standby", () => {
    const rig = new Rig(DEFAULT_MONITORS);
    rig.situation = { ...ON_AIR, operate: false };
    rig.run(0.01, NORMAL).comparator("plateInstantaneous", 10_000_116, 2.01);
    expect(rig.held()).toEqual(["driveInhibit", "cathodeCutoff", "transmitReceive", "contactor"]);
    expect(rig.timesOf("lockout")).toHaveLength(1);
  });
});

describe("plate RF overvoltage", () => {
  it("operates at 3.41 kV within 0.2 ms and a sample, not at 3.39 kV", () => {
    expectWithin(
      following({ plateRfPeakV: 3410 }, 0.01, "plateRfOvervoltage").firstS,
      0.25e-3,
      1e-9,
      EXACT,
    );
    const { rig, operateS } = following({ plateRfPeakV: 3390 }, 1, "plateRfOvervoltage");
    expect(operateS).toEqual([]);
    expect(rig.timesOf("alarm", "plateRfOvervoltage")).toHaveLength(1);
  });
});

describe("plate dissipation", () => {
  it("operates by its heat image: 15 s ln of how far, and never at 1690 W", () => {
    // 3020 V 1.3 A - 500 W = 3426 W from the image of a normal carrier, 1023.5 W (1 - e^(-0.1/15)) = 6.8 W:
    // 15 ln((3426 - 6.8)/(3426 - 1700)) = 10.254 s
    const hot: Readings = {
      plateCurrentA: 1.3,
      outputForwardW: 500,
      outputReflectedW: 0,
      gridCurrentA: 0.05,
    };
    expectWithin(
      following(hot, 12, "plateDissipation").firstS,
      10.254,
      0.011,
      "one scan of 10 ms and the last digit",
    );
    const warm: Readings = { plateCurrentA: 0.9, outputForwardW: 1028, outputReflectedW: 0 };
    const { rig, operateS } = following(warm, 50, "plateDissipation"); // 3020 * 0.9 - 1028 = 1690 W
    expect(operateS).toEqual([]);
    expect(rig.timesOf("alarm", "plateDissipation")).toHaveLength(1);
  });

  it("is reset by hand only under 80 %, when the image has cooled", () => {
    const { rig } = following(
      { plateCurrentA: 1.3, outputForwardW: 500, outputReflectedW: 0 },
      11,
      "plateDissipation",
    );
    const off: Readings = {
      ...NORMAL,
      driveForwardW: 0,
      outputForwardW: 0,
      outputReflectedW: 0,
      plateCurrentA: 0,
      gridCurrentA: 0,
    };
    const reset = () => {
      rig.state = resetProtection(rig.system, rig.state, rig.row, rig.nowNs, rig.situation, (e) =>
        rig.events.push(e),
      );
      return rig.state.latches.filter((l) => l.kind !== "free").length;
    };
    rig.run(1.5, off);
    reset();
    const refused = rig.events.filter((e) => e.kind === "resetRefused").at(-1);
    expect(refused?.monitorId).toBe("plateDissipation");
    expect(refused?.reason).toContain("plate dissipation");
    rig.run(3, off); // e^(-4.5/15) = 0.74 of a little over 1700 W
    expect(reset()).toBe(0);
  });
});

describe("supply undervoltage", () => {
  const gone: Readings = {
    driveForwardW: 0,
    plateCurrentA: 0.2,
    outputForwardW: 0,
    outputReflectedW: 0,
    gridCurrentA: 0,
    plateRfPeakV: 0,
  };

  it("operates at 2.49 kV after 100 ms and at 1.49 kV with drive after 2 ms, not at 2.51 kV", () => {
    expectWithin(
      following({ plateV: 2490, ...gone }, 0.5, "supplyUndervoltage").firstS,
      0.101,
      1e-9,
      EXACT,
    );
    expectWithin(following({ plateV: 1490 }, 0.5, "supplyUndervoltage").firstS, 3e-3, 1e-9, EXACT);
    expectWithin(
      following({ plateV: 1490, ...gone }, 0.5, "supplyUndervoltage").firstS,
      0.101,
      1e-9,
      EXACT,
    );
    const { rig, operateS } = following({ plateV: 2510 }, 5, "supplyUndervoltage");
    expect(operateS).toEqual([]);
    expect(rig.timesOf("alarm", "supplyUndervoltage")).toHaveLength(1);
  });

  it("resets by itself over 2.65 kV", () => {
    const { rig } = following({ plateV: 2400, ...gone }, 2, "supplyUndervoltage");
    rig.run(5, { plateV: 2640 });
    expect(rig.timesOf("selfReset")).toEqual([]);
    rig.run(0.1, { plateV: 2660 });
    expect(rig.timesOf("selfReset")).toHaveLength(1);
  });

  it("is not armed in the first second after the supply came up", () => {
    const rig = new Rig(DEFAULT_MONITORS);
    rig.situation = { ...ON_AIR, supplyReadyAtNs: 0 };
    rig.run(0.9, { ...NORMAL, ...gone, plateV: 2400 });
    expect(rig.timesOf("operate")).toEqual([]);
    expect(rig.run(0.3).timesOf("operate", "supplyUndervoltage")).toEqual([1.1]); // 1 s + 100 ms
  });
});

describe("output without drive", () => {
  it("operates at 21 W or 11 mA without drive after 10 ms, not with 0.6 W of drive", () => {
    const still: Readings = {
      driveForwardW: 0.1,
      outputForwardW: 0,
      outputReflectedW: 0,
      plateCurrentA: 0.2,
      gridCurrentA: 0,
    };
    expectWithin(
      following({ ...still, outputForwardW: 21 }, 0.1, "outputWithoutDrive").firstS,
      11e-3,
      1e-9,
      EXACT,
    );
    expectWithin(
      following({ ...still, gridCurrentA: 0.011 }, 0.1, "outputWithoutDrive").firstS,
      11e-3,
      1e-9,
      EXACT,
    );
    expect(
      following({ ...still, outputForwardW: 19, gridCurrentA: 0.009 }, 1, "outputWithoutDrive")
        .operateS,
    ).toEqual([]);
    // a tube that draws half an ampere more than anybody asked for: 20 ms and a scan
    expectWithin(
      following({ ...still, plateCurrentA: 0.51 }, 0.1, "outputWithoutDrive").firstS,
      21e-3,
      1e-9,
      EXACT,
    );
    expect(following({ ...still, plateCurrentA: 0.49 }, 1, "outputWithoutDrive").operateS).toEqual(
      [],
    );
    expect(
      following({ ...still, driveForwardW: 0.6, outputForwardW: 21 }, 1, "outputWithoutDrive")
        .operateS,
    ).toEqual([]);
  });
});

describe("monitors that are off until somebody switches them on", () => {
  const acting = DEFAULT_MONITORS.map((m): MonitorDef => ({ ...m, role: "acting" }));
  const timesAfter = (readings: Readings, timeS: number, id: string): readonly number[] =>
    new Rig(acting)
      .run(START_S, NORMAL)
      .run(timeS, readings)
      .timesOf("operate", id)
      .map((t) => t - START_S);

  it("input reflected power operates at 16 W of 62 W, not at 15 W", () => {
    // a quarter of 62 W is 15.5 W; 50 ms and a scan
    const [firstS = Number.NaN] = timesAfter({ driveReflectedW: 16 }, 0.1, "inputReflected");
    expectWithin(firstS, 51e-3, 1e-9, EXACT);
    expect(timesAfter({ driveReflectedW: 15 }, 1, "inputReflected")).toEqual([]);
  });

  it("efficiency operates under 35 % of the plate input, not over it nor on little drive", () => {
    // 0.82 A x 3020 V = 2476.4 W; 35 % is 866.7 W net, the normal 1.5 W comes back; 20 ms and a scan
    const [firstS = Number.NaN] = timesAfter({ outputForwardW: 865 }, 0.1, "efficiency");
    expectWithin(firstS, 21e-3, 1e-9, EXACT);
    expect(timesAfter({ outputForwardW: 872 }, 1, "efficiency")).toEqual([]);
    expect(timesAfter({ outputForwardW: 300, driveForwardW: 29 }, 1, "efficiency")).toEqual([]);
  });

  it("grid to plate current operates over a fifth for a tenth of a second", () => {
    // a fifth of 0.82 A is 164 mA
    const [firstS = Number.NaN] = timesAfter({ gridCurrentA: 0.166 }, 0.2, "gridPlateRatio");
    expectWithin(firstS, 101e-3, 1e-9, EXACT);
    expect(timesAfter({ gridCurrentA: 0.162 }, 1, "gridPlateRatio")).toEqual([]);
  });

  it("light operates on three looks of four over a tenth, not on two", () => {
    const [firstS = Number.NaN] = timesAfter({ tankLight: 0.11 }, 0.01, "tankLight");
    expectWithin(firstS, 0.3e-3, 1e-9, EXACT);
    const rig = new Rig(acting).run(START_S, NORMAL).run(0.2e-3, { tankLight: 0.5 });
    expect(rig.run(0.01, NORMAL).timesOf("operate", "tankLight")).toEqual([]);
  });
});

describe("exhaust air temperature", () => {
  it("operates after a second past 110 degC, warns past 90, and resets under 80", () => {
    const hot = following({ exhaustAirK: 383.3 }, 1.5, "exhaustAir"); // 110.15 degC
    expectWithin(hot.firstS, 1.01, 1e-9, EXACT);
    const warm = following({ exhaustAirK: 383.0 }, 3, "exhaustAir"); // 109.85 degC
    expect(warm.operateS).toEqual([]);
    expect(warm.rig.timesOf("alarm", "exhaustAir")).toHaveLength(1);
    const { rig } = hot;
    const reset = (exhaustAirK: number): number => {
      rig.run(0.02, { exhaustAirK });
      rig.state = resetProtection(rig.system, rig.state, rig.row, rig.nowNs, ON_AIR, (e) =>
        rig.events.push(e),
      );
      return rig.timesOf("reset", "exhaustAir").length;
    };
    expect(reset(354)).toBe(0); // 80.85 degC
    expect(reset(353)).toBe(1); // 79.85 degC
  });
});
