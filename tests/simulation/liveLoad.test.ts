/** What hangs on the connector when an antenna moves: against stations that are built that way. */
import { describe, expect, it } from "vitest";
import {
  liveAtRest,
  resolveStation,
  type StationParts,
} from "../../src/physics/stage/stationCircuit";
import { DEFAULT_STATION, defaultProject } from "../../src/project/defaults";
import { DIPOLES, LINE_KINDS } from "../../src/project/feeders";
import type { Antenna, FeedLine, Load } from "../../src/project/station";
import { moveLoad } from "../../src/simulation/liveLoad";
import { benchOf } from "../support/cases";
import { expectWithin } from "../support/expectWithin";

const LINE: FeedLine = { ...(LINE_KINDS[0] as FeedLine), lengthM: 23 };
const DIPOLE = DIPOLES.find((d) => d.name.startsWith("20 m")) as Extract<
  Antenna,
  { kind: "resonant" }
>;

function partsWith(load: Load): StationParts {
  const resolved = resolveStation({ ...DEFAULT_STATION, load });
  if (!resolved.ok) throw new Error(resolved.problem);
  return resolved.parts;
}

function antenna(change: Partial<typeof DIPOLE> = {}): Load {
  return { kind: "antenna", line: LINE, antenna: { ...DIPOLE, ...change } };
}

describe("a moved antenna", () => {
  it("shows what an antenna built for that resonance shows behind the same line", () => {
    const parts = partsWith(antenna());
    const live = liveAtRest(parts);
    moveLoad(parts, { resonanceRatio: 0.93, feedPointConnected: true }, live);
    const built = partsWith(antenna({ resonanceHz: 0.93 * DIPOLE.resonanceHz }));
    expectWithin(live.loadSiemens, built.conductanceSiemens, 1e-15, "rounding");
    expectWithin(live.loadSusceptanceSiemens, built.susceptanceSiemens, 1e-15, "rounding");
  });

  it("leaves the load untouched at rest", () => {
    const parts = partsWith(antenna());
    const live = liveAtRest(parts);
    moveLoad(parts, { resonanceRatio: 1, feedPointConnected: true }, live);
    expect(live).toEqual(liveAtRest(parts));
  });

  it("is an open line behind a broken feed point: almost all of the power comes back", () => {
    const parts = partsWith(antenna());
    const live = liveAtRest(parts);
    moveLoad(parts, { resonanceRatio: 1, feedPointConnected: false }, live);
    const g = live.loadSiemens * 50;
    const b = live.loadSusceptanceSiemens * 50;
    const square = ((1 - g) ** 2 + b * b) / ((1 + g) ** 2 + b * b);
    // 2.39 dB per 100 m at 14 MHz (typical figures of the 10 mm cable): 23 m there and back is 1.1 dB
    expectWithin(-10 * Math.log10(square), 1.1, 0.03, "half a unit of the last printed digit");
  });

  it("is a series reactance on a plain load: SWR 1 becomes about 2 when the resonance moves 3 %", () => {
    const parts = partsWith({
      kind: "admittance",
      conductanceSiemens: 0.02,
      susceptanceSiemens: 0,
    });
    const live = liveAtRest(parts);
    moveLoad(parts, { resonanceRatio: 0.97, feedPointConnected: true }, live);
    const g = live.loadSiemens * 50;
    const b = live.loadSusceptanceSiemens * 50;
    const rho = Math.sqrt(((1 - g) ** 2 + b * b) / ((1 + g) ** 2 + b * b));
    // SWR 2 at X/R = 0.707; 12 (1/0.97 - 0.97) = 0.731
    expectWithin((1 + rho) / (1 - rho), 2, 0.06, "0.731 for 0.707");
  });

  it("has no SWR knob: the bench says what to do instead", () => {
    const project = defaultProject([{ atS: 0, do: "set", control: "loadSwr", value: 2 }]);
    const bench = benchOf({ ...project, station: { ...project.station, load: antenna() } });
    bench.advanceTo(1e6);
    const said = bench.events.flatMap((e) => (e.kind === "command" ? [e.refused] : []));
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/plain load/);
  });
});
