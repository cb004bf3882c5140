/**
 * The race of one fault: how far protection had come and how far the metal had come, from the fault's time
 * zero. Pure: events of the protected run and of the unprotected twin in, lanes, clocks and margins out.
 * Screen, command line and trials all read this.
 *
 * Pickup and operate times are read in the twin, so that a slower monitor does not read null only because
 * the first one cleared. Seconds from time zero throughout; null for what does not happen.
 */
import { CLOCK_PARTS } from "../physics/heat/clocks";
import type { Actuators, MonitorDef, MonitorRole, QuantityName } from "../project/protection";
import type { ArcPlace } from "../project/station";
import { type ActuatorFailures, actuatorSteps } from "../protection/actuators/schedule";
import type { ExpectedForwardGainDb } from "../protection/derived";
import type { BenchEvent, DamagePart, Milestone } from "./benchEvent";
import type { Burst } from "./burst";
import { CH, CHANNEL_COUNT, clockChannel } from "./channels";
import type { FaultZero } from "./logic";
import { excursion } from "./quantityOf";
import type { EdgeVariant } from "./worldLayout";

export interface MonitorLane {
  readonly id: string;
  readonly name: string;
  readonly deviceNumber: string;
  readonly role: MonitorRole;
  /** Criterion that operated, or else the first. */
  readonly criterion: number;
  readonly quantity: QuantityName;
  readonly pickupLevel: number;
  readonly pickupS: number | null;
  readonly operateS: number | null;
  readonly alarmS: number | null;
  /** In the protected run: the trip it gave; null where it did not trip. */
  readonly tripS: number | null;
  readonly firstUp: boolean;
  /** Its operate time and its own actuators. */
  readonly clearingS: number | null;
  readonly scanS: number;
  readonly smoothingS: number;
  /** What its quantity did in the unprotected run: before, and furthest towards the pickup. */
  readonly beforeValue: number | null;
  readonly furthestValue: number | null;
}

export interface DamageLane {
  readonly part: DamagePart;
  readonly struck: boolean;
  /** Onset of melting for an edge, damage for a clock, in the protected run. */
  readonly onsetS: number | null;
  readonly onsetUnprotectedS: number | null;
  readonly onsetUnprotectedEarlyS: number | null;
  readonly onsetUnprotectedLateS: number | null;
  /** Later marks of a struck edge in the unprotected run, nominal estimate. */
  readonly halfMilligramS: number | null;
  readonly beadS: number | null;
  readonly bridgedS: number | null;
  /** Greatest fraction of the way to damage in the protected run so far; 0 where the record holds no channel of it. */
  readonly greatestFraction: number;
}

export interface ActuatorMark {
  readonly actuator: string;
  readonly atS: number;
  readonly effect: "acted" | "failed";
}

export interface Race {
  readonly zero: FaultZero;
  readonly monitors: readonly MonitorLane[];
  readonly damage: readonly DamageLane[];
  readonly actuators: readonly ActuatorMark[];
  /** Monitor that tripped first in the protected run. */
  readonly firstTrip: { readonly id: string; readonly name: string; readonly atS: number } | null;
  readonly clearingS: number | null;
  readonly arcOutS: number | null;
  readonly margin: number | null;
  readonly marginEarly: number | null;
  /** Time to 0.5 mg molten over clearing. */
  readonly marginHalfMilligram: number | null;
  readonly arcEnergyJ: number;
}

export interface RaceInput {
  readonly zero: FaultZero;
  readonly monitors: readonly MonitorDef[];
  readonly actuators: Actuators;
  readonly failures: ActuatorFailures;
  readonly expectedForwardGainDb: ExpectedForwardGainDb;
  readonly protectedEvents: readonly BenchEvent[];
  readonly twinEvents: readonly BenchEvent[];
  readonly twinTrack: Burst | null;
  readonly protectedTrack: Burst | null;
  /** What an arc that still burns at the end of the protected run has taken so far. */
  readonly burningJ: number;
  /** Instant of the next fault in the protected run; what comes after is not this race's. */
  readonly untilNs: number;
}

const EDGE_PLACES: readonly ArcPlace[] = [
  "tuningCapacitor",
  "coilTap",
  "loadingCapacitor",
  "beyondCoupler",
];

/** Works out one race. */
export function raceOf(input: RaceInput): Race {
  const { zero, untilNs } = input;
  const mine = (e: BenchEvent): boolean => e.atNs >= zero.atNs && e.atNs < untilNs;
  const ours = input.protectedEvents.filter(mine);
  // the twin has its own end; a second strike in the protected run takes nothing from it
  const twins = input.twinEvents.filter((e) => e.atNs >= zero.atNs);
  const s = (ns: number): number => (ns - zero.atNs) / 1e9;

  const cleared = ours.find((e) => e.kind === "cleared");
  const clearingS = cleared === undefined ? null : s(cleared.atNs);
  const trip = ours.find((e) => e.kind === "protection" && e.event.kind === "trip");
  const tripId = trip?.kind === "protection" ? trip.event.monitorId : null;
  const firstTrip =
    trip === undefined || tripId === null
      ? null
      : {
          id: tripId,
          name: input.monitors.find((m) => m.id === tripId)?.name ?? tripId,
          atS: s(trip.atNs),
        };
  const observedChainS =
    firstTrip !== null && clearingS !== null ? Math.max(clearingS - firstTrip.atS, 0) : null;
  const firstDef = input.monitors.find((m) => m.id === tripId);

  const monitors = input.monitors.map((def): MonitorLane => {
    const life = lifeOf(def, twins, s);
    const tripped = ours.find(
      (e) => e.kind === "protection" && e.event.kind === "trip" && e.event.monitorId === def.id,
    );
    const criterion = def.criteria[life.criterion] ?? def.criteria[0];
    const sameChain =
      observedChainS !== null &&
      firstDef !== undefined &&
      def.actions.join() === firstDef.actions.join();
    const chainS = sameChain ? observedChainS : chainOf(def, input.actuators, input.failures);
    const values =
      criterion === undefined
        ? { before: null, furthest: null }
        : excursion(
            input.twinTrack,
            criterion.quantity,
            criterion.side === "over",
            input.expectedForwardGainDb,
          );
    return {
      id: def.id,
      name: def.name,
      deviceNumber: def.deviceNumber,
      role: def.role,
      criterion: life.criterion,
      quantity: criterion?.quantity ?? "plateCurrentA",
      pickupLevel: criterion?.pickup ?? Number.NaN,
      pickupS: life.pickupS,
      operateS: life.operateS,
      alarmS: life.alarmS,
      tripS: tripped === undefined ? null : s(tripped.atNs),
      firstUp: tripped?.kind === "protection" && tripped.event.firstUp,
      clearingS: life.operateS === null || chainS === null ? null : life.operateS + chainS,
      scanS: def.scanS,
      smoothingS: def.smoothingS,
      beforeValue: values.before,
      furthestValue: values.furthest,
    };
  });

  const damage = damageLanes(input, ours, twins, s);
  const struck = damage.find((d) => d.struck);
  const over = (onsetS: number | null | undefined): number | null =>
    onsetS === null || onsetS === undefined || clearingS === null || clearingS <= 0
      ? null
      : onsetS / clearingS;
  const out = ours.find((e) => e.kind === "arcOut" && e.place === zero.struck);
  return {
    zero,
    monitors,
    damage,
    actuators: ours.flatMap((e) =>
      e.kind === "actuator" && e.effect !== "released"
        ? [{ actuator: e.actuator, atS: s(e.atNs), effect: e.effect }]
        : [],
    ),
    firstTrip,
    clearingS,
    arcOutS: out === undefined ? null : s(out.atNs),
    margin: over(struck?.onsetUnprotectedS),
    marginEarly: over(struck?.onsetUnprotectedEarlyS),
    marginHalfMilligram: over(struck?.halfMilligramS),
    arcEnergyJ: ours.reduce(
      (sum, e) => (e.kind === "arcOut" ? sum + e.energyJ : sum),
      input.burningJ,
    ),
  };
}

interface Life {
  readonly criterion: number;
  readonly pickupS: number | null;
  readonly operateS: number | null;
  readonly alarmS: number | null;
}

/** First operation after time zero with the pickup that led to it; without one, the first pickup. */
function lifeOf(def: MonitorDef, events: readonly BenchEvent[], s: (ns: number) => number): Life {
  let pickupNs: number | null = null;
  let firstPickupNs: number | null = null;
  let alarmNs: number | null = null;
  for (const e of events) {
    if (e.kind !== "protection" || e.event.monitorId !== def.id) continue;
    if (e.event.kind === "pickup") {
      pickupNs ??= e.atNs;
      firstPickupNs ??= e.atNs;
    } else if (e.event.kind === "dropOff") pickupNs = null;
    else if (e.event.kind === "alarm") alarmNs ??= e.atNs;
    else if (e.event.kind === "operate") {
      const from = pickupNs ?? e.atNs;
      return {
        criterion: Math.max(e.event.criterion, 0),
        pickupS: s(from),
        operateS: s(e.atNs),
        alarmS: alarmNs === null ? null : s(alarmNs),
      };
    }
  }
  return {
    criterion: 0,
    pickupS: firstPickupNs === null ? null : s(firstPickupNs),
    operateS: null,
    alarmS: alarmNs === null ? null : s(alarmNs),
  };
}

/** From a monitor's operation to the first of its actuators that ends the fault; null when none works. */
function chainOf(def: MonitorDef, actuators: Actuators, failures: ActuatorFailures): number | null {
  let first: number | null = null;
  for (const step of actuatorSteps(def.actions, actuators, failures)) {
    if (!step.works || step.actuator === "transmitReceive") continue;
    if (first === null || step.delayNs < first) first = step.delayNs;
  }
  return first === null ? null : first / 1e9;
}

function damageLanes(
  input: RaceInput,
  ours: readonly BenchEvent[],
  twins: readonly BenchEvent[],
  s: (ns: number) => number,
): readonly DamageLane[] {
  const at = (
    events: readonly BenchEvent[],
    part: DamagePart,
    milestone: Milestone,
    edge: EdgeVariant,
  ): number | null => {
    const found = events.find(
      (e) =>
        e.kind === "milestone" && e.part === part && e.milestone === milestone && e.edge === edge,
    );
    return found === undefined ? null : s(found.atNs);
  };
  const burned = new Set<DamagePart>();
  for (const e of [...ours, ...twins]) if (e.kind === "strike") burned.add(e.place);
  if (input.zero.struck !== null) burned.add(input.zero.struck);
  const edges = EDGE_PLACES.filter((place) => burned.has(place)).map((part): DamageLane => {
    const struck = part === input.zero.struck;
    return {
      part,
      struck,
      onsetS: at(ours, part, "meltOnset", "nominal"),
      onsetUnprotectedS: at(twins, part, "meltOnset", "nominal"),
      onsetUnprotectedEarlyS: at(twins, part, "meltOnset", "early"),
      onsetUnprotectedLateS: at(twins, part, "meltOnset", "late"),
      halfMilligramS: at(twins, part, "halfMilligram", "nominal"),
      beadS: at(twins, part, "bead", "nominal"),
      bridgedS: at(twins, part, "bridged", "nominal"),
      greatestFraction: struck ? greatest(input.protectedTrack, CH.edgeFraction) : 0,
    };
  });
  const clocks = CLOCK_PARTS.map((part): DamageLane => {
    const unprotected = at(twins, part, "damage", "nominal");
    return {
      part,
      struck: false,
      onsetS: at(ours, part, "damage", "nominal"),
      onsetUnprotectedS: unprotected,
      // one estimate only: the clocks have no band
      onsetUnprotectedEarlyS: unprotected,
      onsetUnprotectedLateS: unprotected,
      halfMilligramS: null,
      beadS: null,
      bridgedS: null,
      greatestFraction: greatest(input.protectedTrack, clockChannel(part)),
    };
  });
  return [...edges, ...clocks];
}

function greatest(track: Burst | null, channel: number | null): number {
  let most = 0;
  if (track === null || channel === null) return 0;
  for (let k = 0; k < track.count; k++) {
    most = Math.max(most, track.data[k * CHANNEL_COUNT + channel] as number);
  }
  return most;
}
