/** Lines that stand while they matter: cautions, demonstration, problems above the bench; a refusal over the time bar. */
import type { Notice } from "../../../formats/problem";
import type { Demonstration } from "../../../state/demonstrations";
import type { OpenedFile } from "../../../state/project";
import { formatTime } from "../../../units/format";
import { useBench, usePlayback, useProjects, useSettings } from "./benchContext";
import { Cautions } from "./Cautions";

export interface MessagesProps {
  readonly demonstration: Demonstration | null;
  /** Why the address of the page could not be followed; empty when it could. */
  readonly linkWords: string;
  readonly onDismissLink: () => void;
  readonly onDemonstration: (name: string) => void;
  readonly onEndDemonstration: () => void;
}

export function Messages({
  demonstration,
  linkWords,
  onDismissLink,
  onDemonstration,
  onEndDemonstration,
}: MessagesProps) {
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
      {linkWords !== "" && (
        <div className="message problem" role="alert">
          <p>{linkWords}</p>
          <button type="button" className="button" onClick={onDismissLink}>
            Dismiss
          </button>
        </div>
      )}
      {demonstration !== null && (
        <div className="message demonstration">
          <p>
            <b>{sentence(demonstration.title)}</b>{" "}
            {over ? demonstration.after : demonstration.before}
          </p>
          {demonstration.chart !== null && (
            <a className="button" href={demonstration.chart.address}>
              {demonstration.chart.word}
            </a>
          )}
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
      <Opened quiet={demonstration !== null} />
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
          {refusal.way !== undefined && (
            <button type="button" className="button solid" onClick={refusal.way.take}>
              {refusal.way.word}
            </button>
          )}
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

/** What was opened, what it will do, and what was changed on the way. */
function Opened({ quiet }: { readonly quiet: boolean }) {
  const { playback, projects } = useBench();
  const opened = useProjects((s) => s.opened);
  const read = useProjects((s) => s.notices);
  const made = usePlayback((s) => s.notices);
  const notices = [...new Set([...read.map((n) => noticeWords(n)), ...made])];
  const shown = quiet ? null : opened;
  const isShown = shown !== null || notices.length > 0;
  return (
    <div role="status">
      {isShown && (
        <div className="message opened">
          <p>
            {shown !== null && (
              <>
                <b>Opened: {sentence(shown.title)}</b> {scenarioWords(shown)}
              </>
            )}
            {shown === null && <b>Taken with changes.</b>}
          </p>
          <button
            type="button"
            className="button"
            onClick={() => {
              projects.dismissOpened();
              playback.dismissNotices();
            }}
          >
            Dismiss
          </button>
          {notices.length > 0 && (
            <ul>
              {notices.map((words) => (
                <li key={words}>{sentence(words)}</li>
              ))}
            </ul>
          )}
        </div>
      )}
    </div>
  );
}

function noticeWords({ place, message }: Notice): string {
  return place === "" ? message : `${place}: ${message}`;
}

/** What Run will do with a file that was opened. */
export function scenarioWords({ entries, firstS, lastS }: OpenedFile): string {
  if (entries === 0) return "Its scenario is empty: key down, then place a fault.";
  const at = (seconds: number): string => (seconds === 0 ? "0" : formatTime(seconds));
  const span = entries === 1 ? `at ${at(firstS)}` : `from ${at(firstS)} to ${at(lastS)}`;
  return `Its scenario has ${entries} ${entries === 1 ? "entry" : "entries"}, ${span}: Run plays ${entries === 1 ? "it" : "them"}.`;
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
