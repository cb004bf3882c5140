import { describe, expect, it } from "vitest";
import { ALWAYS } from "../../../src/project/presets/rules";
import type { CurveName } from "../../../src/project/protection";
import { operateProgress } from "../../../src/protection/interpreter/stepMonitor";
import { expectWithin } from "../../support/expectWithin";
import { criterion, monitor } from "../monitorSamples";
import { ON_AIR, Rig } from "../rig";

const OVER = { gridCurrentA: 0.3 };
const QUIET = { gridCurrentA: 0.1 };

describe("definite time", () => {
  it("a confirmation of 2 ms at a scan of 1 ms is three scans seen", () => {
    const def = monitor({ criteria: [criterion({ timing: { kind: "definite", delayS: 2e-3 } })] });
    const rig = new Rig([def]).run(10e-3, QUIET).run(0.4e-3, OVER).run(10e-3);
    // Past the pickup from 10 ms on; seen at the scans of 11, 12 and 13 ms.
    expect(rig.timesOf("pickup")).toEqual([0.011]);
    expect(rig.timesOf("operate")).toEqual([0.013]);
  });

  it("a delay that is no whole number of scans is rounded up, with a notice", () => {
    const def = monitor({
      criteria: [criterion({ timing: { kind: "definite", delayS: 2.1e-3 } })],
    });
    const rig = new Rig([def]).run(10e-3, OVER);
    expect(rig.timesOf("operate")).toEqual([0.004]); // first seen at 1 ms, three scans later
    expect(rig.system.notices).toHaveLength(1);
    expect(rig.system.notices[0]).toContain("rounded up to 3.00");
  });

  it("no delay operates at the scan that sees it, and every sample may be a scan", () => {
    const def = monitor({
      scanS: 50e-6,
      criteria: [criterion({ timing: { kind: "definite", delayS: 0 } })],
    });
    expect(new Rig([def]).run(1e-3, OVER).timesOf("operate")).toEqual([50e-6]);
  });

  it("starts again after a break that lasts one scan", () => {
    const rig = new Rig([monitor()]).run(5e-3, OVER).run(1e-3, QUIET).run(5e-3, OVER);
    expect(rig.timesOf("operate")).toEqual([]);
    expect(rig.timesOf("dropOff")).toEqual([0.006]);
    expect(rig.run(1e-3).timesOf("operate")).toEqual([0.012]); // 7 ms + 5 ms
  });

  it("a dip between pickup and drop-off is no break", () => {
    const rig = new Rig([monitor()])
      .run(3e-3, OVER)
      .run(1e-3, { gridCurrentA: 0.19 })
      .run(3e-3, OVER);
    expect(rig.timesOf("operate")).toEqual([0.006]);
  });

  it("a reading between drop-off and pickup alone never picks up", () => {
    expect(new Rig([monitor()]).run(0.1, { gridCurrentA: 0.19 }).events).toEqual([]);
  });

  it("an under-function picks up below and drops off above", () => {
    const def = monitor({
      criteria: [criterion({ quantity: "plateV", side: "under", pickup: 2500, dropOff: 2625 })],
    });
    const rig = new Rig([def]).run(2e-3, { plateV: 2400 }).run(2e-3, { plateV: 2600 });
    expect(rig.timesOf("dropOff")).toEqual([]);
    rig.run(1e-3, { plateV: 2700 });
    expect(rig.timesOf("dropOff")).toEqual([0.005]);
  });
});

describe("instantaneous timing", () => {
  const def = monitor({
    criteria: [criterion({ timing: { kind: "instantaneous", scans: 3, ofScans: 5 } })],
  });

  it("operates at the third pickup among the last five scans", () => {
    const rig = new Rig([def]);
    for (const over of [true, false, true, false, true]) rig.run(1e-3, over ? OVER : QUIET);
    expect(rig.timesOf("operate")).toEqual([0.005]);
  });

  it("stays quiet at two of any five", () => {
    const rig = new Rig([def]);
    for (let i = 0; i < 40; i++) rig.run(1e-3, i % 5 < 2 ? OVER : QUIET);
    expect(rig.timesOf("operate")).toEqual([]);
  });
});

describe("inverse time", () => {
  // Operate times at a time multiplier of 1: IEC 60255-151 Annex A and IEEE C37.112, as printed in relay manuals.
  const published: readonly (readonly [CurveName, number, number])[] = [
    ["iecA", 2, 10.029],
    ["iecB", 3, 6.75],
    ["iecC", 5, 3.3333],
    ["ieeeD", 4, 1.9458],
    ["ieeeE", 2, 7.0277],
    ["ieeeF", 6, 0.9274],
  ];
  it.each(published)(
    "curve %s at %d times its pickup takes the published time",
    (curve, multiple, timeS) => {
      const timing = { kind: "inverse", curve, timeMultiplier: 0.1 } as const;
      const rig = new Rig([
        monitor({ criteria: [criterion({ pickup: 0.05, dropOff: 0.045, timing })] }),
      ]);
      rig.run(timeS * 0.1 + 0.01, { gridCurrentA: 0.05 * multiple });
      const [operateS] = rig.timesOf("operate");
      // The first scan, at 1 ms, starts the clock.
      expectWithin(operateS ?? 0, timeS * 0.1 + 1e-3, 1e-3, "one scan");
    },
  );

  it("travel falls back by the reset curve, not at once", () => {
    const timing = { kind: "inverse", curve: "ieeeE", timeMultiplier: 0.1 } as const;
    const rig = new Rig([
      monitor({ criteria: [criterion({ pickup: 0.1, dropOff: 0.095, timing })] }),
    ]);
    rig.run(0.401, { gridCurrentA: 0.2 }); // 0.4 s of 0.70277 s
    const travel = (): number => rig.state.monitors[0]?.criteria[0]?.memory ?? 0;
    expectWithin(travel(), 0.4 / 0.70277, 1e-4, "five published digits");
    rig.run(0.5, { gridCurrentA: 0 });
    // tr = 0.1 * 21.6 / (1 - 0) = 2.16 s from full travel (IEEE C37.112, very inverse)
    expectWithin(travel(), 0.4 / 0.70277 - 0.5 / 2.16, 1e-4, "five published digits");
  });
});

describe("thermal replica", () => {
  const timing = { kind: "thermal", timeConstantS: 0.5 } as const;
  const def = monitor({
    criteria: [criterion({ pickup: 0.2, dropOff: 0.19, timing })],
    alarm: { quantity: "gridCurrentA", side: "over", level: 0.18, delayS: 0 },
  });

  it("operates after T ln(u/(u - 1)) from cold at u times its pickup", () => {
    const rig = new Rig([def]).run(0.5, { gridCurrentA: 0.3 });
    // 0.5 ln(1.5/0.5) = 0.549306 s; alarm at 90 %: 0.5 ln(1.5/0.6) = 0.458145 s
    rig.run(0.1);
    expectWithin(rig.timesOf("operate")[0] ?? 0, 0.549306, 1e-3, "one scan");
    expectWithin(rig.timesOf("alarm")[0] ?? 0, 0.458145, 1e-3, "one scan");
  });

  it("keeps its image through a break", () => {
    const rig = new Rig([def]).run(0.3, { gridCurrentA: 0.3 }).run(0.1, { gridCurrentA: 0 });
    // 0.3 (1 - e^-0.6) e^-0.2 = 0.13535651 * 0.81873075 = 0.110821
    expectWithin(
      rig.state.monitors[0]?.criteria[0]?.memory ?? 0,
      0.110821,
      1e-6,
      "digits written down",
    );
  });
});

describe("arming on the air", () => {
  const arming = { ...ALWAYS, kind: "onAir", driveAboveW: 5, settledS: 10e-3, holdS: 0.1 } as const;
  const def = monitor({ arming });
  const keyed = { driveForwardW: 60, ...OVER };

  it("waits 10 ms after drive first passes its floor", () => {
    const rig = new Rig([def]).run(20e-3, { driveForwardW: 0 }).run(30e-3, keyed);
    expect(rig.timesOf("armed")).toEqual([0.031]); // drive seen at 21 ms
    expect(rig.timesOf("operate")).toEqual([0.036]); // five scans after the pickup at 31 ms
  });

  it("never arms in standby or before the relays confirm", () => {
    for (const more of [{ operate: false }, { transmitConfirmed: false }]) {
      const rig = new Rig([def]);
      rig.situation = { ...ON_AIR, ...more };
      expect(rig.run(0.1, keyed).events).toEqual([]);
      expect(rig.state.monitors[0]?.kind).toBe("notArmed");
    }
  });

  it("holds a count while drive is away and goes on with it", () => {
    const rig = new Rig([def]).run(14e-3, keyed); // armed and seen at 11, 12, 13, 14 ms
    rig.run(20e-3, { driveForwardW: 1 }).run(2e-3, keyed);
    // Five scans after the first: 11 ms + 5 ms + 20 ms held
    expect(rig.timesOf("operate")).toEqual([0.036]);
  });

  it("does not judge while held, whatever the readings say", () => {
    const rig = new Rig([def])
      .run(14e-3, keyed)
      .run(50e-3, { driveForwardW: 1, gridCurrentA: 0.01 });
    expect(rig.state.monitors[0]?.kind).toBe("pickup");
    expect(rig.timesOf("dropOff")).toEqual([]);
  });

  it("discards the count after 100 ms without drive", () => {
    const rig = new Rig([def]).run(14e-3, keyed).run(0.12, { driveForwardW: 1 });
    expect(rig.timesOf("dropOff")).toEqual([0.115]); // 15 ms + 100 ms
    expect(rig.events.find((e) => e.kind === "dropOff")?.reason).toContain("discarded");
    rig.run(5e-3, keyed);
    expect(rig.timesOf("operate")).toEqual([]);
    expect(rig.run(1e-3).timesOf("operate")).toEqual([0.14]); // a whole new confirmation from 135 ms
  });

  it("is clear as soon as the relays open", () => {
    const rig = new Rig([def]).run(14e-3, keyed);
    rig.situation = { ...ON_AIR, transmitConfirmed: false };
    rig.run(1e-3);
    expect(rig.timesOf("dropOff")).toEqual([0.015]);
    expect(rig.state.monitors[0]?.kind).toBe("notArmed");
  });

  it("needs its further conditions", () => {
    const when = [{ quantity: "plateV", side: "over", level: 2500 }] as const;
    const rig = new Rig([monitor({ arming: { ...arming, when } })]).run(0.1, {
      ...keyed,
      plateV: 2400,
    });
    expect(rig.timesOf("operate")).toEqual([]);
    expect(rig.run(0.01, { plateV: 2600 }).timesOf("operate")).toHaveLength(1);
  });

  it("a supply monitor waits after the supply is ready", () => {
    const rig = new Rig([monitor({ arming: { ...ALWAYS, afterSupplyReadyS: 0.05 } })]);
    rig.situation = { ...ON_AIR, supplyReadyAtNs: null };
    rig.run(0.03, OVER);
    rig.situation = { ...ON_AIR, supplyReadyAtNs: 30e6 };
    rig.run(0.06);
    expect(rig.timesOf("operate")).toEqual([0.085]); // 30 + 50 + 5 ms
  });

  it("blanking keeps a monitor out after key-down", () => {
    const rig = new Rig([monitor({ blankingS: 8e-3 })]);
    rig.situation = { ...ON_AIR, keyDownAtNs: 2e6 };
    expect(rig.run(0.03, OVER).timesOf("pickup")).toEqual([0.01]); // 2 + 8 ms
  });
});

describe("a criterion without a reading", () => {
  it("is not picked up and leaves no NaN in the state", () => {
    const def = monitor({
      criteria: [
        criterion({ quantity: "gainDeviationDb", side: "under", pickup: -2, dropOff: -1.5 }),
        criterion({ quantity: "vswr", pickup: 3, dropOff: 2.85 }),
        criterion({ quantity: "efficiency", timing: { kind: "thermal", timeConstantS: 1 } }),
        criterion({
          quantity: "vswr",
          timing: { kind: "inverse", curve: "iecA", timeMultiplier: 1 },
        }),
      ],
      alarm: { quantity: "vswr", side: "over", level: 2, delayS: 0 },
    });
    const rig = new Rig([def]).run(0.05, {
      driveForwardW: 0,
      outputForwardW: 0,
      outputReflectedW: 0,
    });
    expect(rig.events).toEqual([]);
    expect(JSON.parse(JSON.stringify(rig.state))).toEqual(rig.state);
  });
});

describe("several criteria and alarms", () => {
  it("any criterion operates the monitor and is named", () => {
    const def = monitor({
      criteria: [
        criterion(),
        criterion({
          quantity: "plateCurrentA",
          pickup: 1,
          dropOff: 0.9,
          timing: { kind: "definite", delayS: 2e-3 },
        }),
      ],
    });
    const rig = new Rig([def]).run(0.02, { plateCurrentA: 1.2, gridCurrentA: 0.21 });
    const operate = rig.events.find((e) => e.kind === "operate");
    expect(operate).toMatchObject({
      criterion: 1,
      quantity: "plateCurrentA",
      value: 1.2,
      level: 1,
    });
  });

  it("a criterion counts only while its further condition holds", () => {
    const when = [{ quantity: "driveForwardW", side: "under", level: 0.5 }] as const;
    const rig = new Rig([monitor({ criteria: [criterion({ when })] })]).run(0.05, {
      ...OVER,
      driveForwardW: 0.6,
    });
    expect(rig.events).toEqual([]);
    expect(rig.run(0.006, { driveForwardW: 0.1 }).timesOf("operate")).toHaveLength(1);
  });

  it("an alarm comes after its own delay and leaves with its own drop-off", () => {
    const def = monitor({
      alarm: { quantity: "gridCurrentA", side: "over", level: 0.15, delayS: 10e-3 },
    });
    const rig = new Rig([def]).run(0.02, { gridCurrentA: 0.16 }).run(0.01, { gridCurrentA: 0.145 });
    expect(rig.timesOf("alarm")).toEqual([0.011]);
    expect(rig.timesOf("alarmDropOff")).toEqual([]);
    // reset ratio 0.95: 0.1425 A
    expect(rig.run(0.001, { gridCurrentA: 0.142 }).timesOf("alarmDropOff")).toEqual([0.031]);
  });
});

describe("progress towards operation", () => {
  it("runs from nothing to one with the confirmation", () => {
    const rig = new Rig([monitor()]);
    const progress = () => {
      const [program] = rig.system.programs;
      const [state] = rig.state.monitors;
      if (program === undefined || state === undefined) throw new Error("no monitor");
      return operateProgress(program, state, Math.floor(rig.nowNs / program.scanNs), ON_AIR);
    };
    rig.run(1e-3, QUIET);
    expect(progress()).toBe(0);
    rig.run(3e-3, OVER);
    expectWithin(progress(), 2 / 5, 1e-12, "two of five scans");
    rig.run(10e-3);
    expect(progress()).toBe(1);
  });
});
