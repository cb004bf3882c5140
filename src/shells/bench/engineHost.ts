/** Messages in, messages out: an engine as a worker or an in-process port has it. No clock, no timers. */

import { tableBehind } from "../../simulation/gainTable";
import { createLiveEngine, type LiveEngine } from "./liveEngine";
import type { FromEngine, ToEngine } from "./protocol";

export type Send = (message: FromEngine, transfer?: readonly ArrayBuffer[]) => void;

/** Most samples made for one frame when the caller has measured nothing: a fifth of a second of bench time. */
export const SAMPLES_PER_FRAME = 4000;

export class EngineHost {
  /** Most samples made for one frame; the shell sets it by what a frame may cost. */
  samplesPerFrame = SAMPLES_PER_FRAME;
  private engine: LiveEngine | null = null;
  private hasFailed = false;

  constructor(private readonly send: Send) {}

  receive(message: ToEngine): void {
    this.guarded(() => this.handle(message));
  }

  /** One slice of what runs ahead of the play head; false when nothing is left to do. */
  work(samples: number): boolean {
    let more = false;
    this.guarded(() => {
      if (this.engine === null) return;
      more = this.engine.work(samples);
      this.sendAhead(this.engine);
    });
    return more;
  }

  private guarded(task: () => void): void {
    if (this.hasFailed) return;
    try {
      task();
    } catch (error) {
      this.hasFailed = true;
      const cause = error instanceof Error ? error.message : String(error);
      this.send({ kind: "failed", words: `The simulation stopped: ${cause}.` });
    }
  }

  private handle(message: ToEngine): void {
    const { engine } = this;
    if (message.kind === "open") this.open(message.project, message.playToNs);
    else if (engine !== null) this.answer(engine, message);
  }

  private answer(engine: LiveEngine, message: Exclude<ToEngine, { kind: "open" }>): void {
    switch (message.kind) {
      case "ask": {
        const { buffer, strip } = message;
        engine.ask(message.playNs, message.mode, this.samplesPerFrame, buffer);
        this.sendEvents(engine);
        const columns = strip === null ? null : engine.strip(strip, message.playNs);
        const transfer = [buffer.buffer as ArrayBuffer];
        if (columns !== null)
          transfer.push(columns.minima.buffer as ArrayBuffer, columns.maxima.buffer as ArrayBuffer);
        const world = engine.takeWorld();
        this.send({ kind: "frame", buffer, world, strip: columns }, transfer);
        this.sendAhead(engine);
        break;
      }
      case "act": {
        const result = engine.act(message.atNs, message.command);
        const reason = result.ok ? "" : result.reason;
        this.send({ kind: "acted", id: message.id, ok: result.ok, atNs: result.atNs, reason });
        this.sendEvents(engine);
        break;
      }
      case "forecast":
        engine.choose(message.choice);
        this.sendAhead(engine);
        break;
      case "branch":
        engine.branch(message.atNs, message.keep, message.name);
        this.sendEvents(engine);
        this.sendBranches(engine);
        break;
      case "switchBranch":
        engine.switchTo(message.branch);
        this.sendEvents(engine);
        this.sendBranches(engine);
        break;
      case "export": {
        const project = engine.exportProject();
        const { hash } = engine.bench;
        this.send({ kind: "exported", id: message.id, project, hash });
        break;
      }
    }
  }

  private open(project: Parameters<typeof createLiveEngine>[0], playToNs: number): void {
    const created = createLiveEngine(project);
    if (!created.ok) {
      // the bench that runs stays as it is
      this.send({ kind: "opened", ok: false, problem: created.problem });
      return;
    }
    this.engine = created.engine;
    created.engine.playTo(playToNs);
    const { notices, context } = created.engine.bench.system;
    const expectedGain = tableBehind(context.expectedForwardGainDb, context.gainKnownToW);
    const { sampleNs } = project;
    this.send({ kind: "opened", ok: true, project, sampleNs, notices, expectedGain });
    this.sendBranches(created.engine);
  }

  private sendEvents(engine: LiveEngine): void {
    const batch = engine.takeEvents();
    if (batch !== null) this.send({ kind: "events", from: batch.from, events: batch.events });
  }

  private sendBranches(engine: LiveEngine): void {
    this.send({ kind: "branches", ...engine.branchViews() });
  }

  private sendAhead(engine: LiveEngine): void {
    const race = engine.takeRace();
    if (race !== null) this.send({ kind: "race", report: race });
    const forecast = engine.takeForecast();
    if (forecast !== undefined) this.send({ kind: "forecast", report: forecast });
  }
}
