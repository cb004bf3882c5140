import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { MonitorSlices } from "../../src/shells/study/monitorSlices";
import type { FromStudy } from "../../src/shells/study/protocol";
import { createBench } from "../../src/simulation/bench";
import { faultResult } from "../../src/simulation/simulate";
import { racedProjects } from "../../src/state/monitorStudy";
import {
  expectedIn,
  type NormalBand,
  normalRange,
  normalReadings,
} from "../../src/study/normalReadings";
import { expectWithin } from "../support/expectWithin";

const project = defaultProject();

/** One question to the slices, to its end. */
function asked(slices: MonitorSlices, messages: FromStudy[], edited = project): void {
  const { before, after } = racedProjects(project, project.monitors, edited);
  const short = (p: typeof before) => ({ ...p, endS: 0.2 });
  const work = slices.of({ id: 1, station: project.station, runs: [short(before), short(after)] });
  messages.length = 0;
  while (work());
}

const messages: FromStudy[] = [];
const slices = new MonitorSlices((message) => messages.push(message));
asked(slices, messages);
const bands = messages.find((m) => m.kind === "normal")?.bands ?? [];

/** First trip, clearing and margin of the run with index 0 or 1. */
function outcomeOf(index: number) {
  const found = messages.find((m) => m.kind === "beside" && m.index === index);
  return found?.kind === "beside" ? found.outcome : null;
}

describe("normal readings", () => {
  it("cover every band of the station at every drive up to the full one", () => {
    const names = ["160 m", "80 m", "40 m", "30 m", "20 m", "17 m", "15 m", "12 m", "10 m"];
    expect(bands.map((b) => b.band)).toEqual(names);
    for (const { points } of bands) {
      expectWithin(points.at(-1)?.driveW ?? 0, 62, 1e-9, "full drive of the demonstration station");
    }
  });

  it("show the full carrier on 20 m: 1453 W, 0.815 A at 3.05 kV, no deviation of gain", () => {
    const band = bands.find((b) => b.band === "20 m") as NormalBand;
    const at = (quantity: Parameters<typeof normalReadings>[1]): number =>
      normalReadings([band], quantity, project.sensors).at(-1)?.value ?? Number.NaN;
    // design values of the demonstration station at 62 W
    expectWithin(
      at("outputForwardW"),
      1453,
      10,
      "given to four figures, coupler's leak a thousandth",
    );
    expectWithin(at("gainDeviationDb"), 0, 0.01, "what is expected is this very gain");
    // plate input = output + dissipation, whatever the numbers
    const inputW = at("plateV") * at("plateCurrentA");
    expectWithin(at("plateDissipationW"), inputW - at("netOutputW"), 1e-6, "definition");
    expectWithin(at("efficiency"), at("netOutputW") / inputW, 1e-9, "definition");
  });

  it("leave every preset's first pickup out of normal use, and find the one that is moved into it", () => {
    for (const { role, criteria } of project.monitors) {
      const [first] = criteria;
      if (role === "off" || first === undefined || first.when.length > 0) continue;
      const range = normalRange(normalReadings(bands, first.quantity, project.sensors));
      if (first.side === "over") expect(range?.most.value).toBeLessThan(first.pickup);
      else expect(range?.least.value).toBeGreaterThan(first.pickup);
    }
    const range = normalRange(normalReadings(bands, "plateCurrentA", project.sensors));
    expect(range?.most.driveW).toBe(62); // the current rises with the drive
    expect(range?.most.value).toBeGreaterThan(0.5);
  });

  it("expect between two drives what lies between their gains", () => {
    const expected = expectedIn({
      band: "a",
      freqHz: 1,
      points: [
        { driveW: 1, means: [1, 0, 10, 0, 0, 0, 0, 0, 0, 0] }, // 10 dB
        { driveW: 9, means: [9, 0, 900, 0, 0, 0, 0, 0, 0, 0] }, // 20 dB
      ],
    });
    expectWithin(expected(4), 15, 1e-12, "halfway in the root of the drive");
    expectWithin(expected(0.1), 10, 1e-12, "held below the first");
    expectWithin(expected(100), 20, 1e-12, "held above the last");
  });
});

describe("the race beside the bench", () => {
  it("is the race of the same project run in one go", () => {
    const { before } = racedProjects(project, project.monitors, project);
    const created = createBench(before);
    if (!created.ok) throw new Error(created.problem);
    const { bench } = created;
    bench.advanceTo(200_000_000);
    const start = bench.zeros[0];
    if (start === undefined) throw new Error("no fault came");
    const twin = bench.fork(start);
    twin.advanceTo(start.zero.atNs + 300_000_000); // onset comes after a quarter of a second
    const { race } = faultResult(bench, start, Infinity, twin);
    const outcome = outcomeOf(0);
    expect(outcome?.firstTrip).toEqual({
      id: "lowGain",
      name: "Low gain",
      atS: race.firstTrip?.atS,
    });
    expect(outcome?.clearingS).toBe(race.clearingS);
    expect(outcome?.margin).toBe(race.margin);
    // a strike 0.37 ms after a scan, by hand in the test of the whole chain
    expectWithin(outcome?.firstTrip?.atS ?? 0, 3.63e-3, 1e-9, "operations lie on scans");
  });

  it("is run again for other settings, with the same fault left alone", () => {
    const monitors = project.monitors.map((m) =>
      m.id === "lowGain"
        ? {
            ...m,
            criteria: m.criteria.map((c) => ({
              ...c,
              timing: { kind: "definite" as const, delayS: 5e-3 },
            })),
          }
        : m,
    );
    const first = outcomeOf(0);
    asked(slices, messages, { ...project, monitors });
    const [before, after] = [outcomeOf(0), outcomeOf(1)];
    expect(before).toEqual(first);
    const gained = (after?.firstTrip?.atS ?? 0) - (before?.firstTrip?.atS ?? 0);
    expectWithin(gained, 3e-3, 1e-9, "three scans of 1 ms more");
    expect(after?.alone).toEqual(before?.alone);
    const onsetS = (after?.margin ?? 0) * (after?.clearingS ?? 0);
    expectWithin(onsetS, before?.alone.onsetS ?? 0, 1e-12, "margin is onset over clearing");
  });
});
