/** Says when results and bench are not of the same project any more; a study's own is put back by one press. */
import type { Project } from "../../../project/types";
import type { TrialKind } from "../../../study/trials/trial";
import { useBench } from "../bench/benchContext";
import { useTrial } from "./trialsContext";

export interface StaleNoteProps {
  readonly kind: TrialKind;
  /** What the bench holds, as it is set. */
  readonly project: Project;
  /** The button is about to go: the focus needs another place. */
  readonly onPutBack: () => void;
}

export function StaleNote(props: StaleNoteProps) {
  const of = useTrial(props.kind, (s) => s.asked?.project ?? null);
  const { projects } = useBench();
  if (of === null) return null;
  if (of.title !== props.project.title) {
    return (
      <>
        <p className="note">
          The results are of {of.title}. The bench holds {props.project.title} now: started again,
          the trial is of that.
        </p>
        <button
          type="button"
          className="button"
          onClick={() => {
            projects.openProject(of, "");
            props.onPutBack();
          }}
        >
          Put {of.title} back on the bench
        </button>
      </>
    );
  }
  const isSame =
    JSON.stringify(of.monitors) === JSON.stringify(props.project.monitors) &&
    of.station === props.project.station;
  if (isSame) return null;
  return (
    <p className="note">
      The results are of {of.title} as it was when the trial was started; it has changed since.
    </p>
  );
}
