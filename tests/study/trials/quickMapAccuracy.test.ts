/** A map of settled states against the settled solver it is made of, at drives and voltages between its own. */
import { describe, expect, it } from "vitest";
import { emptyCircuit, type StageCircuit } from "../../../src/physics/stage/circuit";
import { coldStart, SETTLED } from "../../../src/physics/stage/coldStart";
import { ARC_COUNT, STATE_LENGTH } from "../../../src/physics/stage/layout";
import { READING, READING_COUNT, readStage } from "../../../src/physics/stage/readings";
import { StageSolver } from "../../../src/physics/stage/stageSolver";
import {
  applyStation,
  driveSourceA,
  liveAtRest,
  resolveStation,
  type StationParts,
} from "../../../src/physics/stage/stationCircuit";
import { defaultProject } from "../../../src/project/defaults";
import { fixCircuit } from "../../../src/simulation/worldStart";
import { MAP, MAP_CHANNELS, QuickMap } from "../../../src/study/trials/quickMap";

const project = defaultProject([]);
const NO_LOAD_V = 3200;
const FULL_DRIVE_W = 62;
/** From a deep sag to mains 5 % high, in shares of the voltage at no load. */
const [LOW_SHARE, HIGH_SHARE] = [0.75, 1.05];
const GOLDEN = 0.6180339887;
const POINTS = 120;

function partsOf(): StationParts {
  const resolved = resolveStation(project.station);
  if (!resolved.ok) throw new Error(resolved.problem);
  return resolved.parts;
}

function keyedCircuit(parts: StationParts): StageCircuit {
  const c = emptyCircuit();
  fixCircuit(project, c);
  applyStation(parts, liveAtRest(parts), c);
  return c;
}

describe("a map of settled states", () => {
  it("reads gain within 0.02 dB above 8 W, and all else within 0.2 % of full scale, of the solver", () => {
    const parts = partsOf();
    const map = new QuickMap(keyedCircuit(parts), NO_LOAD_V, (w) => driveSourceA(parts, w));
    const c = keyedCircuit(parts);
    c.stiffSupply = true;
    const solver = new StageSolver();
    const y = new Float64Array(STATE_LENGTH);
    const row = new Float64Array(READING_COUNT);
    const read = new Float64Array(MAP_CHANNELS);
    const nothingStrikes = new Float64Array(ARC_COUNT).fill(Infinity);
    const worst: Record<string, number> = {};
    const { sensors } = project;
    const gap = (name: string, of: number): void => {
      worst[name] = Math.max(worst[name] ?? 0, Math.abs(of));
    };
    for (let i = 0; i < POINTS; i++) {
      // spread evenly over drive amplitude and voltage, on no line of the map
      const u = ((i + 0.5) / POINTS) * Math.sqrt(FULL_DRIVE_W);
      const v = NO_LOAD_V * (LOW_SHARE + (HIGH_SHARE - LOW_SHARE) * ((i * GOLDEN) % 1));
      expect(map.read(u, v, nothingStrikes, read)).toBe(true);
      c.noLoadV = v;
      c.sourceA = driveSourceA(parts, u * u);
      expect(coldStart(solver, c, y, -1)).toBeLessThan(SETTLED);
      readStage(c, solver.system, y, c.sourceA, row);
      const value = (reading: number): number => row[reading] as number;
      const forward = read[MAP.rootForward] as number;
      if (u * u > 8) gap("gainDb", 20 * Math.log10(forward / Math.sqrt(value(READING.forwardW))));
      gap(
        "outputForwardW",
        (forward * forward - value(READING.forwardW)) / sensors.outputForwardW.fullScale,
      );
      for (const name of ["plateCurrentA", "gridCurrentA", "plateRfPeakV"] as const) {
        gap(name, ((read[MAP[name]] as number) - value(READING[name])) / sensors[name].fullScale);
      }
      const back = read[MAP.rootDriveReflected] as number;
      const backGapW = back * back - value(READING.driveReflectedW);
      gap("driveReflectedW", backGapW / sensors.driveReflectedW.fullScale);
      const heatGapW = (read[MAP.plateDissipationW] as number) - value(READING.plateDissipationW);
      gap("plateDissipationW", heatGapW / project.station.ratings.plateDissipationW);
    }
    const { gainDb, ...others } = worst;
    expect(gainDb).toBeLessThan(0.02);
    for (const [name, share] of Object.entries(others)) expect(share, name).toBeLessThan(0.002);
  });
});
