/** Header: name, what can be opened and looked up, which station this is, and the state of its protection. */
import { useMemo, useRef } from "react";
import { DEMONSTRATIONS, type Demonstration } from "../../../state/demonstrations";
import { isChangedStation } from "../../../state/project";
import { formatNumber } from "../../../units/format";
import { FAULTS_ID } from "../../instruments/controls/FaultList";
import { StateMark } from "../../instruments/state/StateMark";
import type { SheetVariant } from "../../theme/metrics";
import { FileItems, type FileItemsProps, ScreenBar } from "../ScreenBar";
import { useBench, usePlayback, useProjects } from "./benchContext";
import { statusOf } from "./views/status";

export interface BenchBarProps extends FileItemsProps {
  readonly variant: SheetVariant;
  readonly onDemonstration: (demonstration: Demonstration) => void;
  readonly onCopy: () => void;
  readonly onFreeze: () => void;
  readonly onControls: () => void;
  readonly onMonitors: () => void;
  readonly onNotes: () => void;
  readonly onSettings: () => void;
  readonly onFullScreen: () => void;
}

export function BenchBar(props: BenchBarProps) {
  const { variant } = props;
  const controls = { word: "Controls and faults", onPress: props.onControls };
  return (
    <ScreenBar
      variant={variant}
      entries={[
        ...(variant === "projector" ? [controls] : []),
        { word: "Demonstrations", items: <DemonstrationItems {...props} /> },
        { word: "Project", items: <ProjectItems {...props} /> },
        { word: "Set monitors", onPress: props.onMonitors },
        { word: "More", items: <More {...props} /> },
      ]}
    >
      {variant === "phone" && (
        <button type="button" className="bar-button" onClick={toFaults}>
          Faults
        </button>
      )}
      <Where />
      <Standing />
    </ScreenBar>
  );
}

/** On a phone the faults are some sheets down: to their heading, with the focus. */
function toFaults(): void {
  const heading = document.getElementById(FAULTS_ID);
  heading?.scrollIntoView({ block: "start" });
  heading?.focus({ preventScroll: true });
}

function DemonstrationItems({ onDemonstration }: BenchBarProps) {
  return DEMONSTRATIONS.map((d) => (
    <button key={d.name} type="button" onClick={() => onDemonstration(d)}>
      {d.title}
    </button>
  ));
}

function ProjectItems({ onOpen, onSave, onCopy, onFreeze }: BenchBarProps) {
  const { playback } = useBench();
  const canFreeze = usePlayback((s) => s.races.length > 0);
  return (
    <>
      <FileItems onOpen={onOpen} onSave={onSave} />
      <button type="button" onClick={onCopy} disabled={!canFreeze}>
        Copy result as JSON
      </button>
      <button type="button" onClick={onFreeze} disabled={!canFreeze}>
        Frozen event
      </button>
      <button type="button" onClick={playback.restart}>
        Run again from the start
      </button>
    </>
  );
}

function More({ onNotes, onSettings, onFullScreen }: BenchBarProps) {
  return (
    <>
      <button type="button" onClick={onNotes}>
        Model notes
      </button>
      <button type="button" onClick={onSettings}>
        Settings and keys
      </button>
      <button type="button" onClick={onFullScreen}>
        Full screen
      </button>
    </>
  );
}

/** Which station this is; while looking back, the way out of the past instead, in the same place. */
function Where() {
  const { playback } = useBench();
  const mode = usePlayback((s) => s.mode);
  const project = usePlayback((s) => s.project);
  const known = useProjects((s) => s.known);
  const isChanged = useMemo(
    () => project !== null && isChangedStation(project, known),
    [project, known],
  );
  if (project === null) return null;
  if (mode === "back") {
    return (
      <div className="where back">
        <b>Looking back</b>
        <button type="button" className="button" onClick={() => playback.branch()}>
          New run from here
        </button>
      </div>
    );
  }
  return (
    <p className="where">
      {project.title}
      {isChanged && " (changed)"}, {formatNumber(project.station.freqHz / 1e6)}&nbsp;MHz
    </p>
  );
}

/** State of the protection in one mark, and what may be done about it. */
function Standing() {
  const { playback } = useBench();
  const world = usePlayback((s) => s.world);
  const running = usePlayback((s) => s.running);
  const events = usePlayback((s) => s.events);
  const box = useRef<HTMLDivElement | null>(null);
  const reset = useRef<HTMLButtonElement | null>(null);
  if (world === null) return null;
  const status = statusOf(world, events, running);
  return (
    // a button that goes away hands the focus on
    <div className="status" ref={box} tabIndex={-1}>
      <StateMark mark={status.mark} isNew={status.isNew} sizePx={18} />
      <span className="status-words">
        <b>{status.word}</b> {status.note}
        {status.isNew && <span className="new-word">new</span>}
        {status.lockoutWhy !== "" && <small>{status.lockoutWhy}</small>}
      </span>
      {status.canAcknowledge && (
        <button
          type="button"
          className="button"
          onClick={() => {
            playback.act({ do: "acknowledge" });
            (reset.current ?? box.current)?.focus();
          }}
        >
          Acknowledge
        </button>
      )}
      {status.canReset && (
        <button
          type="button"
          className="button"
          ref={reset}
          onClick={() => {
            playback.act({ do: "reset" });
            box.current?.focus();
          }}
        >
          Reset{" "}
          {status.beforeReset !== "" && (
            <small className="reset-warning">{status.beforeReset}</small>
          )}
        </button>
      )}
    </div>
  );
}
