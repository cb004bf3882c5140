/** What the sweep, and the coverage where it was run, advise: settings for what is required, what was made best, what is not reached. */

import { useState } from "react";
import { settingsAsTold } from "../../../state/playbackState";
import { advise, type UnprovedRate } from "../../../study/trials/advice";
import type { CoverageSummary } from "../../../study/trials/coverage";
import type { WindowSummary } from "../../../study/trials/windowSummary";
import { dressDigits, formatApart, formatNumber } from "../../../units/format";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { usePlayback } from "../bench/benchContext";
import { upperFirst } from "../bench/views/words";
import { ApplyButton, Warnings } from "./ApplyButton";
import { NumberField } from "./AskForm";
import { type AskNumber, REQUIRED_MARGIN } from "./asks";
import { plainWords, settingWords, valueWords } from "./settingWords";
import { useTrial } from "./trialsContext";

const RATE: AskNumber = {
  kind: "number",
  label: "Accepted false trips an hour",
  at: { option: "acceptedPerHour" },
  usual: 0.1,
  least: 0,
  most: 1000,
};

export function AdvicePart({ sweep }: { readonly sweep: WindowSummary }) {
  const running = usePlayback((s) => s.project);
  const set = usePlayback(settingsAsTold);
  const asked = useTrial("window", (s) => s.asked?.project) ?? null;
  const coverage = useTrial("coverage", (s) => s.summary) as CoverageSummary | null;
  const [margin, setMargin] = useState(REQUIRED_MARGIN.usual);
  const [perHour, setPerHour] = useState(RATE.usual);
  const [edge, setEdge] = useState<"nominal" | "early">("nominal");
  const isWhole = useTrial("window", (s) => s.standing) === "done";
  // before the bench has been opened the advice is for the project that was swept
  const project = running ?? asked;
  if (project === null) return null;
  const settings = running === null ? project.monitors : set;
  const swept = [sweep.x.path, sweep.y.path].map((path) => path.split(".")[0]);
  if (swept.some((id) => !settings.some((m) => m.id === id))) {
    return (
      <p className="note">
        This sweep is of a monitor that the project does not have: it shows a principle, and there
        is nothing to set.
      </p>
    );
  }
  if (!isWhole) {
    return (
      <p className="note">
        No settings are advised from a part of a sweep: it is not known yet what the other cases
        say.
      </p>
    );
  }
  const advice = advise({
    project: { ...project, monitors: settings },
    coverage,
    sweeps: [sweep],
    requiredMargin: margin,
    acceptedPerHour: perHour,
    edge,
  });
  const warnings = advice.unproved.map((rate) => unprovedWords(rate, perHour));
  return (
    <section className="advice" aria-label="Advice">
      <h3>What these runs advise</h3>
      <div className="asks advice-asks">
        <NumberField ask={REQUIRED_MARGIN} value={margin} onValue={setMargin} />
        <NumberField ask={RATE} value={perHour} onValue={setPerHour} />
        <SegmentedChoice
          name="Onset by the"
          small
          options={[
            { value: "nominal", word: "nominal estimate" },
            { value: "early", word: "early edge" },
          ]}
          value={edge}
          onChoose={setEdge}
        />
      </div>
      {advice.proposals.map(({ path, now, proposed }) => (
        <p key={path}>
          {upperFirst(settingWords(path))}: now {valueWords(path, now)}, proposed{" "}
          <b>{valueWords(path, proposed)}</b>
        </p>
      ))}
      <Clauses title="What was made best" clauses={advice.optimised} />
      <Clauses title="What is not reached, or not known" clauses={advice.unreached} />
      {running === null ? (
        <>
          <Warnings warnings={warnings} />
          <p className="note">Go to the bench once, so that there is a run to set this on.</p>
        </>
      ) : (
        <ApplyButton
          application={advice.application}
          word="Set the proposed settings on the bench"
          warnings={warnings}
        />
      )}
    </section>
  );
}

/** What the use played leaves open of a rate, and what would settle it. */
function unprovedWords(rate: UnprovedRate, accepted: number): string {
  const { hours, count, perHour, high, provedByHours } = rate;
  const limit = `${dressDigits(String(accepted))} is accepted`;
  if (perHour > accepted) {
    return `Not kept: ${formatApart(perHour, accepted, 2)} false trips an hour were counted, and ${limit}.`;
  }
  const open = (played: string): string =>
    `Not proved: ${played} h of use show only that false trips lie under ${formatApart(high, accepted, 2)} an hour (95 %), and ${limit}.`;
  if (provedByHours === null)
    return `${open(formatNumber(hours))} No number of hours proves that none ever comes.`;
  const wanted = Math.ceil(provedByHours);
  const further = count === 0 ? "a false trip" : "a further false trip";
  return `${open(formatApart(hours, wanted))} ${dressDigits(String(wanted))} h in all without ${further} would prove it.`;
}

function Clauses({
  title,
  clauses,
}: {
  readonly title: string;
  readonly clauses: readonly string[];
}) {
  if (clauses.length === 0) return null;
  return (
    <details open>
      <summary>
        {title} ({clauses.length})
      </summary>
      <ul>
        {clauses.map((clause) => (
          <li key={clause}>{upperFirst(plainWords(clause))}.</li>
        ))}
      </ul>
    </details>
  );
}
