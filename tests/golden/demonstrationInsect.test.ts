/** The demonstration's insect: what the few signals that matter did, at instants that matter. Guards, proves nothing. */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { CH, CHANNEL_COUNT } from "../../src/simulation/channels";
import { createBench } from "../../src/simulation/bench";
import { expectGolden } from "../support/golden";
import { ROOT } from "../support/root";

const SIGNALS = [
  "plateRfPeakV",
  "forwardW",
  "plateCurrentA",
  "gridCurrentA",
  "cathodeV",
  "arcW",
  "edgeK",
] as const;

describe("record of the demonstration insect", () => {
  it("has not changed unnoticed", () => {
    const text = readFileSync(resolve(ROOT, "public/projects/skerry-light-insect.json"), "utf8");
    const read = readProject(text);
    if (!read.ok) throw new Error("the demonstration does not open");
    const run = createBench(read.project);
    if (!run.ok) throw new Error(run.problem);
    run.bench.advanceTo(1.02e9);
    const track = run.bench.recorder.tracks.find((t) => t.kind === "fault");
    if (track === undefined) throw new Error("no fault was tracked");
    const rows = [...Array(track.count).keys()].filter((k) => k % 8 === 0);
    const columns = Object.fromEntries(
      SIGNALS.map((name) => [
        name,
        rows.map((k) => track.data[k * CHANNEL_COUNT + CH[name]] as number),
      ]),
    );
    expectGolden("demonstrationInsect", columns, 1e-4, "steps of the solver and six digits");
  });
});
