/** Acknowledge, reset and live edits: what a person does to the protection, as one pure step. */
import { acknowledgeProtection, resetProtection } from "../protection/byHand";
import type { Emit } from "../protection/events";
import { configureMonitor } from "../protection/liveEdit";
import type { ProtectionState, ProtectionSystem } from "../protection/protectionState";
import type { Situation } from "../protection/situation";
import type { ProtectionCommand } from "./commands";

export interface ProtectionResult {
  readonly system: ProtectionSystem;
  readonly state: ProtectionState;
  /** In words; empty when it was carried out. */
  readonly refused: string;
}

/** Carries a command out at `ns`, with the sensors as they were last read. */
export function runProtectionCommand(
  system: ProtectionSystem,
  state: ProtectionState,
  command: ProtectionCommand,
  sensedRow: Float64Array,
  ns: number,
  situation: Situation,
  emit: Emit,
): ProtectionResult {
  switch (command.do) {
    case "acknowledge":
      return {
        system,
        state: acknowledgeProtection(system, state, ns, situation, emit),
        refused: "",
      };
    case "reset":
      return {
        system,
        state: resetProtection(system, state, sensedRow, ns, situation, emit),
        refused: "",
      };
    case "configureMonitor": {
      const edit = configureMonitor(system, state, command.monitor, command.change, ns, emit);
      return edit.ok
        ? { system: edit.system, state: edit.state, refused: "" }
        : { system, state, refused: edit.problems.join("; ") };
    }
  }
}
