/** The signal path: React draws it on events, figures and bars are redrawn at most ten times a second. */
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
  const report = usePlayback((s) => raceAt(s.races, s.playNs));
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
  });
  if (world === null || project === null) return null;
  return (
    <section className="bench-path" aria-label="Signal path">
      <PathDiagram
        view={pathViewOf({ frame: playback.frame, world, project, report })}
        variant={variant}
        onToggleFault={onToggleFault}
        handle={handle}
      />
    </section>
  );
}
