/**
 * The monitors: each a row that reads like its chain, edited in its place, and sensors and actuators likewise; beside them what
 * detection costs, what the pickup means in normal use, and what all of it makes of the present race. What is edited is the project
 * beside the bench until it is taken there.
 */
import { useEffect, useMemo, useState } from "react";
import { useStore } from "zustand";
import type { Project } from "../../../project/types";
import { createStudyWorkerPort } from "../../../shells/study/ports";
import { editBeside } from "../../../state/editBeside";
import { createMonitorStudy } from "../../../state/monitorStudy";
import type { Playback } from "../../../state/playback";
import { settingsAsTold } from "../../../state/playbackState";
import { FormContext } from "../../forms/formContext";
import { StepButtons } from "../../forms/steps";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { useSheetVariant } from "../../theme/useSheetVariant";
import { useBench, usePlayback } from "../bench/benchContext";
import { ScreenBar } from "../ScreenBar";
import { useScreenHeading } from "../screens";
import { useSideMenus } from "../sideMenus";
import { BudgetPanel } from "./BudgetPanel";
import { MonitorList } from "./MonitorList";
import { type MonitorStores, MonitorsContext, monitorsPort } from "./monitorsContext";
import { NormalPicture } from "./NormalPicture";
import { ProtectionFields } from "./ProtectionFields";
import { RaceLine } from "./RaceLine";
import { TakeSettings } from "./TakeSettings";
import "../../forms/forms.css";
import "../workSheet.css";
import "./monitors.css";

function createStores(playback: Playback): MonitorStores {
  return {
    edit: editBeside(playback),
    study: createMonitorStudy(createStudyWorkerPort()),
    remembered: new Map(),
  };
}

type Shown = "monitors" | "sensors" | "actuators";

const SHOWN: readonly { readonly value: Shown; readonly word: string }[] = [
  { value: "monitors", word: "Monitors" },
  { value: "sensors", word: "Sensors" },
  { value: "actuators", word: "Actuators" },
];

export default function MonitorsScreen() {
  const { playback } = useBench();
  const [stores] = useState(() => createStores(playback));
  const { edit } = stores;
  const port = useMemo(() => monitorsPort(stores), [stores]);
  const variant = useSheetVariant();
  const heading = useScreenHeading();
  const { project } = useStore(edit.store);
  const [shown, setShown] = useState<Shown>("monitors");
  const [open, setOpen] = useState(project.monitors[0]?.id ?? "");
  const [criterion, setCriterion] = useState(0);
  const [said, setSaid] = useState("");
  const menus = useSideMenus(project);
  useStudied(stores);

  const looked = project.monitors.findIndex((m) => m.id === open);
  const index = looked < 0 ? 0 : looked;
  const def = project.monitors[index];
  const own = Math.min(criterion, (def?.criteria.length ?? 1) - 1);
  const results = (
    <section className="monitors-results work-results" aria-label="What it means">
      {def !== undefined && (
        <>
          <h2 className="looked-at">{def.name}</h2>
          {def.criteria.length > 1 && (
            <SegmentedChoice
              name="Criterion"
              nameHidden
              small
              options={def.criteria.map((_, k) => ({
                value: String(k),
                word: `Criterion ${k + 1}`,
              }))}
              value={String(own)}
              onChoose={(k) => setCriterion(Number(k))}
            />
          )}
          <BudgetPanel index={index} criterion={own} />
          <NormalPicture index={index} criterion={own} />
        </>
      )}
    </section>
  );
  // a narrow sheet has what it means right under what is edited
  const isInRow = variant === "phone" && shown === "monitors" && looked >= 0;
  return (
    <MonitorsContext.Provider value={stores}>
      <FormContext.Provider value={port}>
        <div className={`sheet-page work-page ${variant}`}>
          <ScreenBar variant={variant} entries={menus.entries}>
            <p className="where">{project.title}</p>
          </ScreenBar>
          <p className="said" role="status">
            {said}
          </p>
          <main className="monitors work">
            <div className="work-head">
              <h2 ref={heading} tabIndex={-1}>
                Monitors
              </h2>
              <SegmentedChoice
                name="What is edited"
                nameHidden
                small
                options={SHOWN}
                value={shown}
                onChoose={setShown}
              />
              <div className="edit-steps">
                <StepButtons edit={edit} onSaid={setSaid} />
              </div>
              <TakeSettings />
            </div>
            <RaceLine />
            <section className="work-forms" aria-label={`${shown} of the project`}>
              {shown === "monitors" ? (
                <MonitorList
                  open={open}
                  onOpen={(id) => {
                    setOpen(id);
                    setCriterion(0);
                  }}
                  onSaid={setSaid}
                  below={isInRow ? results : null}
                />
              ) : (
                <ProtectionFields of={shown} />
              )}
            </section>
            {!isInRow && results}
          </main>
          {menus.opened}
        </div>
      </FormContext.Provider>
    </MonitorsContext.Provider>
  );
}

/**
 * Asks for studies of what is edited, and again when another fault or setting comes on the bench. A bench that has not been
 * opened yet has what the editing began with.
 */
function useStudied(stores: MonitorStores): void {
  const { edit, study } = stores;
  const { playback } = useBench();
  const project = useStore(edit.store, (s) => s.project);
  const first = useStore(edit.store, (s) => s.past[0]?.before ?? s.project);
  const running = usePlayback((s) => s.project);
  const settings = usePlayback(settingsAsTold);
  const faults = usePlayback((s) => s.races.length);
  const [exported, setExported] = useState<Project | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a fault that came is a longer session
  useEffect(() => {
    if (running === null) return;
    let isWanted = true;
    void playback.exportProject().then((made) => {
      if (isWanted) setExported(made.project);
    });
    return () => {
      isWanted = false;
    };
  }, [playback, running, faults]);
  const session = running === null ? first : exported;
  const live = running === null ? first.monitors : settings;
  useEffect(() => {
    if (session !== null) study.ask(session, live, project);
  }, [study, session, live, project]);
}
