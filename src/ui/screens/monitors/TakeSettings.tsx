/** The edited settings for the bench: at once where a running bench can take them, else as a new run; says which before. */
import { useStore } from "zustand";
import { liveChanges } from "../../../state/monitorEdit";
import { settingsAsTold } from "../../../state/playbackState";
import { tellMonitors } from "../../../state/tellMonitors";
import { useBench, usePlayback } from "../bench/benchContext";
import { useEdit } from "./monitorsContext";

export function TakeSettings() {
  const { playback, projects } = useBench();
  const edited = useEdit((s) => s.project);
  const running = useStore(playback.store, (s) => s.project);
  const live = usePlayback(settingsAsTold);
  const started = useStore(playback.store, (s) => s.headNs > 0);
  const isBack = usePlayback((s) => s.mode === "back");
  const changes = running === null ? null : liveChanges(running, live, edited);
  const isThere = changes !== null && changes.length === 0;
  const words = isThere
    ? "The bench has these settings."
    : changes !== null
      ? isBack
        ? "The bench shows the past: go back to live there first."
        : "The bench takes them while it runs."
      : started
        ? "The run on the bench ends; its scenario is kept."
        : "The scenario is kept.";
  const take = (): void => {
    if (changes === null) projects.openEdited(edited);
    else {
      tellMonitors(playback, changes);
    }
    if (changes === null) window.location.hash = "bench";
  };
  return (
    <div className="edit-take">
      <span className="note" id="take-settings-words">
        {words}
      </span>
      <button
        type="button"
        className="button solid"
        disabled={isThere || (changes !== null && isBack)}
        aria-describedby="take-settings-words"
        onClick={take}
      >
        {changes === null ? "Take to the bench as a new run" : "Take to the bench"}
      </button>
    </div>
  );
}
