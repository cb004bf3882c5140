/**
 * Whether a healthy unit would trip in normal use: its steady readings under full carrier, noise left out, against the
 * pickups of the acting monitors. A criterion that stays past its pickup operates in the end, whatever its timing; for a heat
 * image the reading is where the image goes.
 */
import { relativeAirDensity, standardPressurePa } from "../../physics/airgap/airDensity";
import { anodeCooler } from "../../physics/heat/anodeCooler";
import type { Station } from "../../project/station";
import { ARMED, armingAt, settlingSince } from "../../protection/interpreter/arming";
import type { MonitorState } from "../../protection/interpreter/monitorState";
import { conditionsHold } from "../../protection/interpreter/timing";
import type { ProtectionState, ProtectionSystem } from "../../protection/protectionState";
import type { Situation } from "../../protection/situation";

/** Long enough after key-down that every settling time and blanking is over, ns. */
const LATER_NS = 3600e9;

/** Ids of the acting monitors that these steady readings would make trip, in the project's order. */
export function tripsOnSteady(
  { programs }: ProtectionSystem,
  { monitors }: ProtectionState,
  row: Float64Array,
  situation: Situation,
): readonly string[] {
  const ids: string[] = [];
  for (let i = 0; i < programs.length; i++) {
    const program = programs[i] as (typeof programs)[number];
    const state = monitors[i] as MonitorState;
    if (program.def.role !== "acting") continue;
    const past = program.criteria.some((c) => {
      const value = c.read(row);
      const { pickup } = c.operate;
      return (c.over ? value > pickup : value < pickup) && conditionsHold(c.when, row, []);
    });
    if (!past) continue;
    const since = settlingSince(program, state, row, 0, situation);
    const scan = Math.ceil(LATER_NS / program.scanNs);
    if (armingAt(program, state, row, scan, situation, since) === ARMED) ids.push(program.def.id);
  }
  return ids;
}

/** Exhaust air of a station that has dissipated `watts` for long, full airflow. */
export function steadyExhaustK({ site, cooling, ratings }: Station, watts: number): number {
  const inletK = inletAirK({ site, cooling });
  const { airWPerK, fullWPerK } = anodeCooler({
    ...cooling,
    ratedW: ratings.plateDissipationW,
    heatJPerK: cooling.anodeHeatCapacityJPerK,
    inletK,
    relativeDensity: relativeAirDensity(standardPressurePa(site.altitudeM), inletK),
  });
  // never over the anode itself
  return inletK + watts / Math.max(airWPerK, fullWPerK);
}

/** Air that enters the cooler, and that leaves it while everything is cold. */
export function inletAirK({ site, cooling }: Pick<Station, "site" | "cooling">): number {
  return cooling.inletK ?? site.airK;
}
