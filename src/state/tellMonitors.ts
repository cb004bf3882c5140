/** Changes of monitors said to a running bench, and what its monitors will be by them. */
import type { Command } from "../project/scenario";
import { changedDefinition } from "../protection/liveEdit";
import type { Playback } from "./playback";
import { settingsAsTold } from "./playbackState";

/** Gives the commands at the instant shown; refused ones stand in the playback's `refusal` and change nothing. */
export function tellMonitors(playback: Playback, commands: readonly Command[]): void {
  for (const command of commands) {
    const before = settingsAsTold(playback.store.getState());
    playback.act(command);
    if (command.do !== "configureMonitor" || playback.store.getState().refusal !== null) continue;
    const monitors = before.map((def) => {
      if (def.id !== command.monitor) return def;
      const changed = changedDefinition(def, command.change);
      return changed.ok ? changed.def : def;
    });
    playback.tell(monitors);
  }
}
