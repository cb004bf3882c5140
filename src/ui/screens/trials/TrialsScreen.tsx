/**
 * Trials: batches of runs that prove a scheme, or show where it fails. What is asked stands at the left, what is known at the
 * right, from the first case on; each case opens on the bench. The project is the bench's, with its monitors as they are set.
 */

import { type ComponentType, type ReactNode, useEffect, useMemo, useRef, useState } from "react";
import { useStore } from "zustand";
import { defaultProject } from "../../../project/defaults";
import type { Project } from "../../../project/types";
import { meansOfPage } from "../../../shells/trials/ports";
import { settingsAsTold } from "../../../state/playbackState";
import { createTrials } from "../../../state/trials";
import type { TrialKind } from "../../../study/trials/trial";
import { WINDOW_PRESETS } from "../../../study/trials/windowPresets";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { useSheetVariant } from "../../theme/useSheetVariant";
import { usePlayback } from "../bench/benchContext";
import { ScreenBar } from "../ScreenBar";
import { useScreenDetail, useScreenHeading } from "../screens";
import { useSideMenus } from "../sideMenus";
import { AskForm } from "./AskForm";
import { kindsOfTrial } from "./asks";
import { BackupResult } from "./BackupResult";
import { CoverageResult } from "./CoverageResult";
import { NuisanceResult } from "./NuisanceResult";
import { RunBar } from "./RunBar";
import { StaleNote } from "./StaleNote";
import { ToleranceResult } from "./ToleranceResult";
import { type Trials, TrialsContext, useTrial } from "./trialsContext";
import { WindowResult } from "./WindowResult";
import "../workSheet.css";
import "./trials.css";

const RESULTS: Readonly<Record<TrialKind, ComponentType>> = {
  coverage: CoverageResult,
  backup: BackupResult,
  tolerance: ToleranceResult,
  nuisance: NuisanceResult,
  window: WindowResult,
};

export default function TrialsScreen() {
  const [trials] = useState<Trials>(() => createTrials(meansOfPage()));
  const variant = useSheetVariant();
  const heading = useScreenHeading();
  const [kind, setKind] = useState<TrialKind>("coverage");
  const askedPart = useRef<HTMLElement | null>(null);
  const asSet = useProjectAsSet();
  const menus = useSideMenus(asSet);
  usePreset(trials, asSet, setKind);
  const running = useStore(trials.store, (s) => s.running);
  const { tank } = asSet.station;
  const bands = "bands" in tank ? tank.bands.map((b) => b.name) : [];
  const kinds = kindsOfTrial(bands);
  const asked = kinds.find((k) => k.kind === kind) ?? kinds[0];
  const Result = RESULTS[kind];
  return (
    <TrialsContext.Provider value={trials}>
      <div className={`sheet-page work-page ${variant}`}>
        <ScreenBar variant={variant} entries={menus.entries}>
          <p className="where">{asSet.title}</p>
        </ScreenBar>
        <main className="trials work">
          <section className="trial-asked" aria-label="What is asked" ref={askedPart}>
            <h2 ref={heading} tabIndex={-1}>
              Trials
            </h2>
            <div className="trial-kinds">
              <SegmentedChoice
                name="Kind of trial"
                nameHidden
                options={kinds.map((k) => ({ value: k.kind, word: k.word }))}
                value={kind}
                onChoose={setKind}
              />
            </div>
            <p className="question">{asked?.question}</p>
            <p className="note">
              Of {asSet.title}, as set on the bench. What is edited on the{" "}
              <a href="#monitors">monitors screen</a> counts once it is taken there.
            </p>
            <AskForm key={kind} kind={kind} asks={asked?.asks ?? []} />
            <RunBar
              kind={kind}
              onStart={() => {
                // a field that is refused is mended first: nothing runs with a value nobody sees
                const refused =
                  askedPart.current?.querySelector<HTMLElement>("[aria-invalid=true]");
                if (refused) refused.focus();
                else trials.start(kind, asSet);
              }}
            />
            <StaleNote
              kind={kind}
              project={asSet}
              // not on Start, where a second Enter would run the study anew and drop its results
              onPutBack={() => heading.current?.focus()}
            />
            {running !== null && running !== kind && (
              <p className="note">
                {kinds.find((k) => k.kind === running)?.word} is running; starting here ends it and
                keeps what it found.
              </p>
            )}
          </section>
          <Known kind={kind}>
            <Result />
          </Known>
        </main>
        {menus.opened}
      </div>
    </TrialsContext.Provider>
  );
}

/** The bench's project with its monitors as they are set now; before the bench has one, the one it begins with. */
function useProjectAsSet(): Project {
  const project = usePlayback((s) => s.project);
  const settings = usePlayback(settingsAsTold);
  return useMemo(
    () => (project === null ? defaultProject() : { ...project, monitors: settings }),
    [project, settings],
  );
}

/** Enough speech for a picture within a minute. */
const PRESET_HOURS = 0.2;

/** An address such as `#trials/whyNotShorter` begins that sweep, once for each time it is gone to. */
function usePreset(trials: Trials, project: Project, show: (kind: TrialKind) => void): void {
  const preset = useScreenDetail();
  const latest = useRef(project);
  latest.current = project;
  useEffect(() => {
    if (!WINDOW_PRESETS.some((p) => p.id === preset)) return;
    show("window");
    const { asked, standing } = trials.store.getState().studies.window;
    if (asked?.options?.preset === preset && standing !== "idle") return; // it is there already
    trials.edit("window", { options: { preset, hours: PRESET_HOURS } });
    trials.start("window", latest.current);
  }, [trials, preset, show]);
}

function Known({ kind, children }: { readonly kind: TrialKind; readonly children: ReactNode }) {
  const isKnown = useTrial(kind, (s) => s.standing !== "idle");
  return (
    <section className={isKnown ? "trial-result known" : "trial-result"} aria-label="What is known">
      {children}
    </section>
  );
}
