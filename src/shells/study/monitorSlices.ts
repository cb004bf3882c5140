/**
 * What the monitors screen asks for, in slices: the normal readings of a station band by band, then the race of each project it is
 * asked about. Answers that were worked out before are kept and sent again.
 */
import type { Project } from "../../project/types";
import { bandInUse, fullCarrier, type NormalBand, normalBands } from "../../study/normalReadings";
import { type LeftAlone, RaceBeside, type RaceOutcome } from "../../study/raceBeside";
import type { FromStudy, MonitorsRequest } from "./protocol";

/** Races kept: what undo and redo come back to. */
const KEPT = 12;

export class MonitorSlices {
  private normal: { readonly key: string; readonly bands: readonly NormalBand[] } | null = null;
  private readonly races = new Map<string, RaceOutcome | null>();
  private alone: { readonly key: string; readonly found: LeftAlone } | null = null;

  constructor(private readonly send: (message: FromStudy) => void) {}

  /** The work on an answer, a slice a call; false when it was the last. */
  of({ id, station, runs }: MonitorsRequest): () => boolean {
    const key = JSON.stringify(station);
    const pending = this.normal?.key === key ? [] : [...normalBands(station)];
    const found: NormalBand[] = [];
    let isNormalSent = false;
    let at = 0;
    let race: RaceBeside | null = null;
    return () => {
      const next = pending.shift();
      if (next !== undefined) {
        found.push(...next());
        if (pending.length === 0) this.normal = { key, bands: found };
        return true;
      }
      const bands = this.normal?.bands ?? found;
      if (!isNormalSent) {
        isNormalSent = true;
        this.send({ kind: "normal", id, bands });
        return true;
      }
      const project = runs[at];
      if (project === undefined) {
        this.send({ kind: "monitored", id });
        return false;
      }
      const known = this.races.get(keyOf(project));
      if (known !== undefined) {
        this.send({ kind: "beside", id, index: at, outcome: known, problem: "" });
        at += 1;
        return true;
      }
      if (race === null) {
        const usual = fullCarrier(bandInUse(bands, station));
        const kept = this.alone?.key === physicsOf(project) ? this.alone.found : null;
        const begun = RaceBeside.of(project, usual, kept);
        if (begun.ok) race = begun.run;
        else {
          this.send({ kind: "beside", id, index: at, outcome: null, problem: begun.problem });
          at += 1;
        }
        return true;
      }
      if (!race.step()) {
        this.keep(project, race.outcome);
        race = null;
      }
      return true;
    };
  }

  private keep(project: Project, outcome: RaceOutcome | null): void {
    if (outcome !== null) this.alone = { key: physicsOf(project), found: outcome.alone };
    this.races.set(keyOf(project), outcome);
    for (const oldest of this.races.keys()) {
      if (this.races.size <= KEPT) break;
      this.races.delete(oldest);
    }
  }
}

/** Everything of a project that a fault left alone depends on. */
function physicsOf({ station, scenario, sampleNs, seed }: Project): string {
  return JSON.stringify([station, scenario, sampleNs, seed]);
}

/** Everything of a project that its race depends on. */
function keyOf({ title: _, notes: __, ...rest }: Project): string {
  return JSON.stringify(rest);
}
