/** Why a monitor could not see: a sensor of its own is open, stuck or has drifted, or nobody evaluates it. */
import { FAULTS } from "../../../../project/faults";
import { sensorsHitBy } from "../../../../project/faults/sensor";
import type { MonitorDef, QuantityName, SensorName } from "../../../../project/protection";
import type { Command } from "../../../../project/scenario";
import { sensorsOf } from "../../../../protection/derived";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { PART_WORDS } from "./words";

type Placing = Extract<Command, { do: "placeFault" }>;

/** Faults placed and not removed again by `untilNs`. */
function placedBy(events: readonly BenchEvent[], untilNs: number): readonly Placing[] {
  const placed = new Map<string, Placing>();
  for (const e of events) {
    if (e.atNs > untilNs) break;
    if (e.kind !== "command" || e.refused !== "") continue;
    const { command } = e;
    if (command.do === "placeFault") placed.set(`${command.fault}@${command.part}`, command);
    else if (command.do === "removeFault") placed.delete(`${command.fault}@${command.part}`);
  }
  return [...placed.values()];
}

/** The sensors a monitor needs: of its first criterion, of what that asks beside, and of its arming. */
function needs({ path, criteria, arming }: MonitorDef): readonly SensorName[] {
  if (path === "comparator") return [];
  const asked: QuantityName[] = arming.kind === "onAir" ? ["driveForwardW"] : [];
  const first = criteria[0];
  if (first !== undefined) asked.unshift(first.quantity, ...first.when.map((w) => w.quantity));
  asked.push(...arming.when.map((w) => w.quantity));
  return [...new Set(asked.flatMap(sensorsOf))];
}

/** In words what blinded a monitor at an instant; empty where nothing did. */
export function blindWords(
  def: MonitorDef,
  events: readonly BenchEvent[],
  untilNs: number,
): string {
  const placed = placedBy(events, untilNs);
  const isTapped = def.path === "comparator";
  if (!isTapped && placed.some((f) => f.fault === "scanStopped"))
    return "its scan has stopped: nobody evaluates it";
  if (isTapped)
    return placed.some((f) => f.fault === "plateShuntLost")
      ? "its plate current shunt is lost"
      : "";
  for (const sensor of needs(def)) {
    const f = placed.find((p) => sensorsHitBy(p.fault, p.part).includes(sensor));
    if (f !== undefined) return `its ${lostWords(f, sensor)}`;
  }
  return "";
}

function lostWords({ fault, part, severity, onset }: Placing, sensor: SensorName): string {
  const name = `${PART_WORDS[sensor]} sensor`;
  const how = onset ?? FAULTS[fault].usualOnset;
  const atTimes = how?.kind === "intermittent" ? " at times" : "";
  if (fault === "sensorOpen") return `${name} is open${atTimes}`;
  if (fault === "sensorStuck") return `${name} is stuck`;
  if (fault === "sensorDrifts") {
    const percent = Math.round(Math.abs(severity) * 100);
    const grows = how?.kind === "growing" ? "drifts towards" : "is";
    return `${name} ${grows} ${percent} % too ${severity < 0 ? "low" : "high"}`;
  }
  return part === "protection" && fault === "outputDetectorLost"
    ? `output detector is lost${atTimes}`
    : `${PART_WORDS[sensor]} shunt is lost${atTimes}`;
}
