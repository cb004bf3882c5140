/**
 * What of a protection scheme can fail, and how: every acting monitor, every actuator some monitor commands, what several
 * monitors share, and each sensor that an acting monitor reads. A failed part is silent: a monitor looks at nothing, an
 * actuator does nothing, a sensor goes on reading what it read.
 */
import { FAULTS } from "../../project/faults";
import { SENSOR_PARTS } from "../../project/faults/sensor";
import type { ActuatorName, SensorName } from "../../project/protection";
import type { Command, FaultName, PartName } from "../../project/scenario";
import type { Project } from "../../project/types";
import { sensorsOf } from "../../protection/derived";
import { QUANTITY_WORDS } from "../../protection/quantityWords";

export interface BackupItem {
  /** `monitor lowGain`, `actuator driveInhibit`, `shared outputDetectorLost`, `sensor plateV`. */
  readonly id: string;
  /** What a person calls it. */
  readonly name: string;
  /** What happens to it shortly before the fault; null for what is left out of the project. */
  readonly command: Command | null;
  /** The actuator that no monitor of the project commands any more. */
  readonly unwired: ActuatorName | null;
}

/** Faults of the actuators; the cathode cut-off has none of its own and is left out of every monitor's actions. */
const ACTUATOR_FAULTS: Readonly<Partial<Record<ActuatorName, FaultName>>> = {
  driveInhibit: "driveInhibitFailed",
  transmitReceive: "relayStuck",
  contactor: "contactorWelded",
  crowbar: "crowbarFails",
};

const SHARED = ["outputDetectorLost", "plateShuntLost", "gridShuntLost", "scanStopped"] as const;

/** Everything that can fail in a project, in a fixed order. */
export function backupItems(project: Project): readonly BackupItem[] {
  const acting = project.monitors.filter((m) => m.role === "acting");
  const commanded = new Set(acting.flatMap((m) => m.actions));
  const read = new Set(
    acting.flatMap((m) =>
      [
        ...m.criteria.flatMap((c) => [c, ...c.when]),
        ...m.arming.when,
        ...(m.arming.kind === "onAir" ? [{ quantity: "driveForwardW" as const }] : []),
      ].flatMap(({ quantity }) => sensorsOf(quantity)),
    ),
  );
  const monitors = acting.map(
    ({ id, name }): BackupItem => ({
      id: `monitor ${id}`,
      name,
      command: { do: "configureMonitor", monitor: id, change: { role: "off" } },
      unwired: null,
    }),
  );
  const actuators = (
    ["driveInhibit", "cathodeCutoff", "transmitReceive", "contactor", "crowbar"] as const
  )
    .filter(
      (name) => commanded.has(name) && (name !== "crowbar" || project.actuators.crowbar.fitted),
    )
    .map((name): BackupItem => {
      const fault = ACTUATOR_FAULTS[name];
      return {
        id: `actuator ${name}`,
        name: fault === undefined ? "Cathode cut-off fails" : FAULTS[fault].name,
        command: fault === undefined ? null : placed(fault, "protection"),
        unwired: fault === undefined ? name : null,
      };
    });
  const shared = SHARED.map(
    (fault): BackupItem => ({
      id: `shared ${fault}`,
      name: FAULTS[fault].name,
      command: placed(fault, "protection"),
      unwired: null,
    }),
  );
  const sensors = SENSOR_PARTS.filter((sensor) => read.has(sensor)).map(stuckSensor);
  return [...monitors, ...actuators, ...shared, ...sensors];
}

function stuckSensor(sensor: SensorName & PartName): BackupItem {
  return {
    id: `sensor ${sensor}`,
    name: `${FAULTS.sensorStuck.name}: ${QUANTITY_WORDS[sensor].words}`,
    command: placed("sensorStuck", sensor),
    unwired: null,
  };
}

function placed(fault: FaultName, part: PartName): Command {
  return { do: "placeFault", fault, part, severity: 1 };
}

/** The project with the failed actuators taken out of every monitor's actions. */
export function unwiredProject(project: Project, failed: readonly BackupItem[]): Project {
  const out = failed.flatMap(({ unwired }) => (unwired === null ? [] : [unwired]));
  if (out.length === 0) return project;
  const monitors = project.monitors.map((m) => ({
    ...m,
    actions: m.actions.filter((name) => !out.includes(name)),
  }));
  return { ...project, monitors };
}

/** Nothing failed, then each alone, then, where asked for, every two. */
export function backupSets(
  items: readonly BackupItem[],
  pairs: boolean,
): readonly (readonly BackupItem[])[] {
  const two = items.flatMap((a, i) => items.slice(i + 1).map((b) => [a, b]));
  return [[], ...items.map((item) => [item]), ...(pairs ? two : [])];
}
