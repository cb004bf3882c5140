/**
 * Coordination: trip curves against damage curves, one sheet for each stress, with the margin between them. Follows the
 * project on the bench and its monitors as they are set now; the sheets are worked out beside the page.
 */

import { useCallback, useEffect, useMemo, useState } from "react";
import { useStore } from "zustand";
import { defaultProject } from "../../../project/defaults";
import type { MonitorDef, MonitorRole } from "../../../project/protection";
import { createStudyWorkerPort } from "../../../shells/study/ports";
import { createCoordination } from "../../../state/coordination";
import { settingsAsTold } from "../../../state/playbackState";
import { DEFAULT_REQUIREMENT } from "../../../study/coordination/margins";
import type { StressName } from "../../../study/coordination/stress";
import { metricsOf } from "../../theme/metrics";
import { useSheetVariant } from "../../theme/useSheetVariant";
import { usePlayback } from "../bench/benchContext";
import { ScreenBar } from "../ScreenBar";
import { useScreenHeading } from "../screens";
import { useSideMenus } from "../sideMenus";
import { MonitorChoice } from "./MonitorChoice";
import { Overview } from "./Overview";
import { RequiredMargins } from "./RequiredMargins";
import { Sheet } from "./Sheet";
import { StressChoice } from "./StressChoice";
import { MODEL_LIMITS, STRESS_WORDS } from "./words";
import "../workSheet.css";
import "./coordination.css";
import "./sheetChart.css";
import "./coordinationSide.css";
import "./phoneTable.css";

/** A monitor that somebody has counted in or out, and its role then: with another role it counts where it acts again. */
interface Counted {
  readonly id: string;
  readonly role: MonitorRole;
  readonly isIn: boolean;
}

function isCounted({ id, role }: MonitorDef, counted: readonly Counted[]): boolean {
  const chosen = counted.find((c) => c.id === id && c.role === role);
  return chosen?.isIn ?? role === "acting";
}

export default function CoordinationScreen() {
  const [study] = useState(() => createCoordination(createStudyWorkerPort));
  const opened = usePlayback((s) => s.project);
  const settings = usePlayback(settingsAsTold);
  const state = useStore(study.store);
  const variant = useSheetVariant();
  const heading = useScreenHeading();
  const [stress, setStress] = useState<StressName>("arcAtTuningCapacitor");
  /** What was read last on each sheet. */
  const [reads, setReads] = useState<Partial<Readonly<Record<StressName, number>>>>({});
  const [required, setRequired] = useState(DEFAULT_REQUIREMENT);
  const [counted, setCounted] = useState<readonly Counted[]>([]);

  /** Before the bench has a project, the one it begins with. */
  const inUse = useMemo(
    () => (opened === null ? defaultProject() : { ...opened, monitors: settings }),
    [opened, settings],
  );
  const menus = useSideMenus(inUse);
  useEffect(() => {
    study.ask(inUse, stress);
  }, [study, inUse, stress]);
  // a screen that is left does not go on calculating
  useEffect(() => () => study.rest(), [study]);

  const { project, sheets, whole } = state;
  const chosen = useMemo(
    () => (project?.monitors ?? []).map((m) => isCounted(m, counted)),
    [project, counted],
  );
  const sheet = sheets.get(stress);
  const read = useCallback(
    (x: number): void => setReads((known) => ({ ...known, [stress]: x })),
    [stress],
  );
  const count = useCallback(
    (id: string, isIn: boolean): void => {
      const role = project?.monitors.find((m) => m.id === id)?.role ?? "off";
      setCounted((known) => [...known.filter((c) => c.id !== id), { id, role, isIn }]);
    },
    [project],
  );
  return (
    <div className={`sheet-page coordination-page ${variant}`}>
      <ScreenBar variant={variant} entries={menus.entries}>
        <p className="where">{project?.title ?? ""}</p>
      </ScreenBar>
      <main className="coordination work">
        <div className="coordination-head work-head">
          <h2 ref={heading} tabIndex={-1}>
            Coordination
          </h2>
          <StressChoice stress={stress} onChoose={setStress} />
          <RequiredMargins required={required} onChange={setRequired} />
          <p className="note" role="status">
            {state.failure !== ""
              ? state.failure
              : state.working
                ? `Sheets being worked out: ${whole.size} of ${Object.keys(STRESS_WORDS).length} whole.`
                : ""}
          </p>
        </div>
        <div className="coordination-sheet">
          {project !== null && sheet !== undefined ? (
            <Sheet
              {...{ project, sheet, chosen, required }}
              isWhole={whole.has(stress)}
              readX={reads[stress] ?? null}
              textPx={metricsOf(variant).notePx}
              heightPx={variant === "phone" ? 320 : variant === "projector" ? 360 : 400}
              onRead={read}
            />
          ) : (
            <p className="sheet-wait">
              {state.failure === ""
                ? `${STRESS_WORDS[stress].name}: the first points are on their way.`
                : "No sheet."}
            </p>
          )}
        </div>
        <aside className="coordination-side" aria-label="All stresses, monitors, limits">
          {project !== null && (
            <>
              <Overview
                {...{ project, sheets, whole, chosen, required }}
                shown={stress}
                onShow={(name, x) => {
                  setStress(name);
                  setReads({ ...reads, [name]: x });
                }}
              />
              <MonitorChoice
                monitors={project.monitors}
                chosen={chosen}
                sheet={sheet}
                onCount={count}
              />
            </>
          )}
          <section aria-labelledby="limits-title">
            <h3 id="limits-title">What these sheets are, and are not</h3>
            <ul className="limits">
              {MODEL_LIMITS.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </section>
        </aside>
      </main>
      {menus.opened}
    </div>
  );
}
