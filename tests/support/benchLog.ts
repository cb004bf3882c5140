/** Looking things up in what a bench logged. */
import type { ProtectionEventKind } from "../../src/protection/events";
import type { Bench } from "../../src/simulation/bench";
import type { BenchEvent } from "../../src/simulation/benchEvent";
import { CH, type ChannelName } from "../../src/simulation/channels";

type ProtectionEntry = Extract<BenchEvent, { readonly kind: "protection" }>;

/** Protection's own entries of the kinds asked for. */
export function protectionLog(
  bench: Bench,
  ...kinds: readonly ProtectionEventKind[]
): readonly ProtectionEntry[] {
  return bench.events.filter(
    (e): e is ProtectionEntry => e.kind === "protection" && kinds.includes(e.event.kind),
  );
}

/** Seconds from `fromNs` to the first operation of a monitor; NaN when it does not operate. */
export function operateS(bench: Bench, monitorId: string, fromNs = 0): number {
  const found = protectionLog(bench, "operate").find(
    (e) => e.event.monitorId === monitorId && e.atNs >= fromNs,
  );
  return found === undefined ? Number.NaN : (found.atNs - fromNs) / 1e9;
}

/** Monitors that operated, in order. */
export function operated(bench: Bench): readonly string[] {
  return protectionLog(bench, "operate").map((e) => e.event.monitorId);
}

/** Instants of actuators, in ns, as "driveInhibit acted". */
export function actuatorLog(
  bench: Bench,
): readonly { readonly what: string; readonly atNs: number }[] {
  return bench.events.flatMap((e) =>
    e.kind === "actuator" ? [{ what: `${e.actuator} ${e.effect}`, atNs: e.atNs }] : [],
  );
}

/** Value of a channel at the end of the last sample. */
export function reading(bench: Bench, channel: ChannelName): number {
  return bench.recorder.row[CH[channel]] as number;
}

/** Output over drive in dB at the end of the last sample. */
export function gainNowDb(bench: Bench): number {
  return 10 * Math.log10(reading(bench, "outputW") / reading(bench, "driveW"));
}
