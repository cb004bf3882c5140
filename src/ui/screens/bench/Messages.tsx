/** Lines that stand above the bench while they matter: cautions, demonstration, problems, refusals, looking back. */
import type { Demonstration } from "../../../state/demonstrations";
import { offsetText } from "../../../state/playbackState";
import { useBench, usePlayback, useProjects, useSettings } from "./benchContext";
import { Cautions } from "./SettingsSheet";

export interface MessagesProps {
  readonly demonstration: Demonstration | null;
  readonly onDemonstration: (name: string) => void;
  readonly onEndDemonstration: () => void;
}

export function Messages({ demonstration, onDemonstration, onEndDemonstration }: MessagesProps) {
  const { playback, settings } = useBench();
  const words = usePlayback((s) => s.words);
  const mode = usePlayback((s) => s.mode);
  const refusal = usePlayback((s) => s.refusal);
  const offset = usePlayback((s) => offsetText(s));
  const over = usePlayback(
    (s) => s.events.some((e) => e.kind === "cleared" || e.kind === "arcOut") || s.headNs > 2.9e9,
  );
  const cautionSeen = useSettings((s) => s.cautionSeen);
  return (
    <div className="messages">
      {!cautionSeen && (
        <div className="message caution" role="note">
          <Cautions />
          <button
            type="button"
            className="button"
            onClick={() => settings.change({ cautionSeen: true })}
          >
            Understood
          </button>
        </div>
      )}
      {words !== "" && (
        <p className="message problem" role="alert">
          {words}
        </p>
      )}
      {demonstration !== null && (
        <div className="message demonstration">
          <p>
            <b>{demonstration.title}.</b> {over ? demonstration.after : demonstration.before}
          </p>
          {demonstration.nextName !== "" && (
            <button
              type="button"
              className="button"
              onClick={() => onDemonstration(demonstration.nextName)}
            >
              Next
            </button>
          )}
          <button type="button" className="button" onClick={onEndDemonstration}>
            End
          </button>
        </div>
      )}
      <Problems />
      {mode === "back" && (
        <div className="message back">
          <p>
            <b>Looking back</b>, {offset}. What is changed here starts a new run.
          </p>
          <button type="button" className="button" onClick={() => playback.branch()}>
            New run from here
          </button>
          <button type="button" className="button" onClick={playback.goLive}>
            Back to live
          </button>
        </div>
      )}
      {refusal !== null && (
        <div className="message refusal" role="status">
          <p>{refusal.text}</p>
          {refusal.command !== null && mode === "back" && (
            <button type="button" className="button" onClick={() => playback.branch()}>
              New run with this change
            </button>
          )}
          <button type="button" className="button" onClick={playback.dismissRefusal}>
            Dismiss
          </button>
        </div>
      )}
    </div>
  );
}

function Problems() {
  const { projects } = useBench();
  const problems = useProjects((s) => s.problems);
  const omitted = useProjects((s) => s.omitted);
  const fileName = useProjects((s) => s.fileName);
  if (problems.length === 0) return null;
  return (
    <div className="message problem" role="alert">
      <p>
        <b>{fileName} was not opened</b>; the bench is as it was.
      </p>
      <ul>
        {problems.map((p) => (
          <li key={`${p.line}:${p.column}:${p.code}:${p.place}`}>
            {p.line > 0 && `Line ${p.line}, column ${p.column}: `}
            {p.message}. {p.remedy}
            {p.excerpt !== "" && <pre>{p.excerpt}</pre>}
          </li>
        ))}
      </ul>
      {omitted > 0 && <p>and {omitted} more</p>}
      <button type="button" className="button" onClick={projects.dismissProblems}>
        Dismiss
      </button>
    </div>
  );
}
