/** Settings that a trial speaks for, set on the bench by the press of a button and never by themselves. */
import { useState } from "react";
import { tellMonitors } from "../../../state/tellMonitors";
import type { Application } from "../../../study/trials/windowPaths";
import { useBench } from "../bench/benchContext";
import { plainWords } from "./settingWords";

export function ApplyButton({
  application,
  word,
}: {
  readonly application: Application;
  readonly word: string;
}) {
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
      <button type="button" className="button" disabled={changes.length === 0} onClick={apply}>
        {word}
      </button>
      <span className="note" role="status">
        {said}
      </span>
    </>
  );
}
