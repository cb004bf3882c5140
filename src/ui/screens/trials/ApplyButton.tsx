/** Settings that a trial speaks for, set on the bench by the press of a button and never by themselves. */
import { useId, useState } from "react";
import { tellMonitors } from "../../../state/tellMonitors";
import type { Application } from "../../../study/trials/windowPaths";
import { useBench } from "../bench/benchContext";
import { plainWords } from "./settingWords";

export interface ApplyButtonProps {
  readonly application: Application;
  readonly word: string;
  /** What should be known before it is pressed; stands beside it. */
  readonly warnings?: readonly string[];
}

export function ApplyButton({ application, word, warnings = [] }: ApplyButtonProps) {
  const id = useId();
  const { playback } = useBench();
  const [said, setSaid] = useState("");
  const { changes, byHand } = application;
  const apply = (): void => {
    tellMonitors(
      playback,
      changes.flatMap(({ atS: _, ...command }) =>
        command.do === "configureMonitor" ? [command] : [],
      ),
    );
    const { refusal } = playback.store.getState();
    setSaid(refusal === null ? "Set on the bench, from the instant shown there on." : refusal.text);
  };
  return (
    <>
      {byHand.map((words) => (
        <p key={words} className="note">
          Cannot be set while it runs: {plainWords(words)}.
        </p>
      ))}
      <Warnings warnings={warnings} id={id} />
      <button
        type="button"
        className="button"
        disabled={changes.length === 0}
        aria-describedby={warnings.length > 0 ? id : undefined}
        onClick={apply}
      >
        {word}
      </button>
      <span className="note" role="status">
        {said}
      </span>
    </>
  );
}

interface WarningsProps {
  readonly warnings: readonly string[];
  readonly id?: string;
}

/** What should be known of the settings before they are set; nothing where there is none. */
export function Warnings({ warnings, id }: WarningsProps) {
  if (warnings.length === 0) return null;
  return (
    <div className="apply-warning" id={id}>
      {warnings.map((words) => (
        <p key={words}>{words}</p>
      ))}
    </div>
  );
}
