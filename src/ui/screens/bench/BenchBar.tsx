/** Header: name, what can be opened and looked up, which station this is, and the state of its protection. */
import { useId } from "react";
import { DEMONSTRATIONS, type Demonstration } from "../../../state/demonstrations";
import { formatNumber } from "../../../units/format";
import { StateMark } from "../../instruments/state/StateMark";
import { useBench, usePlayback } from "./benchContext";
import { statusOf } from "./views/status";

export interface BenchBarProps {
  readonly onDemonstration: (demonstration: Demonstration) => void;
  readonly onOpen: () => void;
  readonly onSave: () => void;
  readonly onCopy: () => void;
  readonly onFreeze: () => void;
  readonly onMonitors: () => void;
  readonly onNotes: () => void;
  readonly onSettings: () => void;
  readonly onFullScreen: () => void;
}

export function BenchBar(props: BenchBarProps) {
  const { playback } = useBench();
  const world = usePlayback((s) => s.world);
  const project = usePlayback((s) => s.project);
  const running = usePlayback((s) => s.running);
  const events = usePlayback((s) => s.events);
  const canFreeze = usePlayback((s) => s.races.length > 0);
  const status = world === null ? null : statusOf(world, events, running);
  return (
    <header className="bar">
      <h1 className="wordmark">
        <img src="./favicon.svg" alt="" width="22" height="22" />
        Quietarc
      </h1>
      <nav aria-label="Screens and files">
        <ul>
          <li>
            <a href="./" aria-current="page">
              Bench
            </a>
          </li>
          <li>
            <Menu word="Demonstrations">
              {DEMONSTRATIONS.map((d) => (
                <button key={d.name} type="button" onClick={() => props.onDemonstration(d)}>
                  {d.title}
                </button>
              ))}
            </Menu>
          </li>
          <li>
            <Menu word="Project">
              <button type="button" onClick={props.onOpen}>
                Open project…
              </button>
              <button type="button" onClick={props.onSave}>
                Save project
              </button>
              <button type="button" onClick={props.onCopy} disabled={!canFreeze}>
                Copy result as JSON
              </button>
              <button type="button" onClick={props.onFreeze} disabled={!canFreeze}>
                Frozen event
              </button>
              <button type="button" onClick={playback.restart}>
                Run again from the start
              </button>
            </Menu>
          </li>
          <li>
            <button type="button" className="bar-button" onClick={props.onMonitors}>
              Monitors
            </button>
          </li>
          <li>
            <Menu word="More">
              <button type="button" onClick={props.onNotes}>
                Model notes
              </button>
              <button type="button" onClick={props.onSettings}>
                Settings and keys
              </button>
              <button type="button" onClick={props.onFullScreen}>
                Full screen
              </button>
            </Menu>
          </li>
        </ul>
      </nav>
      {project !== null && (
        <p className="where">
          {project.title}, {formatNumber(project.station.freqHz / 1e6)}&nbsp;MHz
        </p>
      )}
      {status !== null && (
        <div className="status">
          <StateMark mark={status.mark} isNew={status.isNew} sizePx={18} />
          <span>
            <b>{status.word}</b> {status.note}
          </span>
          {status.canAcknowledge && (
            <button
              type="button"
              className="button"
              onClick={() => playback.act({ do: "acknowledge" })}
            >
              Acknowledge
            </button>
          )}
          {status.canReset && (
            <button type="button" className="button" onClick={() => playback.act({ do: "reset" })}>
              Reset
            </button>
          )}
        </div>
      )}
    </header>
  );
}

/** A native disclosure that closes when something in it was chosen, on Escape and when focus leaves it. */
function Menu({ word, children }: { readonly word: string; readonly children: React.ReactNode }) {
  const id = useId();
  return (
    <details
      className="menu"
      id={id}
      onClick={(event) => {
        const target = event.target as HTMLElement;
        if (target.closest(".menu-list button") !== null) event.currentTarget.open = false;
      }}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !event.currentTarget.open) return;
        event.currentTarget.open = false;
        event.currentTarget.querySelector("summary")?.focus();
        event.stopPropagation();
      }}
      onBlur={(event) => {
        if (event.relatedTarget === null) return;
        if (!event.currentTarget.contains(event.relatedTarget)) event.currentTarget.open = false;
      }}
    >
      <summary className="bar-button">{word}</summary>
      <div className="menu-list">{children}</div>
    </details>
  );
}
