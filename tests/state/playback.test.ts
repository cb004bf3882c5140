import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { ScenarioEntry } from "../../src/project/scenario";
import type { Project } from "../../src/project/types";
import { CONTROL_NAMES, FRAME } from "../../src/shells/bench/frameLayout";
import { createWorkerPort } from "../../src/shells/bench/ports";
import type { FromEngine, ToEngine } from "../../src/shells/bench/protocol";
import { CH, CHANNEL_COUNT } from "../../src/simulation/channels";
import { createPlayback, type Playback } from "../../src/state/playback";
import { offsetText, settingsAsTold } from "../../src/state/playbackState";
import { tellMonitors } from "../../src/state/tellMonitors";
import { expectWithin } from "../support/expectWithin";
import { createInProcessPort } from "../support/inProcessPort";
import { fixedRuns } from "../support/properties";

const MS = 1_000_000;
const insect: ScenarioEntry = {
  atS: 0.06037,
  do: "placeFault",
  fault: "insect",
  part: "tuningCapacitor",
  severity: 1,
};
const KEYED = defaultProject([{ atS: 0, do: "key", down: true }]);
const STRUCK = defaultProject([{ atS: 0, do: "key", down: true }, insect]);

interface Rig {
  readonly playback: Playback;
  readonly sent: ToEngine[];
  /** So many animation frames of 16 ms. */
  frames(count: number): void;
  work(samples: number): boolean;
  state(): ReturnType<Playback["store"]["getState"]>;
  hash(): Promise<string>;
}

function open(project: Project, samplesPerFrame = 100_000): Rig {
  const port = createInProcessPort(samplesPerFrame);
  const sent: ToEngine[] = [];
  const playback = createPlayback({
    ...port,
    post(message) {
      sent.push(message);
      port.post(message);
    },
  });
  let wallMs = 1000;
  playback.open(project);
  playback.setLens(false);
  const rig: Rig = {
    playback,
    sent,
    frames(count) {
      for (let i = 0; i < count; i++) {
        wallMs += 16;
        playback.tick(wallMs);
      }
    },
    work: (samples) => port.work(samples),
    state: () => playback.store.getState(),
    hash: async () => (await playback.exportProject()).hash,
  };
  rig.frames(1);
  return rig;
}

/** Runs until the play head has passed `ns`, then pauses. */
function runTo(rig: Rig, ns: number): void {
  rig.playback.run();
  for (let n = 0; rig.state().playNs < ns; n++) {
    if (n > 5000) throw new Error(`stuck at ${rig.state().playNs}`);
    rig.frames(1);
  }
  rig.playback.pause();
  rig.frames(1);
}

describe("what a bench is told of its monitors", () => {
  const off = { do: "configureMonitor", monitor: "lowGain", change: { role: "off" } } as const;
  const role = (rig: Rig) => settingsAsTold(rig.state()).find((m) => m.id === "lowGain")?.role;

  it("counts at once, though a bench that stands shows it later", () => {
    const rig = open(KEYED);
    runTo(rig, 5 * MS);
    tellMonitors(rig.playback, [off]);
    expect(rig.state().settings.find((m) => m.id === "lowGain")?.role).toBe("acting");
    expect(role(rig)).toBe("off");
    runTo(rig, 8 * MS);
    expect(rig.state().settings.find((m) => m.id === "lowGain")?.role).toBe("off");
    expect(role(rig)).toBe("off");
  });

  it("counts for nothing where it is refused", () => {
    const rig = open(KEYED);
    runTo(rig, 5 * MS);
    rig.playback.seek(2 * MS);
    rig.frames(2);
    tellMonitors(rig.playback, [off]);
    expect(rig.state().refusal).not.toBeNull();
    expect(role(rig)).toBe("acting");
  });
});

describe("run and pause", () => {
  it("move the play head by the time on screen times the pace", () => {
    const rig = open(KEYED);
    rig.playback.run();
    rig.frames(5);
    expect(rig.state().playNs).toBe(80 * MS); // 5 frames of 16 ms, real time
    rig.playback.pause();
    rig.frames(5);
    expect(rig.state().playNs).toBe(80 * MS);
    rig.playback.changePace("slower");
    rig.playback.run();
    rig.frames(5);
    expect(rig.state().playNs).toBe(88 * MS); // a tenth of it
  });

  it("ask for nothing while paused with nothing new: no motion when idle", () => {
    const rig = open(KEYED);
    rig.frames(3);
    const { length } = rig.sent;
    const { sequence } = rig.state();
    rig.frames(20);
    expect(rig.sent).toHaveLength(length);
    expect(rig.state().sequence).toBe(sequence);
  });

  it("ask for one frame more when the run left alone has got further while paused", () => {
    const rig = open(STRUCK);
    runTo(rig, 80 * MS);
    rig.frames(3);
    const { sequence, races } = rig.state();
    while (rig.state().races === races) rig.work(200);
    rig.frames(3);
    expect(rig.state().sequence).toBe(sequence + 1);
  });

  it("keep the part of a nanosecond that the slowest pace needs", () => {
    const rig = open(KEYED);
    for (let i = 0; i < 6; i++) rig.playback.changePace("slower");
    rig.playback.run();
    rig.frames(1000);
    // 16 s of screen time at 1 us a second
    expectWithin(rig.state().playNs, 16_000, 1, "one nanosecond of rounding");
  });

  it("stop time in a hidden tab and go on without a jump", () => {
    const rig = open(KEYED);
    rig.playback.run();
    rig.frames(5);
    rig.playback.setHidden(true);
    rig.frames(500);
    rig.playback.setHidden(false);
    rig.frames(1);
    expect(rig.state().playNs).toBe(80 * MS);
    expect(rig.state().running).toBe(true);
    rig.frames(1);
    expect(rig.state().playNs).toBe(96 * MS);
  });

  it("say what pace is reached when the engine falls behind", () => {
    const rig = open(KEYED, 32); // 1.6 ms of bench time a frame, a tenth of what real time needs
    rig.playback.run();
    rig.frames(200);
    expectWithin(rig.state().reachedRate ?? 0, 0.1, 0.01, "averaged over half a second of 3.2 s");
    rig.playback.changePace("slower");
    rig.playback.changePace("slower");
    rig.frames(100);
    expect(rig.state().reachedRate).toBeNull();
  });
});

describe("one step", () => {
  it("is one sample, and one scan, at every pace, and makes the same record bit for bit", async () => {
    const hashes = new Set<string>();
    for (const slower of [0, 3, 6]) {
      const rig = open(STRUCK);
      for (let i = 0; i < slower; i++) rig.playback.changePace("slower");
      rig.playback.step("sample");
      rig.frames(1);
      expect(rig.state().playNs).toBe(50_000);
      rig.playback.step("scan");
      rig.frames(1);
      expect(rig.state().playNs).toBe(1 * MS);
      for (let i = 0; i < 64; i++) {
        rig.playback.step("scan");
        rig.frames(1);
      }
      expect(rig.state().playNs).toBe(65 * MS);
      hashes.add(await rig.hash());
      rig.playback.step("sample", -1);
      rig.frames(1);
      expect(rig.state().playNs).toBe(65 * MS - 50_000);
      expect(rig.state().mode).toBe("back");
    }
    expect(hashes.size).toBe(1);
  });
});

describe("pace, lens and frame rate", () => {
  it("change no result", async () => {
    const hashes = new Set<string>();
    for (const [slower, lens, samples] of [
      [0, false, 100_000],
      [1, false, 30],
      [0, true, 100_000],
    ] as const) {
      const rig = open(STRUCK, samples);
      if (slower === 1) rig.playback.changePace("slower");
      rig.playback.setLens(lens);
      rig.playback.run();
      for (let n = 0; rig.state().playNs < 61 * MS && n < 20_000; n++) rig.frames(1);
      rig.playback.pause();
      // the last stretch is stepped, so that all end at the same instant
      while (rig.state().playNs < 70 * MS) {
        rig.playback.step("sample");
        rig.frames(1);
      }
      hashes.add(await rig.hash());
    }
    expect(hashes.size).toBe(1);
  });
});

describe("looking back", () => {
  it("shows every reading of that instant exactly, and live restores speed and view", () => {
    const rig = open(STRUCK);
    const shown: [number, number[]][] = [];
    const stop = rig.playback.onFrame(() => {
      const { frame } = rig.playback;
      shown.push([frame[FRAME.playNs] as number, Array.from(rig.playback.readings)]);
    });
    rig.playback.changePace("slower");
    runTo(rig, 70 * MS);
    rig.playback.run();
    stop();
    const seen = [...shown];
    expect(seen.length).toBeGreaterThan(20);
    for (const [ns, readings] of seen.reverse()) {
      if (ns === rig.state().headNs) continue;
      rig.playback.seek(ns);
      rig.frames(1);
      expect(rig.state().playNs).toBe(ns);
      expect(Array.from(rig.playback.readings)).toEqual(readings);
    }
    expect(rig.state().mode).toBe("back");
    rig.playback.goLive();
    rig.frames(1);
    expect(rig.state().mode).toBe("live");
    expect(rig.state().running).toBe(true);
    expect(rig.state().pace).toBe(1);
  });

  it("is said in a persistent text with the offset, and edits are refused with a way out", () => {
    const rig = open(KEYED);
    runTo(rig, 60 * MS);
    const { headNs } = rig.state();
    rig.playback.seek(headNs - 3_100_000);
    rig.frames(1);
    expect(offsetText(rig.state())).toBe("3.10\u00a0ms before the record's end");
    const { length } = rig.state().events;
    rig.playback.act({ do: "set", control: "driveW", value: 20 });
    rig.frames(2);
    expect(rig.state().events).toHaveLength(length);
    expect(rig.state().refusal?.text).toContain("3.10\u00a0ms before the record's end");
    rig.playback.branch();
    rig.frames(3);
    expect(rig.state().mode).toBe("live");
    expect(rig.state().branches).toHaveLength(2);
    expect(rig.state().events.at(-1)).toMatchObject({
      kind: "command",
      atNs: headNs - 3_100_000,
      command: { do: "set", control: "driveW", value: 20 },
    });
    rig.playback.switchBranch(0);
    rig.frames(3);
    expect(rig.state().playNs).toBe(headNs);
    expect(rig.state().events).toHaveLength(length);
  });

  it("runs on into live at the end of the record", () => {
    const rig = open(KEYED);
    runTo(rig, 60 * MS);
    rig.playback.seek(10 * MS);
    rig.playback.run();
    rig.frames(2);
    expect(rig.state().mode).toBe("back");
    rig.frames(10);
    expect(rig.state().mode).toBe("live");
    expect(rig.state().playNs).toBeGreaterThan(100 * MS);
  });
});

describe("previous and next event", () => {
  it("go through fault start, pickups, operation and clearing", () => {
    const rig = open(STRUCK);
    runTo(rig, 80 * MS);
    expect(rig.playback.jump("next")).toBe(false);
    const visited: number[] = [];
    while (rig.playback.jump("previous")) {
      rig.frames(1);
      visited.push(rig.state().playNs);
    }
    const { landmarks } = rig.state();
    expect([...visited].reverse()).toEqual(landmarks);
    expect(landmarks[0]).toBe(60_370_000);
    expect(rig.playback.jump("next")).toBe(true);
    rig.frames(1);
    expect(rig.state().playNs).toBe(landmarks[1]);
  });
});

describe("the time lens", () => {
  it("lands on the fault, then gives each decade of the race about 2.3 s of screen time", () => {
    const rig = open(STRUCK);
    rig.playback.setLens(true);
    rig.playback.run();
    for (let n = 0; rig.state().playNs < 60_370_000; n++) {
      if (n > 1000) throw new Error("never there");
      rig.frames(1);
    }
    expect(rig.state().playNs).toBe(60_370_000);
    const framesTo = (sinceNs: number): number => {
      let frames = 0;
      for (; rig.state().playNs - 60_370_000 < sinceNs; frames++) rig.frames(1);
      return frames;
    };
    framesTo(100_000);
    expectWithin(
      framesTo(1 * MS) * 0.016,
      2.3,
      0.06,
      "the axis starts at 1 us, which is not quite nothing, and a frame is 16 ms",
    );
  });

  it("never runs faster than the pace", () => {
    const rig = open(STRUCK);
    rig.playback.setLens(true);
    runTo(rig, 61 * MS);
    expect(rig.state().rate).toBeLessThanOrEqual(1);
  });
});

describe("a knob under the hand", () => {
  it("shows its own value at once, sends at most every 50 ms, and its last value always", () => {
    const drag = fc.array(
      fc.record({
        value: fc.integer({ min: 1, max: 100 }),
        waitMs: fc.integer({ min: 1, max: 40 }),
      }),
      { minLength: 1, maxLength: 30 },
    );
    fc.assert(
      fc.property(drag, (moves) => {
        const rig = open(KEYED);
        let wallMs = 2000;
        for (const { value, waitMs } of moves) {
          wallMs += waitMs;
          rig.playback.moveKnob("driveW", value, wallMs);
          expect(rig.playback.heldKnob("driveW")).toBe(value);
        }
        const spentMs = wallMs - 2000;
        rig.playback.releaseKnob("driveW");
        const values = rig.sent.flatMap((m) =>
          m.kind === "act" && m.command.do === "set" ? [m.command.value] : [],
        );
        expect(values.at(-1)).toBe(moves.at(-1)?.value);
        expect(values.length).toBeLessThanOrEqual(2 + spentMs / 50);
        expect(rig.playback.heldKnob("driveW")).toBeNull();
        expect(rig.state().gestures).toHaveLength(1);
        expect(rig.state().gestures[0]).toMatchObject({ from: 62, to: moves.at(-1)?.value });
        runTo(rig, 60 * MS);
        // the ramp of 50 ms is over
        expect(rig.playback.frame[FRAME.controls + CONTROL_NAMES.indexOf("driveW")]).toBe(
          moves.at(-1)?.value,
        );
      }),
      fixedRuns(6),
    );
  });

  it("is logged with the instant at which it took effect", () => {
    const rig = open(KEYED);
    runTo(rig, 40 * MS);
    const { playNs } = rig.state();
    rig.playback.act({ do: "set", control: "driveW", value: 33 });
    rig.frames(1);
    expect(rig.state().events.at(-1)).toMatchObject({ kind: "command", atNs: playNs, refused: "" });
  });
});

describe("a project opened at a moment", () => {
  it("is played up to there, stands, and is the same run as one that came there live", async () => {
    const rig = open(STRUCK);
    runTo(rig, 80 * MS);
    const { playNs } = rig.state();
    const live = await rig.hash();
    rig.playback.open(STRUCK, playNs);
    rig.frames(1);
    expect(rig.state().replaying).toBe(false); // one frame may make all of it here
    expect(rig.state()).toMatchObject({ playNs, headNs: playNs, running: false, mode: "live" });
    expect(await rig.hash()).toBe(live);
  });
});

describe("the race", () => {
  it("comes with the unprotected run, which is ahead of the play head", () => {
    const rig = open(STRUCK);
    runTo(rig, 80 * MS);
    for (let n = 0; n < 40; n++) rig.work(200);
    const [race] = rig.state().races;
    expect(race?.race.firstTrip?.id).toBe("lowGain");
    expect(race?.aloneReachedNs).toBeGreaterThan(rig.state().playNs);
    expect(race?.before).toHaveLength(CHANNEL_COUNT);
    expect(race?.before[CH.forwardW]).toBeGreaterThan(1000);
    // a run that leaves before the fault has no race yet
    rig.playback.seek(50 * MS);
    rig.frames(1);
    rig.playback.branch("nothing");
    rig.frames(2);
    expect(rig.state().races).toEqual([]);
  });
});

describe("traces", () => {
  it("end at the play head and come with it", () => {
    const rig = open(KEYED);
    rig.playback.setStrip({ spanNs: 40 * MS, columns: 40, channels: [CH.plateCurrentA] });
    runTo(rig, 60 * MS);
    const { strip, playNs } = rig.state();
    expect(strip?.columns).toBe(40);
    expect((strip?.fromNs ?? 0) + 40 * (strip?.columnNs ?? 0)).toBeLessThanOrEqual(playNs);
    expect(strip?.maxima.at(-2)).toBeGreaterThan(0.5);
  });
});

describe("an engine that cannot go on", () => {
  it("is reported in words when its worker cannot be started", () => {
    const playback = createPlayback(
      createWorkerPort(() => {
        throw new Error("not allowed");
      }),
    );
    expect(playback.store.getState().standing).toBe("failed");
    expect(playback.store.getState().words).toContain("could not be started");
    expect(playback.tick(1)).toBe(false);
  });

  it("is reported in words when it stops, and nothing is asked of it any more", () => {
    const said: ToEngine[] = [];
    let tell: (message: FromEngine) => void = () => {};
    const playback = createPlayback({
      post: (m) => void said.push(m),
      listen(listener) {
        tell = listener;
      },
      close() {},
    });
    playback.open(KEYED);
    const opened = { project: KEYED, sampleNs: 50_000, notices: [] };
    tell({ kind: "opened", ok: true, ...opened, expectedGain: { gainsDb: [], knownToW: 0 } });
    playback.run();
    playback.tick(1);
    tell({ kind: "failed", words: "The simulation stopped: not a finite number." });
    const { length } = said;
    playback.tick(20);
    expect(said).toHaveLength(length);
    expect(playback.store.getState()).toMatchObject({ standing: "failed", running: false });
  });

  it("leaves the running bench alone when a station cannot be designed", () => {
    const rig = open(KEYED);
    runTo(rig, 40 * MS);
    const { station } = KEYED;
    rig.playback.open({
      ...KEYED,
      station: { ...station, tank: { kind: "designedPi", plateLoadOhm: 1900, bands: [] } },
    });
    expect(rig.state().words).not.toBe("");
    expect(rig.state().standing).toBe("ready");
    expect(rig.state().playNs).toBeGreaterThanOrEqual(40 * MS);
  });
});
