/** How far back the record reaches at other sample lengths, and that it reads the right values there. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { readRecord } from "../../src/shells/bench/recordReader";
import { stripColumns } from "../../src/shells/bench/strip";
import { createBench } from "../../src/simulation/bench";
import { CH, CHANNEL_COUNT } from "../../src/simulation/channels";
import { Recorder } from "../../src/simulation/recorder";
import { expectWithin } from "../support/expectWithin";

/** A record of `spanNs` whose channels hold the end of each sample in ms. */
function ramp(sampleNs: number, spanNs: number): Recorder {
  const recorder = new Recorder("full", sampleNs);
  const lanes = new Float64Array(2);
  for (let k = 0; (k + 1) * sampleNs <= spanNs; k++) {
    recorder.row.fill(((k + 1) * sampleNs) / 1e6);
    recorder.openSample();
    recorder.closeSample(k * sampleNs, (k + 1) * sampleNs, lanes, 0);
  }
  return recorder;
}

describe.each([
  // ten seconds of 200 us are 50,000 samples; of 20 us there is room for 200,000, which are 4 s
  { sampleNs: 20_000, spanNs: 5e9, oldestNs: 1e9, cellSamples: 250 },
  { sampleNs: 200_000, spanNs: 11e9, oldestNs: 1e9, cellSamples: 25 },
])("a record of samples of $sampleNs ns", ({ sampleNs, spanNs, oldestNs, cellSamples }) => {
  const recorder = ramp(sampleNs, spanNs);
  const row = new Float64Array(CHANNEL_COUNT);

  it("reads every instant it holds at full rate, and none before", () => {
    expect(recorder.oldestSample).toBe(oldestNs / sampleNs);
    for (const ns of [oldestNs + sampleNs, 2.34567e9, spanNs]) {
      const endNs = Math.floor(ns / sampleNs) * sampleNs;
      expect(readRecord(recorder, sampleNs, ns, row)).toBe(endNs);
      expect(row[CH.outputW]).toBe(endNs / 1e6);
    }
    expect(readRecord(recorder, sampleNs, oldestNs - 1, row)).toBe(-1);
  });

  it("keeps least and greatest of every 5 ms of what is older", () => {
    expect(recorder.cellSamples).toBe(cellSamples);
    const pair = new Float64Array(2);
    const single = "single precision of 400 ms";
    for (let cell = 0; cell < 80; cell++) {
      const from = cell * cellSamples;
      const { outputW } = CH;
      expect(recorder.extremes(outputW, from, from + cellSamples, pair)).toBe(true);
      // the row holds the end of its sample: the first ends one sample after the cell begins
      expectWithin(pair[0] as number, 5 * cell + sampleNs / 1e6, 5e-5, single);
      expectWithin(pair[1] as number, 5 * (cell + 1), 5e-5, single);
    }
    const request = { fromNs: 0, toNs: 0.4e9, columns: 40, channels: [CH.outputW] };
    const strip = stripColumns(recorder, sampleNs, request, spanNs);
    for (let c = 0; c < 40; c++) {
      expectWithin(strip.maxima[c] as number, 10 * (c + 1), 5e-5, single);
    }
  });
});

describe("a running bench with samples of 20 us and of 200 us", () => {
  it.each([20_000, 200_000])("tells the same output 100 ms after the key: %i ns", (sampleNs) => {
    const created = createBench(
      { ...defaultProject([{ atS: 0, do: "key", down: true }]), sampleNs },
      { recorder: "full" },
    );
    if (!created.ok) throw new Error(created.problem);
    const { bench } = created;
    bench.advanceTo(100e6);
    const row = new Float64Array(CHANNEL_COUNT);
    expect(readRecord(bench.recorder, sampleNs, 100e6, row)).toBe(100e6);
    expect(row).toEqual(bench.recorder.row);
    // 1453 W at full drive stand in the table of check values of the demonstration station
    expectWithin(row[CH.outputW] as number, 1453, 30, "the supply still sags towards its last 2 %");
    expect(readRecord(bench.recorder, sampleNs, 50e6, row)).toBe(50e6);
    expect(readRecord(bench.recorder, sampleNs, 50e6 - 1, row)).toBe(50e6 - sampleNs);
  });
});
