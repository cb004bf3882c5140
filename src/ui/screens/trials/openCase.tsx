/** A case taken to the bench, at the moment at which there is something to see. */
import { useState } from "react";
import type { TrialKind } from "../../../study/trials/trial";
import { useBench } from "../bench/benchContext";
import { caseTitle } from "./settingWords";
import { useTrial, useTrials } from "./trialsContext";

export function OpenCase({ kind, index }: { readonly kind: TrialKind; readonly index: number }) {
  const trials = useTrials();
  const { projects } = useBench();
  const ofProject = useTrial(kind, (s) => s.asked?.project.title ?? "");
  const [words, setWords] = useState("");
  const open = async (): Promise<void> => {
    setWords("Looking for the moment.");
    const moment = await trials.openOnBench(kind, index);
    if (moment === null) {
      setWords("There is no moment to show: nothing happens in this case.");
      return;
    }
    setWords("");
    const title = caseTitle(moment.project.title, ofProject);
    projects.openProject({ ...moment.project, title }, "", moment.atNs);
    window.location.hash = "bench";
  };
  return (
    <>
      <button type="button" className="button" onClick={() => void open()}>
        Open on the bench
      </button>
      <span className="note" role="status">
        {words}
      </span>
    </>
  );
}
