// @vitest-environment node
import { beforeAll, describe, expect, it } from "vitest";
import { NO_FAILURES } from "../../../../../src/protection/actuators/schedule";
import { protectionEvent } from "../../../../../src/protection/events";
import type { BenchEvent } from "../../../../../src/simulation/benchEvent";
import type { EventListView, EventRow } from "../../../../../src/ui/instruments/events/eventView";
import { eventRowsOf, ROWS_KEPT } from "../../../../../src/ui/screens/bench/views/eventRows";
import { announcementsOf } from "../../../../../src/ui/screens/bench/views/eventSentences";
import { plainText, projectFile, type Run, runOf, stringsIn } from "./benchRuns";

function textOf(row: EventRow | undefined): string {
  return plainText((row?.sentence ?? []).map((run) => run.text).join(""));
}

function texts(view: EventListView): readonly string[] {
  return view.rows.map(textOf);
}

const project = projectFile("skerry-light");

function listOf(events: readonly BenchEvent[], playNs = 60e9): EventListView {
  return eventRowsOf({
    events,
    zeroNs: null,
    playNs,
    aloneEvents: [],
    project,
    failures: NO_FAILURES,
    running: true,
    atEnd: true,
  });
}

function clearedIn(events: readonly BenchEvent[]): BenchEvent {
  const found = events.find((e) => e.kind === "cleared");
  if (found === undefined) throw new Error("nothing cleared");
  return found;
}

function command(
  atNs: number,
  what: Extract<BenchEvent, { kind: "command" }>["command"],
): BenchEvent {
  return { kind: "command", atNs, command: what, refused: "" };
}

describe("the sequence of the demonstration insect", () => {
  let run: Run;
  const listAt = (
    sinceS: number,
    { running = true, atEnd = true, after = [] as readonly BenchEvent[] } = {},
  ): EventListView =>
    eventRowsOf({
      events: [...run.bench.events, ...after],
      zeroNs: run.report.zero.atNs,
      playNs: run.report.zero.atNs + Math.round(sinceS * 1e9),
      aloneEvents: run.report.aloneEvents,
      project: run.project,
      failures: run.bench.logic.failures,
      running,
      atEnd,
    });
  const heldWords = (view: EventListView): string =>
    textOf(view.rows.find((row) => row.key === view.heldKey));
  beforeAll(() => {
    run = runOf(projectFile("skerry-light-insect"), 1.06, 0.4);
  });

  it("counts from the strike, in order of time, with the state word strong", () => {
    const view = listAt(0.006);
    const past = view.rows.filter((row) => !row.ahead);
    const times = past.map((row) => row.atS);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(past.find((row) => row.mark === "strike")?.atS).toBe(0);
    const pickup = past.find((row) => row.mark === "pickup");
    expect(pickup?.firstUp).toBe(true);
    expect(pickup?.sentence.find((part) => part.strong)?.text).toBe("pickup");
    const operate = past.find((row) => row.mark === "operate");
    expect(operate?.isNew).toBe(true);
    // the gauge beside it holds the reading before the monitor's 2 ms of smoothing
    expect(textOf(operate)).toMatch(/^Low gain operate, smoothed \d\.\d dB under expected$/);
    expect(textOf(past.find((row) => row.mark === "trip"))).toBe("Trip: drive, cathode, T/R relay");
    expect(texts(view)).toContain("Insect in the gap placed, tuning capacitor");
    expect(texts(view)).toContain("Cathode cut off");
    expect(texts(view)).toContain("Fault cleared");
    for (const text of stringsIn(view)) expect(text).not.toMatch(/NaN|undefined|null/);
  });

  it("puts what is due and what the run left alone comes to below the rule of now", () => {
    const ahead = listAt(0.006).rows.filter((row) => row.ahead);
    expect(ahead.map(textOf)).toEqual([
      "T/R relay due",
      "Left alone: melt onset, tuning capacitor",
    ]);
    // Trip at 3.63 ms, output gone with the arc, 8 ms of release (presets): under 12 ms.
    expect(ahead[0]?.atS).toBeGreaterThan(0.011);
    expect(ahead[0]?.atS).toBeLessThan(0.012);
    expect(ahead.every((row) => row.mark === "due")).toBe(true);
    expect(
      listAt(0.05)
        .rows.filter((row) => row.ahead)
        .map(textOf),
    ).not.toContain("T/R relay due");
  });

  it("keeps what the run left alone has come to, among what happened, as what never happened here", () => {
    const { rows } = listAt(0.3);
    const onset = rows.findIndex((row) => textOf(row).startsWith("Left alone: melt onset"));
    expect(rows[onset]).toMatchObject({ ahead: false, leftAlone: true, mark: "due" });
    expect(textOf(rows[onset - 1])).toBe("T/R relay open");
  });

  it("stays at the strike once the race is decided or time stands, until a person acts", () => {
    expect(listAt(0.002).heldKey).toBeNull();
    expect(heldWords(listAt(0.002, { running: false }))).toMatch(/^Strike, tuning capacitor/);
    expect(heldWords(listAt(0.3))).toMatch(/^Strike, tuning capacitor/);
    expect(listAt(0.3, { atEnd: false }).heldKey).toBeNull();
    const keyUp = command(run.report.zero.atNs + 0.2e9, { do: "key", down: false });
    expect(listAt(0.3, { after: [keyUp] }).heldKey).toBeNull();
    // the key that ended the arc belongs to its race
    const endedNs = keyUp.atNs + 10e6;
    const ended: BenchEvent = { ...clearedIn(run.bench.events), atNs: endedNs };
    expect(heldWords(listAt(0.3, { after: [keyUp, ended] }))).toMatch(/^Strike, tuning capacitor/);
  });

  it("knows nothing of the fault before it", () => {
    const view = listAt(-0.5);
    expect(view.note).toBe("from key-down");
    expect(view.rows.every((row) => !row.ahead)).toBe(true);
    expect(view.rows[0]?.atS).toBe(0);
  });

  it("reads out strike, operate, trip and clearing only", () => {
    const said = announcementsOf(run.bench.events, run.project.monitors).map((a) =>
      plainText(a.sentence),
    );
    expect(said).toHaveLength(4);
    expect(said[0]).toBe("Strike at the tuning capacitor.");
    expect(said[1]).toBe("Low gain operate 3.63 ms after the fault.");
    expect(said[2]).toBe("Trip by low gain 3.63 ms after the fault: drive, cathode, T/R relay.");
    expect(said[3]).toMatch(/^Fault cleared 3\.\d\d ms after the fault\.$/);
  });
});

describe("noise in the sequence", () => {
  it("shows a knob on its way as one row with where it went", () => {
    const view = listOf([
      command(1e9, { do: "set", control: "driveW", value: 20 }),
      command(1.2e9, { do: "set", control: "driveW", value: 40 }),
      command(1.4e9, { do: "set", control: "driveW", value: 62 }),
    ]);
    expect(texts(view)).toEqual(["Drive set to 62.0 W"]);
  });

  it("counts Morse instead of listing it", () => {
    const elements = Array.from({ length: 20 }, (_, k): readonly BenchEvent[] => [
      command(k * 200e6, { do: "key", down: true }),
      { kind: "sequence", atNs: k * 200e6 + 15e6, step: "driveOn" },
      command(k * 200e6 + 100e6, { do: "key", down: false }),
      { kind: "sequence", atNs: k * 200e6 + 101e6, step: "driveOff" },
    ]).flat();
    expect(texts(listOf(elements))).toEqual(["Key down", "Keying, 20 key-downs"]);
  });

  it("keeps the last rows only", () => {
    const many = Array.from({ length: 100 }, (_, k) =>
      command(k * 5e9, { do: k % 2 === 0 ? "operate" : "standby" }),
    );
    expect(listOf(many, 1e12).rows).toHaveLength(ROWS_KEPT);
  });
});

describe("words of commands and refusals", () => {
  it("gives the reason of a refused reset and of a refused command", () => {
    const view = listOf([
      {
        kind: "protection",
        atNs: 1e9,
        event: protectionEvent("resetRefused", 1e9, "lowGain", "acting", {
          reason: "plate current is 2.31 A, still over 1.90 A",
        }),
      },
      { ...command(2e9, { do: "operate" }), refused: "the supply is not ready" } as BenchEvent,
    ]);
    expect(texts(view)).toEqual([
      "Low gain, reset refused: plate current is 2.31 A, still over 1.90 A",
      "Set to operate refused: the supply is not ready",
    ]);
  });

  it("says what the exciter sends", () => {
    const view = listOf([
      command(1e9, { do: "signal", signal: "carrier" }),
      command(2e9, { do: "signal", signal: "twoTone", spacingHz: 1200 }),
      command(3e9, { do: "signal", signal: "speech", talker: 4 }),
      command(4e9, { do: "signal", signal: "processedSpeech", talker: 4, processingDb: 10 }),
      command(5e9, { do: "signal", signal: "data", powerShare: 0.5 }),
    ]);
    expect(texts(view)).toEqual([
      "Exciter sends a carrier",
      "Exciter sends two tones 1.20 kHz apart",
      "Exciter sends speech, talker 4",
      "Exciter sends speech processed by 10 dB, talker 4",
      "Exciter sends data at 50 % of the drive",
    ]);
  });

  it("says what a live edit sets", () => {
    const view = listOf([
      command(1e9, { do: "configureMonitor", monitor: "lowGain", change: { role: "shadow" } }),
      command(2e9, {
        do: "configureMonitor",
        monitor: "lowGain",
        change: { pickup: -3, delayS: 0.005 },
      }),
    ]);
    expect(texts(view)).toEqual([
      "Low gain set to shadow",
      "Low gain set to pickup 3.0 dB under expected, delay 5.00 ms",
    ]);
  });

  it("ends the newness of an operate with the acknowledgement", () => {
    const event = (kind: "operate" | "trip" | "acknowledge", atNs: number): BenchEvent => ({
      kind: "protection",
      atNs,
      event: protectionEvent(kind, atNs, "lowGain", "acting"),
    });
    const before = listOf([event("operate", 1e9), event("trip", 1e9)]);
    expect(before.rows[0]?.isNew).toBe(true);
    const after = listOf([event("operate", 1e9), event("trip", 1e9), event("acknowledge", 2e9)]);
    expect(after.rows[0]?.isNew).toBe(false);
  });
});

describe("a gap that metal bridges", () => {
  it("is a dead short in words, then mended", () => {
    const view = listOf([
      {
        kind: "milestone",
        atNs: 1e9,
        part: "tuningCapacitor",
        milestone: "bridged",
        edge: "nominal",
      },
      { kind: "outsideArcLaw", atNs: 2e9, place: "loadingCapacitor", peakA: 6.75 },
      { kind: "mended", atNs: 3e9, place: "tuningCapacitor" },
    ]);
    expect(texts(view)).toEqual(
      expect.arrayContaining([
        "Tuning capacitor bridged by molten metal, a dead short",
        "Arc of 6.75 A peak, loading capacitor: its law holds from 0.1 to 2 A",
        "Tuning capacitor mended: the metal across its gap is off",
      ]),
    );
  });
});
