/**
 * What faults of the protection do to readings, to the comparator's tap and to the scan at an instant. Pure reading of the
 * logic; a stuck reading's value is the reading itself, which the world keeps.
 */
import { sensorsHitBy } from "../project/faults/sensor";
import { SENSOR_NAMES, type SensorFaults } from "../protection/sensing/sensing";
import type { Logic } from "./logic";
import { presenceUntil } from "./presence";

/** Room for the faults of all sensors. */
export function healthySensors(): SensorFaults {
  return {
    share: new Float64Array(SENSOR_NAMES.length).fill(1),
    stuck: new Uint8Array(SENSOR_NAMES.length),
  };
}

/** Fills `into` for the sample that ends at `ns`; null where every sensor is healthy. */
export function sensorFaultsAt(logic: Logic, ns: number, into: SensorFaults): SensorFaults | null {
  let isAny = false;
  for (const f of logic.faults) {
    const hit = sensorsHitBy(f.fault, f.part);
    const there = hit.length === 0 ? 0 : presenceUntil(f, ns);
    if (there === 0) continue;
    if (!isAny) {
      into.share.fill(1);
      into.stuck.fill(0);
    }
    isAny = true;
    for (const sensor of hit) {
      const i = SENSOR_NAMES.indexOf(sensor);
      if (f.fault === "sensorStuck") into.stuck[i] = 1;
      else if (f.fault === "sensorDrifts")
        into.share[i] = (into.share[i] as number) * (1 + f.severity * there);
      else into.share[i] = 0;
    }
  }
  return isAny ? into : null;
}

/** Share of the shunt's current that the comparator's tap sees in a piece that begins at `fromNs`. */
export function tapShareAt(logic: Logic, fromNs: number): number {
  for (const f of logic.faults) {
    if (f.fault === "plateShuntLost" && presenceUntil(f, fromNs + 1) > 0) return 0;
  }
  return 1;
}

/** Whether scanned monitors are evaluated at all. */
export function isScanning(logic: Logic, ns: number): boolean {
  for (const f of logic.faults) {
    if (f.fault === "scanStopped" && presenceUntil(f, ns) > 0) return false;
  }
  return true;
}
