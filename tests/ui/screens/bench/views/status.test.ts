// @vitest-environment node
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../../../src/project/defaults";
import type { MonitorDef } from "../../../../../src/project/protection";
import { protectionEvent } from "../../../../../src/protection/events";
import type { WorldView } from "../../../../../src/shells/bench/worldView";
import type { BenchEvent } from "../../../../../src/simulation/benchEvent";
import { announcementsOf } from "../../../../../src/ui/screens/bench/views/eventSentences";
import { statusOf } from "../../../../../src/ui/screens/bench/views/status";
import { plainText } from "./benchRuns";

const NO_FACTS = { firstUp: true };

function logged(
  kind: "trip" | "lockout",
  atS: number,
  reason = "",
  monitorId = "lowGain",
): BenchEvent {
  const atNs = atS * 1e9;
  const event = protectionEvent(kind, atNs, monitorId, "acting", { ...NO_FACTS, reason });
  return { kind: "protection", atNs, event };
}

/** Low gain locked out, with its reset rule as given. */
function lockedOut(reset: Partial<MonitorDef["reset"]>, keyDown = false): WorldView {
  const settings = defaultProject().monitors.map((m) =>
    m.id === "lowGain" ? { ...m, reset: { ...m.reset, ...reset } } : m,
  );
  const lowGain = {
    id: "lowGain",
    role: "acting",
    word: "lockout",
    acknowledged: false,
    firstUp: true,
  };
  const faults = keyDown ? [{ fault: "insect", part: "tuningCapacitor" }] : [];
  return { settings, monitors: [lowGain], zero: null, keyDown, faults } as unknown as WorldView;
}

describe("a lockout in the header", () => {
  it("says how many trips came within what time, the rule, and what to do next", () => {
    const events = [
      logged("trip", 1),
      logged("trip", 70), // the first is forgotten by now
      logged("trip", 71.25),
      logged("lockout", 71.25, "second operation inside 60 s"),
    ];
    const rule = { kind: "byHand", repeatWithinS: 60 } as const;
    const said = (keyDown: boolean) =>
      plainText(statusOf(lockedOut(rule, keyDown), events, true).lockoutWhy);
    expect(said(false)).toBe(
      "2 trips in 1.25 s: a repeat inside 60 s locks out; remove the cause, then Reset",
    );
    expect(said(true)).toMatch(/locks out$/);
    const spoken = announcementsOf(events, defaultProject().monitors).map((a) => a.sentence);
    expect(spoken).toContain(
      "Lockout of low gain: second operation inside 60 s. Remove the cause, then reset.",
    );
  });

  it("names the other two rules: at the first trip, and tries used up", () => {
    const once = [logged("trip", 1), logged("lockout", 1, "locks out at once")];
    expect(statusOf(lockedOut({ kind: "lockout" }), once, true).lockoutWhy).toMatch(
      /^set to lock out at its first trip; /,
    );
    const used = [logged("trip", 9), logged("lockout", 9, "2 of 2 tries used")];
    const self = { kind: "self", tries: 2, withinS: 300 } as const;
    expect(statusOf(lockedOut(self), used, true).lockoutWhy).toMatch(
      /^2 of 2 tries used within 300 s: /,
    );
  });

  it("says of a rule without tries that there are none, not within what time", () => {
    const none = [logged("trip", 9), logged("lockout", 9, "no tries allowed")];
    const self = { kind: "self", tries: 0, withinS: 300 } as const;
    expect(statusOf(lockedOut(self), none, true).lockoutWhy).toMatch(
      /^no tries allowed: it no longer lets go by itself/,
    );
  });

  it("weighs more than a trip that was first up and has been acknowledged", () => {
    const { monitors, ...rest } = lockedOut({});
    const [lowGain] = monitors;
    if (lowGain === undefined) throw new Error("there is a monitor");
    const world = {
      ...rest,
      monitors: [
        { ...lowGain, word: "acknowledged", acknowledged: true },
        { ...lowGain, id: "plateInstantaneous", firstUp: false },
      ],
    } as WorldView;
    const reason = "locks out at once";
    const events = [
      logged("trip", 1),
      logged("trip", 1.1, "", "plateInstantaneous"),
      logged("lockout", 1.1, reason, "plateInstantaneous"),
    ];
    const settings = world.settings.map((m) =>
      m.id === "plateInstantaneous" ? { ...m, reset: { ...m.reset, kind: "lockout" as const } } : m,
    );
    expect(statusOf({ ...world, settings }, events, true)).toMatchObject({
      mark: "lockout",
      word: "Lockout",
      note: "plate overcurrent, instantaneous",
      isNew: true,
      lockoutWhy: expect.stringMatching(/^set to lock out at its first trip; /),
    });
  });

  it("is no word of a plain trip", () => {
    const tripped = lockedOut({});
    const monitors = tripped.monitors.map((m) => ({ ...m, word: "trip" as const }));
    expect(statusOf({ ...tripped, monitors }, [logged("trip", 1)], true).lockoutWhy).toBe("");
  });
});
