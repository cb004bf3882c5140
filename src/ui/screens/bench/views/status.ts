/** State of the station's protection in one mark and a few words, for the header. */

import { FAULTS } from "../../../../project/faults";
import type { ResetRule } from "../../../../project/protection";
import type { ProtectionEvent } from "../../../../protection/events";
import type { WorldView } from "../../../../shells/bench/worldView";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { formatTime } from "../../../../units/format";
import type { MarkName } from "../../../instruments/state/stateWord";

export interface Status {
  readonly mark: MarkName;
  readonly word: string;
  readonly note: string;
  readonly isNew: boolean;
  readonly canAcknowledge: boolean;
  readonly canReset: boolean;
  /** What to do before a reset, because it would trip again; empty where nothing speaks against it. */
  readonly beforeReset: string;
  /** Which rule made a lockout of the trip, and what comes next; empty while nothing is locked out. */
  readonly lockoutWhy: string;
}

/** What weighs most: a lockout, a trip, a pickup, then plain running. */
export function statusOf(
  world: WorldView,
  events: readonly BenchEvent[],
  running: boolean,
): Status {
  const nameOf = (id: string): string => world.settings.find((m) => m.id === id)?.name ?? id;
  const tripped = world.monitors.filter(
    (m) => m.word === "lockout" || m.word === "trip" || m.word === "acknowledged",
  );
  // of the locked out ones, or of the tripped where none is, the one that was first up
  const lockedOut = tripped.filter((m) => m.word === "lockout");
  const weighty = lockedOut.length > 0 ? lockedOut : tripped;
  const leading = weighty.find((m) => m.firstUp) ?? weighty[0];
  if (leading !== undefined) {
    const { zero } = world;
    const trip = events.findLast(
      (e) => e.kind === "protection" && e.event.kind === "trip" && e.event.monitorId === leading.id,
    );
    const since =
      zero === null || trip === undefined || trip.atNs < zero.atNs
        ? ""
        : `, ${formatTime((trip.atNs - zero.atNs) / 1e9)} after ${zero.struck === null ? "the fault" : "the strike"}`;
    const unseen = tripped.some((m) => !m.acknowledged);
    return {
      mark: leading.word,
      word: upper(leading.word),
      note: `${lower(nameOf(leading.id))}${since}`,
      isNew: unseen,
      canAcknowledge: unseen,
      canReset: true,
      beforeReset: beforeReset(world),
      lockoutWhy: leading.word === "lockout" ? lockoutWhy(world, events, leading.id) : "",
    };
  }
  const busy = world.monitors.find((m) => m.word === "pickup" && m.role === "acting");
  const plain = {
    isNew: false,
    canAcknowledge: false,
    canReset: false,
    beforeReset: "",
    lockoutWhy: "",
  };
  if (busy !== undefined) {
    return { mark: "pickup", word: "Pickup", note: lower(nameOf(busy.id)), ...plain };
  }
  const alarm = world.monitors.find((m) => m.word === "alarm" && m.role === "acting");
  if (alarm !== undefined) {
    return { mark: "alarm", word: "Alarm", note: lower(nameOf(alarm.id)), ...plain };
  }
  return { mark: "no pickup", word: running ? "Running" : "Paused", note: "no pickup", ...plain };
}

/** Key down and a cause still there: it would strike again and come to a lockout. */
function beforeReset({ keyDown, faults }: WorldView): string {
  const causes = faults.filter((f) => !FAULTS[f.fault].latent);
  if (causes.length === 0 || !keyDown) return "";
  return "key up first, remove the cause";
}

/** The rule, in the figures of this case, and the way out. */
function lockoutWhy(world: WorldView, events: readonly BenchEvent[], id: string): string {
  const rule = world.settings.find((m) => m.id === id)?.reset;
  const own = events.flatMap((e) =>
    e.kind === "protection" && e.event.monitorId === id ? [e.event] : [],
  );
  const lockout = own.findLast((e) => e.kind === "lockout");
  if (rule === undefined || lockout === undefined) return "";
  // where a reset would trip again, its button says what comes first
  const next = beforeReset(world) === "" ? "; remove the cause, then Reset" : "";
  return ruleWords(rule, lockout, own) + next;
}

function ruleWords(
  { kind, tries, withinS, repeatWithinS }: ResetRule,
  lockout: ProtectionEvent,
  own: readonly ProtectionEvent[],
): string {
  if (kind === "lockout") return "set to lock out at its first trip";
  if (kind === "self" && !lockout.reason.startsWith("second"))
    return `${lockout.reason}${tries === 0 ? "" : ` within ${withinS} s`}: it no longer lets go by itself`;
  const since = lockout.atNs - repeatWithinS * 1e9;
  const trips = own.filter((e) => e.kind === "trip" && e.atNs >= since && e.atNs <= lockout.atNs);
  const spanS = (lockout.atNs - (trips[0]?.atNs ?? lockout.atNs)) / 1e9;
  return `${trips.length} trips in ${formatTime(spanS)}: a repeat inside ${repeatWithinS} s locks out`;
}

/** First letter small, so that RF stays RF. */
function lower(word: string): string {
  return word.charAt(0).toLowerCase() + word.slice(1);
}

function upper(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}
