/** What a page pays: samples, frames, traces, looking back. Run by hand; machines differ. */
import { bench, describe } from "vitest";
import { FRAME, FRAME_LENGTH } from "../../../src/shells/bench/frameLayout";
import { CH } from "../../../src/simulation/channels";
import { engineOf, MS, play, sample } from "./engineRig";

const engine = engineOf(sample("low-gain-in-shadow"));
const frame = play(engine, 1_200 * MS);
const headNs = frame[FRAME.headNs] as number;

describe("a live bench with the arc burning", () => {
  bench("50 ms of live frames, 1000 samples", () => {
    play(engine, engine.liveNs + 50 * MS);
  });

  bench("one frame of a play head that stands", () => {
    engine.ask(engine.liveNs, "live", 0, frame);
  });

  bench("five traces of ten seconds in 600 columns", () => {
    const channels = [CH.plateCurrentA, CH.gridCurrentA, CH.plateV, CH.plateRfPeakV, CH.forwardW];
    engine.strip({ fromNs: headNs - 1e10, toNs: headNs, columns: 600, channels }, headNs);
  });

  let backNs = 0;
  const past = new Float64Array(FRAME_LENGTH);
  bench("looking back somewhere else", () => {
    backNs = (backNs + 377 * MS) % headNs;
    engine.ask(backNs, "back", 1e9, past);
  });
});
