import { describe, expect, it } from "vitest";
import { BY_HAND } from "../../src/project/presets/rules";
import { acknowledgeProtection, resetProtection } from "../../src/protection/byHand";
import { stateWord } from "../../src/protection/stateWord";
import { criterion, monitor } from "./monitorSamples";
import { ON_AIR, Rig } from "./rig";

const OVER = { gridCurrentA: 0.3 };
const QUIET = { gridCurrentA: 0.1 };

function reset(rig: Rig): void {
  rig.state = resetProtection(rig.system, rig.state, rig.row, rig.nowNs, rig.situation, (e) =>
    rig.events.push(e),
  );
}

function acknowledge(rig: Rig): void {
  rig.state = acknowledgeProtection(rig.system, rig.state, rig.nowNs, rig.situation, (e) =>
    rig.events.push(e),
  );
}

function word(rig: Rig, i = 0): string {
  const program = rig.system.programs[i];
  const state = rig.state.monitors[i];
  const latch = rig.state.latches[i];
  if (!program || !state || !latch) throw new Error(`no monitor ${i}`);
  return stateWord(program.def, state, latch, rig.situation);
}

describe("a trip", () => {
  it("is an acting monitor's operation with its actions, held until a person resets", () => {
    const rig = new Rig([monitor()]).run(10e-3, OVER).run(5, QUIET);
    expect(rig.events.map((e) => e.kind)).toEqual(["pickup", "operate", "trip", "dropOff"]);
    const trip = rig.events[2];
    expect(trip).toMatchObject({
      atNs: 6e6,
      firstUp: true,
      value: 0.3,
      actions: ["driveInhibit", "cathodeCutoff"],
    });
    expect(rig.held()).toEqual(["driveInhibit", "cathodeCutoff"]);
    expect(rig.state.latches[0]?.trips).toBe(1);
    reset(rig);
    expect(rig.events.at(-1)).toMatchObject({
      kind: "reset",
      actions: ["driveInhibit", "cathodeCutoff"],
    });
    expect(rig.held()).toEqual([]);
    expect(word(rig)).toBe("no pickup");
  });

  it("of a shadow monitor does not happen; it operates, says so and lets go by itself", () => {
    const rig = new Rig([monitor({ role: "shadow" })]).run(10e-3, OVER);
    expect(rig.events.map((e) => e.kind)).toEqual(["pickup", "operate"]);
    expect(word(rig)).toBe("operate");
    expect(rig.held()).toEqual([]);
    rig.run(1e-3, QUIET);
    expect(word(rig)).toBe("no pickup");
    rig.run(10e-3, OVER);
    expect(rig.timesOf("operate")).toHaveLength(2);
  });

  it("does not happen in the unprotected run, where operations are the same", () => {
    const acting = new Rig([monitor()]).run(10e-3, OVER);
    const inhibited = new Rig([monitor()]);
    inhibited.situation = { ...ON_AIR, inhibited: true };
    inhibited.run(10e-3, OVER);
    expect(inhibited.timesOf("operate")).toEqual(acting.timesOf("operate"));
    expect(inhibited.timesOf("trip")).toEqual([]);
    expect(inhibited.held()).toEqual([]);
  });

  it("of a monitor that is off never happens: it is not even evaluated", () => {
    const rig = new Rig([monitor({ role: "off" })]).run(1, OVER);
    expect(rig.events).toEqual([]);
    expect(word(rig)).toBe("off");
  });

  it("of the comparator path comes at its own nanosecond and outlasts the current", () => {
    const def = monitor({
      id: "fast",
      path: "comparator",
      criteria: [criterion({ quantity: "plateCurrentA", pickup: 2, dropOff: 1.9 })],
      actions: ["driveInhibit", "contactor"],
      reset: { ...BY_HAND, kind: "lockout" },
    });
    const rig = new Rig([def])
      .run(1e-3, { plateCurrentA: 0.8 })
      .comparator("fast", 1_000_115, 2.01);
    expect(rig.events.map((e) => [e.kind, e.atNs])).toEqual([
      ["pickup", 1_000_115],
      ["operate", 1_000_115],
      ["trip", 1_000_115],
      ["lockout", 1_000_115],
    ]);
    rig.run(3e-3, { plateCurrentA: 2.4 }); // the scanned reading catches up
    expect(rig.timesOf("dropOff")).toEqual([]);
    reset(rig);
    expect(rig.events.at(-1)?.reason).toContain("plate current is 2.40");
    rig.run(3e-3, { plateCurrentA: 0 });
    expect(word(rig)).toBe("lockout");
    reset(rig);
    expect(rig.held()).toEqual([]);
  });
});

describe("first up", () => {
  const slow = monitor({
    id: "slow",
    criteria: [criterion({ timing: { kind: "definite", delayS: 9e-3 } })],
  });
  const fast = monitor({ id: "fast", actions: ["contactor"] });

  it("is the first trip; later ones add their actions", () => {
    const rig = new Rig([slow, fast]).run(20e-3, OVER);
    expect(
      rig.events.filter((e) => e.kind === "trip").map((e) => [e.monitorId, e.firstUp]),
    ).toEqual([
      ["fast", true],
      ["slow", false],
    ]);
    expect(rig.state.firstUp).toEqual({ monitorId: "fast", atNs: 6e6 });
    expect(rig.held()).toEqual(["driveInhibit", "cathodeCutoff", "contactor"]);
  });

  it("of two at one instant is the one that picked up first, then the one that sorts first", () => {
    const late = monitor({
      id: "a",
      criteria: [criterion({ pickup: 0.25, timing: { kind: "definite", delayS: 2e-3 } })],
    });
    const early = monitor({
      id: "z",
      criteria: [criterion({ timing: { kind: "definite", delayS: 4e-3 } })],
    });
    for (const order of [
      [late, early],
      [early, late],
    ]) {
      const rig = new Rig(order).run(2e-3, { gridCurrentA: 0.22 }).run(10e-3, OVER);
      expect(rig.timesOf("trip")).toEqual([0.005, 0.005]);
      expect(rig.state.firstUp?.monitorId).toBe("z");
    }
    const twins = [monitor({ id: "b" }), monitor({ id: "a" })];
    expect(new Rig(twins).run(20e-3, OVER).state.firstUp?.monitorId).toBe("a");
  });

  it("is forgotten once everything is reset", () => {
    const rig = new Rig([slow, fast]).run(20e-3, OVER).run(1e-3, QUIET);
    reset(rig);
    expect(rig.state.firstUp).toBeNull();
  });
});

describe("self-reset", () => {
  const rule = { ...BY_HAND, kind: "self", afterS: 0.1, tries: 2, withinS: 1 } as const;

  it("tries so many times inside its window, then locks out", () => {
    const rig = new Rig([monitor({ reset: rule })]);
    for (let i = 0; i < 3; i++) rig.run(10e-3, OVER).run(0.1, QUIET);
    expect(rig.timesOf("trip")).toHaveLength(3);
    expect(rig.timesOf("selfReset")).toHaveLength(2);
    expect(rig.timesOf("lockout")).toHaveLength(1);
    expect(rig.events.find((e) => e.kind === "lockout")?.reason).toBe("2 of 2 tries used");
    rig.run(5, QUIET);
    expect(rig.timesOf("selfReset")).toHaveLength(2);
    reset(rig);
    expect(word(rig)).toBe("no pickup");
    rig.run(10e-3, OVER);
    expect(word(rig)).toBe("trip"); // all tries are back after a person's reset
  });

  it("has its tries back when the window has passed", () => {
    const rig = new Rig([monitor({ reset: rule })]);
    for (let i = 0; i < 6; i++) rig.run(10e-3, OVER).run(1.2, QUIET);
    expect(rig.timesOf("selfReset")).toHaveLength(6);
    expect(rig.timesOf("lockout")).toEqual([]);
  });

  it("waits while the condition persists or its own condition is not met", () => {
    const when = [{ quantity: "plateV", side: "over", level: 2650 }] as const;
    const rig = new Rig([monitor({ reset: { ...rule, when } })]).run(0.5, {
      ...OVER,
      plateV: 2600,
    });
    expect(rig.timesOf("selfReset")).toEqual([]);
    expect(rig.run(0.5, QUIET).timesOf("selfReset")).toEqual([]);
    expect(rig.run(0.01, { plateV: 2700 }).timesOf("selfReset")).toEqual([1.001]);
  });

  it("releases only what no other trip still holds", () => {
    const other = monitor({ id: "other", actions: ["driveInhibit"] });
    const rig = new Rig([monitor({ reset: rule }), other]).run(10e-3, OVER).run(0.2, QUIET);
    expect(rig.events.find((e) => e.kind === "selfReset")?.actions).toEqual(["cathodeCutoff"]);
    expect(rig.held()).toEqual(["driveInhibit"]);
  });
});

describe("a repeated operation", () => {
  it("inside its time is a lockout, and outside it is not", () => {
    for (const [pauseS, expected] of [
      [2, "lockout"],
      [4, "trip"],
    ] as const) {
      const rig = new Rig([monitor({ reset: { ...BY_HAND, repeatWithinS: 3 } })]);
      rig.run(10e-3, OVER).run(pauseS, QUIET);
      reset(rig);
      rig.run(10e-3, OVER);
      expect(word(rig)).toBe(expected);
    }
  });
});

describe("what a person does", () => {
  it("a reset is refused with a reason while the condition persists", () => {
    const rig = new Rig([monitor()]).run(10e-3, OVER);
    reset(rig);
    expect(rig.events.at(-1)).toMatchObject({ kind: "resetRefused" });
    expect(rig.events.at(-1)?.reason).toMatch(/^grid current is 300.mA, still over 180.mA$/);
    expect(word(rig)).toBe("trip");
  });

  it("a reset is refused with a reason until its own condition holds", () => {
    const when = [{ quantity: "plateV", side: "over", level: 2650 }] as const;
    const rig = new Rig([monitor({ reset: { ...BY_HAND, when } })])
      .run(10e-3, OVER)
      .run(1e-3, { ...QUIET, plateV: 2600 });
    reset(rig);
    expect(rig.events.at(-1)?.reason).toMatch(
      /^wait until plate voltage is over 2.65.kV; it is 2.60.kV$/,
    );
    rig.run(1e-3, { plateV: 2700 });
    reset(rig);
    expect(rig.held()).toEqual([]);
  });

  it("acknowledging marks a trip as seen and resets nothing", () => {
    const rig = new Rig([monitor()]).run(10e-3, OVER).run(1e-3, QUIET);
    acknowledge(rig);
    acknowledge(rig);
    expect(rig.timesOf("acknowledge")).toHaveLength(1);
    expect(word(rig)).toBe("acknowledged");
    expect(rig.held()).toEqual(["driveInhibit", "cathodeCutoff"]);
  });
});

describe("tune mode", () => {
  it("uses its own roles and pickups", () => {
    const def = monitor({ criteria: [criterion({ tunePickup: 0.05 })] });
    const rig = new Rig([def, monitor({ id: "other", tuneRole: "shadow" })]);
    rig.situation = { ...ON_AIR, mode: "tune" };
    rig.run(10e-3, { gridCurrentA: 0.06 });
    expect(rig.timesOf("trip", "grid")).toEqual([0.006]);
    // The drop-off keeps its ratio: 0.05 * 0.18 / 0.2 = 0.045 A
    rig.run(5e-3, { gridCurrentA: 0.046 });
    expect(rig.timesOf("dropOff", "grid")).toEqual([]);
    rig.run(5e-3, { gridCurrentA: 0.044 }).run(20e-3, OVER);
    expect(rig.timesOf("dropOff", "grid")).toHaveLength(1);
    expect(rig.timesOf("operate", "other")).toHaveLength(1);
    expect(rig.timesOf("trip", "other")).toEqual([]);
  });

  it("a shadow operation that persists trips when the mode makes it act", () => {
    const rig = new Rig([monitor({ tuneRole: "shadow" })]);
    rig.situation = { ...ON_AIR, mode: "tune" };
    rig.run(10e-3, OVER);
    rig.situation = ON_AIR;
    rig.run(1e-3);
    expect(rig.timesOf("trip")).toEqual([0.011]);
  });

  it("opens the drive after 15 s of key-down until the key opens", () => {
    const rig = new Rig([monitor()]);
    rig.situation = { ...ON_AIR, mode: "tune", keyDownAtNs: 1e9 };
    rig.run(15.99, QUIET);
    expect(rig.held()).toEqual([]);
    rig.run(0.1);
    expect(rig.timesOf("keyDownLimit")).toEqual([16]);
    expect(rig.held()).toEqual(["driveInhibit"]);
    rig.situation = { ...rig.situation, keyDown: false };
    rig.run(0.01);
    expect(rig.timesOf("keyDownLimitOver")).toHaveLength(1);
    expect(rig.held()).toEqual([]);
  });

  it("has no such limit in operate mode", () => {
    expect(new Rig([monitor()]).run(20, QUIET).events).toEqual([]);
  });
});
