/** The comparator path: the shunt's fast taps follow each piece of physics and trip between two scans. */
import type { Emit } from "../protection/events";
import type { ProtectionState, ProtectionSystem } from "../protection/protectionState";
import type { Sensing } from "../protection/sensing/sensing";
import type { Situation } from "../protection/situation";
import { operated } from "../protection/supervisor";
import { SENSING_AT } from "./worldLayout";

/**
 * One piece of `dtS` in which the plate current goes from `beforeA` to `afterA`. `moved` is told
 * of every operation in it: the protection from then on, and its own nanosecond.
 */
export function watchComparators(
  system: ProtectionSystem,
  state: ProtectionState,
  sensing: Sensing,
  buffer: Float64Array,
  fromNs: number,
  dtS: number,
  beforeA: number,
  afterA: number,
  situation: () => Situation,
  emit: Emit,
  moved: (protection: ProtectionState, atNs: number) => void,
): void {
  const { comparators } = system;
  let next = state;
  for (let slot = 0; slot < comparators.length; slot++) {
    const { monitorId, pickupA, dropOffA } = comparators[slot] as (typeof comparators)[number];
    const crossed = sensing.advanceComparator(
      buffer,
      SENSING_AT,
      dtS * 1e9,
      beforeA,
      afterA,
      pickupA,
      dropOffA,
      slot,
    );
    if (crossed < 0) continue;
    const atNs = Math.ceil(fromNs + crossed - 1e-6);
    next = operated(system, next, monitorId, atNs, pickupA, situation(), emit);
    moved(next, atNs);
  }
}
