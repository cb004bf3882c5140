import { expect, it } from "vitest";
import { DEFAULT_MONITORS } from "../../../../../src/project/presets/monitors";
import type { MonitorDef } from "../../../../../src/project/protection";
import type { BenchEvent } from "../../../../../src/simulation/benchEvent";
import { CHANNEL_COUNT } from "../../../../../src/simulation/channels";
import type { Course, LaneSource } from "../../../../../src/ui/screens/bench/views/laneTypes";
import { whyQuiet } from "../../../../../src/ui/screens/bench/views/laneWhy";

const lowGain = DEFAULT_MONITORS.find((m) => m.id === "lowGain") as MonitorDef;

const disarmed = {
  kind: "protection",
  atNs: 5e9,
  event: { kind: "notArmed", atNs: 5e9, monitorId: "lowGain", role: "acting" },
} as unknown as BenchEvent;

const source = (nowS: number): LaneSource => ({
  monitors: [lowGain],
  mode: "operate",
  nowS,
  zeroNs: 0,
  untilNs: Number.POSITIVE_INFINITY,
  protectedEvents: [disarmed],
  aloneEvents: [],
  aloneDone: true,
  armingEvents: [],
  before: new Float64Array(CHANNEL_COUNT),
  track: TRACK,
  shown: TRACK,
  shownToNs: Number.POSITIVE_INFINITY,
  expectedGain: null,
  struck: true,
});
const TRACK = { sinceNs: [1e6], rows: new Float64Array(CHANNEL_COUNT) };

const course = (def: MonitorDef): Course => ({
  def,
  role: "acting",
  armed: true,
  criterion: 0,
  confirmFromS: null,
  pickup: null,
  isOwn: false,
  operate: null,
  trip: null,
});

it("a lane says what was so at the play head, there and back again", () => {
  const at8 = whyQuiet(source(8), course(lowGain));
  expect(at8).toContain("not armed from 5.00");
  const at2 = whyQuiet(source(2), course(lowGain));
  expect(at2).not.toContain("not armed from");
  expect(whyQuiet(source(8), course(lowGain))).toBe(at8);
});

it("a lane follows a setting that is changed while the track stays", () => {
  const before = whyQuiet(source(2), course(lowGain));
  const criteria = lowGain.criteria.map((c) => ({
    ...c,
    pickup: c.pickup * 2,
    dropOff: c.dropOff * 2,
  }));
  expect(whyQuiet(source(2), course({ ...lowGain, criteria }))).not.toBe(before);
  expect(whyQuiet(source(2), course(structuredClone(lowGain)))).toBe(before);
});
