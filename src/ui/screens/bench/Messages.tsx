/** Lines that stand while they matter: cautions, demonstration, problems above the bench; a refusal over the time bar. */
import type { Demonstration } from "../../../state/demonstrations";
import { useBench, usePlayback, useProjects, useSettings } from "./benchContext";
import { Cautions } from "./SettingsSheet";

export interface MessagesProps {
  readonly demonstration: Demonstration | null;
  readonly onDemonstration: (name: string) => void;
  readonly onEndDemonstration: () => void;
}

export function Messages({ demonstration, onDemonstration, onEndDemonstration }: MessagesProps) {
  const { settings } = useBench();
  const words = usePlayback((s) => s.words);
  const over = usePlayback(
    (s) => s.events.some((e) => e.kind === "cleared" || e.kind === "arcOut") || s.headNs > 2.9e9,
  );
  const cautionSeen = useSettings((s) => s.cautionSeen);
  return (
    <section className="messages" aria-label="Messages">
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
            <b>{sentence(demonstration.title)}</b>{" "}
            {over ? demonstration.after : demonstration.before}
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
    </section>
  );
}

/** Why something was not done, over the time bar so that nothing on the sheet moves. */
export function RefusalLine() {
  const { playback } = useBench();
  const mode = usePlayback((s) => s.mode);
  const refusal = usePlayback((s) => s.refusal);
  return (
    <div className="refusal-place" role="status">
      {refusal !== null && (
        <div className="message refusal">
          <p>{refusal.text}</p>
          {refusal.command !== null && mode === "back" && (
            <button type="button" className="button solid" onClick={() => playback.branch()}>
              New run with this change
            </button>
          )}
          {mode === "back" && (
            <button type="button" className="button" onClick={playback.goLive}>
              Back to live
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

function sentence(words: string): string {
  const first = words.charAt(0).toUpperCase();
  return words === "" ? "" : `${first}${words.slice(1)}.`.replace(/([.?!])\.$/, "$1");
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
      <button type="button" className="button" onClick={projects.dismissProblems}>
        Dismiss
      </button>
      <ul>
        {problems.map((p) => (
          <li key={`${p.line}:${p.column}:${p.code}:${p.place}`}>
            {p.line > 0 && `Line ${p.line}, column ${p.column}: `}
            {p.message}. {sentence(p.remedy)}
            {p.excerpt !== "" && <pre>{p.excerpt}</pre>}
          </li>
        ))}
      </ul>
      {omitted > 0 && <p>and {omitted} more</p>}
    </div>
  );
}
