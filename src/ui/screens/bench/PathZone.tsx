/** The signal path: React draws it on events, figures and bars are redrawn at most five times a second. */
import { useRef } from "react";
import { raceAt } from "../../../state/playbackState";
import { PathDiagram } from "../../instruments/path/PathDiagram";
import type { PathHandle } from "../../instruments/path/pathView";
import type { SheetVariant } from "../../theme/metrics";
import { useBench, useFrames, usePlayback } from "./benchContext";
import { pathViewOf } from "./views/pathViewOf";

export interface PathZoneProps {
  readonly variant: SheetVariant;
  readonly onToggleFault: (key: string) => void;
}

export function PathZone({ variant, onToggleFault }: PathZoneProps) {
  const { playback } = useBench();
  const handle = useRef<PathHandle | null>(null);
  const world = usePlayback((s) => s.world);
  const project = usePlayback((s) => s.project);
  // a race that only grows is redrawn by the frames; what changes the drawing itself is in this key
  usePlayback((s) => {
    const report = raceAt(s.races, s.playNs);
    return report === null ? "" : `${report.zero.atNs} ${report.race.arcOutS}`;
  });
  const { races, playNs } = playback.store.getState();
  const report = raceAt(races, playNs);
  useFrames((figures) => {
    const state = playback.store.getState();
    if (!figures || state.world === null || state.project === null) return;
    handle.current?.draw(
      pathViewOf({
        frame: playback.frame,
        world: state.world,
        project: state.project,
        report: raceAt(state.races, state.playNs),
      }),
    );
  }, 5);
  if (world === null || project === null) return null;
  return (
    <div className="bench-path">
      <PathDiagram
        view={pathViewOf({ frame: playback.frame, world, project, report })}
        variant={variant}
        onToggleFault={onToggleFault}
        handle={handle}
      />
    </div>
  );
}
