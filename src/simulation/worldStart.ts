/** A world at t = 0: supply settled at no load, heaters warm, interlocks closed, everything cold. */
import type { StageCircuit } from "../physics/stage/circuit";
import { initialState } from "../physics/stage/coldStart";
import { STATE_LENGTH, VC } from "../physics/stage/layout";
import { READING } from "../physics/stage/readings";
import type { StationParts } from "../physics/stage/stationCircuit";
import type { Project } from "../project/types";
import { smoothingsOf } from "../protection/interpreter/program";
import { compileProtection, type ProtectionSystem } from "../protection/protectionState";
import { createSensing, SENSOR_NAMES, type Sensing } from "../protection/sensing/sensing";
import type { Damage } from "./damage";
import { expectedForwardGain } from "./expectedGain";
import { expectedGainFrom } from "./gainTable";
import { CLEAR_AT, ROW_AT, SENSING_AT, STAGE_AT } from "./worldLayout";

/** The sensors of a project, with the smoothed copies its monitors read. */
export function sensingOf(project: Project): Sensing {
  return createSensing(
    { sensors: project.sensors, sampleNs: project.sampleNs },
    smoothingsOf(project.monitors),
    Math.max(project.monitors.filter((m) => m.path === "comparator").length, 1),
  );
}

/** What of a circuit never changes while a project runs. */
export function fixCircuit(project: Project, c: StageCircuit): void {
  c.arcTimeConstantS.fill(project.station.erosion.arcTimeConstantS);
  c.tapFraction = project.station.bandSwitch.tapFraction;
  c.cutoffSiemens = 1 / project.actuators.cathodeCutoff.resistorOhm;
  c.returnF = project.actuators.cathodeCutoff.bypassF;
}

/** Fills the buffer for a circuit at rest. */
export function startBuffer(
  buffer: Float64Array,
  project: Project,
  c: StageCircuit,
  sensing: Sensing,
  damage: Damage,
): void {
  initialState(c, buffer.subarray(STAGE_AT, STAGE_AT + STATE_LENGTH));
  const filterV = buffer[STAGE_AT + VC] as number;
  sensing.init(buffer, SENSING_AT, project.seed);
  // the supply has been up for long: its divider reads what is there
  buffer[SENSING_AT + SENSOR_NAMES.indexOf("plateV")] = filterV;
  damage.init(buffer);
  buffer[SENSING_AT + SENSOR_NAMES.indexOf("exhaustAirK")] = damage.exhaustAirK(buffer);
  buffer[CLEAR_AT] = -1;
  buffer[ROW_AT + READING.plateV] = filterV;
  buffer[ROW_AT + READING.filterV] = filterV;
}

/** The monitors of a project as programs over this sensing. */
export function protectionOf(
  project: Project,
  parts: StationParts,
  sensing: Sensing,
): ProtectionSystem {
  const expected = expectedForwardGain(parts);
  return compileProtection(project.monitors, {
    sampleNs: project.sampleNs,
    rowIndex: (sensor, smoothingS) => sensing.rowIndex(sensor, smoothingS),
    expectedForwardGainDb: expectedGainFrom(expected),
    gainKnownToW: expected.knownToW,
  });
}
