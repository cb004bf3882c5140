/** Starting, stopping and going on; how far a trial has come. */

import type { TrialKind } from "../../../study/trials/trial";
import { countOf, formatNumber, formatTime } from "../../../units/format";
import { plainWords } from "./settingWords";
import { useTrial, useTrials } from "./trialsContext";

export function RunBar({
  kind,
  onStart,
}: {
  readonly kind: TrialKind;
  readonly onStart: () => void;
}) {
  const trials = useTrials();
  const standing = useTrial(kind, (s) => s.standing);
  const progress = useTrial(kind, (s) => s.progress);
  const problem = useTrial(kind, (s) => s.problem);
  const failures = useTrial(kind, (s) => s.failures);
  const works = standing === "planning" || standing === "running";
  const { done, total, leftS } = progress;
  const [word, press] = works
    ? (["Cancel", trials.cancel] as const)
    : standing === "cancelled"
      ? (["Resume", () => trials.resume(kind)] as const)
      : ([standing === "idle" ? "Start" : "Start again", onStart] as const);
  return (
    <div className="run-bar">
      <div className="run-buttons">
        {/* one button all the time, so that the focus stays on it */}
        <button type="button" className="button solid" onClick={press}>
          {word}
        </button>
        {standing === "cancelled" && (
          <button type="button" className="button" onClick={onStart}>
            Start again
          </button>
        )}
        {!works && standing !== "idle" && (
          <button type="button" className="button" onClick={() => trials.clear(kind)}>
            Clear
          </button>
        )}
      </div>
      {standing !== "idle" && (
        <progress
          aria-label="Cases run"
          max={Math.max(total, 1)}
          value={standing === "planning" ? undefined : done}
        />
      )}
      <p className="run-words" role="status">
        {wordsOf(standing, done, total)}
        {standing === "running" && leftS !== null && `, about ${formatTime(leftS)} left`}
      </p>
      {problem !== "" && (
        <p className="message problem" role="alert">
          {problem}
        </p>
      )}
      {failures.length > 0 && (
        <details>
          <summary>{countOf(failures.length, "case")} could not be run</summary>
          <ul>
            {failures.map((f) => (
              <li key={f.index}>
                {plainWords(f.label)}: {f.words}
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

function wordsOf(standing: string, done: number, total: number): string {
  const of = `${plain(done)} of ${plain(total)}`;
  switch (standing) {
    case "idle":
      return "";
    case "planning":
      return "Cases are being counted.";
    case "running":
      return of;
    case "cancelled":
      return `Partial: ${of}`;
    case "failed":
      return `Stopped after ${of}`;
    default:
      return `Done: ${of}`;
  }
}

function plain(count: number): string {
  return formatNumber(count, Math.max(String(count).length, 1));
}
