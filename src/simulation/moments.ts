/**
 * Switches and monitors at the instants inside one sample at which they changed: the numbers of a sample
 * belong to its end, but a key, an arc or a comparator moves at its own nanosecond. What changes at the
 * sample's end is not among them. Nearly every sample has none.
 */
import type { ProtectionState, ProtectionSystem } from "../protection/protectionState";
import type { Logic } from "./logic";

/** The parts of a world that are not numbers. */
export interface Standing {
  readonly logic: Logic;
  readonly system: ProtectionSystem;
  readonly protection: ProtectionState;
}

interface Moment extends Standing {
  readonly atNs: number;
}

export class Moments {
  private readonly list: Moment[] = [];

  clear(): void {
    // nearly always empty already, and setting a length is slow
    if (this.list.length > 0) this.list.length = 0;
  }

  /** Takes down how things stand from `atNs` on, if that differs from how they stood before. */
  note(atNs: number, before: Standing, { logic, system, protection }: Standing): void {
    const { length } = this.list;
    const last = length === 0 ? before : (this.list[length - 1] as Moment);
    const isSame = last.logic === logic && last.system === system && last.protection === protection;
    if (!isSame) this.list.push({ atNs, logic, system, protection });
  }

  /** How things stood at `ns`; null where nothing had changed yet since the sample's start. */
  at(ns: number): Standing | null {
    for (let i = this.list.length - 1; i >= 0; i--) {
      const moment = this.list[i] as Moment;
      if (moment.atNs <= ns) return moment;
    }
    return null;
  }
}
