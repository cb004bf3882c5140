/**
 * What runs ahead of the play head, in slices and cancellable: the same fault left alone after each time
 * zero, and while nothing has struck a forecast for the chosen fault. Never touches the live bench.
 */
import { FAULTS } from "../../project/faults";
import type { Command } from "../../project/scenario";
import type { Bench, FaultStart } from "../../simulation/bench";
import type { Logic } from "../../simulation/logic";
import { type FaultChoice, Forecast } from "./forecast";
import type { ForecastReport, RaceReport } from "./protocol";
import { raceReport } from "./raceReport";
import { UnprotectedRun } from "./unprotectedRun";

/** A forecast is made anew after so much steady running. */
export const FORECAST_EVERY_NS = 5e9;
/** Drive has been up for so long before a forecast is worth making. */
const CALM_AFTER_NS = 30e6;
/** First report after so many samples, the next ones each a half more. */
const FIRST_REPORT = 20;
const GROWTH = 1.5;

/** True where the command changes what happens to a fault that is left alone. */
function changesTwin(command: Command): boolean {
  switch (command.do) {
    case "set":
    case "placeFault":
    case "removeFault":
    case "configureMonitor":
      return true;
    default:
      return false;
  }
}

export class Ahead {
  private wanted: FaultStart | null = null;
  private run: UnprotectedRun | null = null;
  private made = 0;
  private nextReport = FIRST_REPORT;
  private raceIsNew = false;

  private phase: Logic["sequence"]["phase"] = "receive";
  private choice: FaultChoice | null = null;
  private forecast: Forecast | null = null;
  private forecastIsOld = false;
  private forecastIsNew = false;
  private forecastMade = 0;
  private nextForecast = FIRST_REPORT;

  /** Looks at the live bench after it moved: a new fault wants its unprotected run. */
  follow(bench: Bench): void {
    const { phase } = bench.logic.sequence;
    if (phase !== this.phase) {
      // off and on the air are different benches: what was forecast on one says nothing of the other
      this.phase = phase;
      this.forecastIsOld = this.choice !== null;
    }
    const last = bench.zeros[bench.zeros.length - 1] ?? null;
    if (last === this.wanted) {
      const placed = this.forecast?.placedNs ?? -Infinity;
      if (this.choice !== null && bench.timeNs - placed >= FORECAST_EVERY_NS && this.settled(bench))
        this.forecastIsOld = true;
      return;
    }
    this.wanted = last;
    this.startAgain();
  }

  /** Something was done that the live bench had not in store. */
  changed(command: Command): void {
    if (changesTwin(command)) this.startAgain();
    this.forecastIsOld = true;
  }

  /** The past has changed: everything is made anew. */
  startAgain(): void {
    this.run = null;
    this.made = 0;
    this.nextReport = FIRST_REPORT;
    this.raceIsNew = false;
    this.forecastIsOld = true;
  }

  /** The live run has something new to say about the race. */
  touchRace(): void {
    if (this.run !== null) this.raceIsNew = true;
  }

  choose(choice: FaultChoice | null): void {
    this.choice = choice;
    this.forecast = null;
    this.forecastIsOld = choice !== null;
    this.forecastIsNew = true;
  }

  /** At most so many samples; false when there is nothing left to do. */
  work(bench: Bench, samples: number): boolean {
    if (this.wanted !== null) {
      this.run ??= new UnprotectedRun(bench, this.wanted);
      if (!this.run.isDone) {
        this.made += this.run.work(samples);
        if (this.made >= this.nextReport || this.run.isDone) {
          this.nextReport = this.made * GROWTH;
          this.raceIsNew = true;
        }
        return true;
      }
    }
    return this.workForecast(bench, samples);
  }

  private workForecast(bench: Bench, samples: number): boolean {
    const { choice } = this;
    if (choice === null || !quiet(bench)) return false;
    const isOld = this.forecast === null || this.forecastIsOld;
    if (isOld && !isCalm(bench)) return false;
    if (FAULTS[choice.fault].latent) {
      if (this.forecastIsOld) this.forecastIsNew = true;
      this.forecastIsOld = false;
      return false;
    }
    if (this.forecast === null || this.forecastIsOld) {
      this.forecast = new Forecast(bench, bench.snapshot(), choice);
      this.forecastIsOld = false;
      this.forecastMade = 0;
      this.nextForecast = FIRST_REPORT;
      return true;
    }
    if (this.forecast.isDone) return false;
    this.forecastMade += this.forecast.work(samples);
    const isDue = this.forecast.isProtectedOver && this.forecastMade >= this.nextForecast;
    if (isDue || this.forecast.isDone) {
      this.nextForecast = this.forecastMade * GROWTH;
      this.forecastIsNew = true;
    }
    return true;
  }

  /** The forecast in hand is finished, so that a fresh one may take its place. */
  private settled(bench: Bench): boolean {
    return quiet(bench) && (this.forecast === null || this.forecast.isDone);
  }

  /** The race as it stands, when it has changed since it was last taken. */
  takeRace(bench: Bench): RaceReport | null {
    if (!this.raceIsNew || this.run === null) return null;
    this.raceIsNew = false;
    return raceReport(bench, this.run.start, this.run);
  }

  /** Undefined: nothing new. Null: no forecast any more. */
  takeForecast(): ForecastReport | null | undefined {
    if (!this.forecastIsNew) return undefined;
    this.forecastIsNew = false;
    const { choice, forecast } = this;
    if (choice === null) return null;
    if (FAULTS[choice.fault].latent) return latentReport(choice);
    if (forecast === null) return undefined;
    const start = forecast.acting.zeros[0];
    const { alone } = forecast;
    return {
      choice,
      placedNs: forecast.placedNs,
      standing: !forecast.strikes ? "noStrike" : forecast.isDone ? "done" : "working",
      actingEvents: forecast.acting.events.slice(),
      report:
        alone === null || start === undefined ? null : raceReport(forecast.acting, start, alone),
    };
  }
}

/** A forecast made while relays close or drive rises would speak of neither before nor after. */
function isCalm({ logic, timeNs }: Bench): boolean {
  const { phase } = logic.sequence;
  if (phase === "closing" || phase === "opening") return false;
  return phase === "receive" || timeNs - logic.envelope.startNs >= CALM_AFTER_NS;
}

/** No fault is under way. */
function quiet(bench: Bench): boolean {
  return bench.logic.zero === null || bench.logic.cleared;
}

function latentReport(choice: FaultChoice): ForecastReport {
  return { choice, placedNs: -1, standing: "latent", actingEvents: [], report: null };
}
