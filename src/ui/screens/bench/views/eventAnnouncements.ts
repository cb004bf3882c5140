/** What is read out as it happens: strike, operate, trip, reset and clearing, nothing else. */
import { FAULTS } from "../../../../project/faults";
import type { MonitorDef } from "../../../../project/types";
import { type ActuatorFailures, NO_FAILURES } from "../../../../protection/actuators/schedule";
import type { BenchEvent } from "../../../../simulation/benchEvent";
import { formatTime } from "../../../../units/format";
import { actionWords, nameOf, type SentenceContext } from "./eventSentences";
import { lowerFirst, PLACE_WORDS } from "./words";

export interface Announcement {
  readonly key: string;
  readonly atNs: number;
  readonly sentence: string;
}

/** The announcements of a list of events, in their order; keys stay the same while the list grows. */
export function announcementsOf(
  events: readonly BenchEvent[],
  monitors: readonly MonitorDef[],
  failures: ActuatorFailures = NO_FAILURES,
): readonly Announcement[] {
  const context: SentenceContext = { monitors, failures };
  let zeroNs: number | null = null;
  return events.flatMap((e, i): readonly Announcement[] => {
    if (e.kind === "strike" || e.kind === "faultZero") zeroNs = e.atNs;
    const sentence = announced(e, zeroNs, context);
    return sentence === "" ? [] : [{ key: `a${i}-${e.atNs}`, atNs: e.atNs, sentence }];
  });
}

function announced(e: BenchEvent, zeroNs: number | null, context: SentenceContext): string {
  const after = zeroNs === null ? "" : ` ${formatTime((e.atNs - zeroNs) / 1e9)} after the fault`;
  if (e.kind === "strike") return `Strike at the ${PLACE_WORDS[e.place]}.`;
  if (e.kind === "faultZero") return e.struck === null ? `${FAULTS[e.fault].name}.` : "";
  if (e.kind === "cleared") return `Fault cleared${after}.`;
  if (e.kind !== "protection") return "";
  const name = nameOf(e.event.monitorId, context);
  switch (e.event.kind) {
    case "operate":
      return e.event.role === "acting" ? `${name} operate${after}.` : "";
    case "trip":
      return `Trip by ${lowerFirst(name)}${after}: ${actionWords(e.event, context)}.`;
    case "reset":
      return `${name} reset.`;
    case "selfReset":
      return `${name} reset by itself.`;
    default:
      return "";
  }
}
