/**
 * The station: its parts as a form at the left, what they lead to at the right, worked out while somebody types. What is
 * edited is a project of its own beside the bench until it is taken there.
 */
import { Suspense, useEffect, useState } from "react";
import { useStore } from "zustand";
import { readProject } from "../../../formats/projectFile";
import { writeProject } from "../../../formats/writeProject";
import type { Project } from "../../../project/types";
import { createStudyWorkerPort } from "../../../shells/study/ports";
import { editBeside } from "../../../state/editBeside";
import type { Playback } from "../../../state/playback";
import { fileNameOf } from "../../../state/project";
import { isSame } from "../../../state/stationEdit";
import { createStationStudy } from "../../../state/stationStudy";
import { ratingsPassed, withPresetsFollowing } from "../../../study/stationPresets";
import { StepButtons } from "../../forms/steps";
import { later } from "../../instruments/later";
import { useSheetVariant } from "../../theme/useSheetVariant";
import { useBench } from "../bench/benchContext";
import { SettingsSheet } from "../bench/SettingsSheet";
import { saveText } from "../bench/saveFile";
import { upperFirst } from "../bench/views/words";
import { useFileChoice } from "../fileChoice";
import { useScreenHeading } from "../screens";
import { BandTable } from "./BandTable";
import { FileWords } from "./FileWords";
import { monitorsStation } from "./monitorsStation";
import { OperatingPoint } from "./OperatingPoint";
import { PartStress } from "./PartStress";
import { StationBar } from "./StationBar";
import { StationForm } from "./StationForm";
import { StudySettings } from "./StudySettings";
import { StationContext, type StationStores, useStudy } from "./stationContext";
import { TubeRatings } from "./TubeRatings";
import { TuneHelper } from "./TuneHelper";
import { publishedPassed, tubesWords } from "./tubeRatings";
import { BY_WORDS } from "./words";
import "../../forms/forms.css";
import "../workSheet.css";
import "./station.css";

const StationCharts = later(() => import("./charts/StationCharts"));
const TubeFitSheet = later(() => import("./TubeFitSheet"));

function createStores(playback: Playback): StationStores {
  return {
    edit: editBeside(playback),
    study: createStationStudy(createStudyWorkerPort()),
    remembered: new Map(),
  };
}

export default function StationScreen() {
  const { playback, projects } = useBench();
  const [stores] = useState(() => createStores(playback));
  const { edit, study } = stores;
  const variant = useSheetVariant();
  const heading = useScreenHeading();
  const [open, setOpen] = useState<"none" | "fit" | "settings">("none");
  const [said, setSaid] = useState("");
  const [problems, setProblems] = useState<readonly string[]>([]);
  const [notices, setNotices] = useState<readonly string[]>([]);
  const [chosenBand, setChosenBand] = useState<number | null>(null);
  const [driveW, setDriveW] = useState<number | null>(null);
  const [swr, setSwr] = useState(2);
  const { project } = useStore(edit.store);
  const { station } = project;
  const drive = driveW ?? station.exciter.availableW;

  useEffect(() => {
    study.ask(station, drive, swr);
  }, [study, station, drive, swr]);

  const file = useFileChoice("Project file for the station", (text, name) => {
    const reading = readProject(text);
    if (!reading.ok) {
      setProblems(
        reading.problems.map(
          (p) => `${name}, line ${p.line}, column ${p.column}: ${p.message}; ${p.remedy}.`,
        ),
      );
      return;
    }
    setProblems([]);
    setNotices(reading.notices.map((n) => upperFirst(`${n.place}: ${n.message}.`)));
    projects.learn(reading.project);
    edit.load(reading.project, `Opened ${name}`);
    setSaid(`${reading.project.title} opened; undo brings back what was here.`);
  });
  const save = (): void => {
    saveText(writeProject(project), fileNameOf(project.title, project.endS), "application/json");
  };
  const take = (): void => {
    const running = playback.store.getState().project;
    const known = [monitorsStation(edit.store.getState())];
    if (running !== null) known.push(running.station);
    const taken = withPresetsFollowing(project, ...known);
    edit.changeProject(taken, { field: "Monitors and sensors", from: "", to: "as this station" });
    projects.openEdited(taken);
    window.location.hash = "bench";
  };

  const bandNames = "bands" in station.tank ? station.tank.bands : [];
  const here = bandNames.findIndex((b) => b.fromHz <= station.freqHz && station.freqHz <= b.toHz);
  const band = Math.min(chosenBand ?? Math.max(here, 0), Math.max(bandNames.length - 1, 0));
  const isPoint = useStore(study.store, (s) => s.here !== null);
  return (
    <StationContext.Provider value={stores}>
      <div className={`sheet-page work-page ${variant}`}>
        <StationBar
          variant={variant}
          onOpen={file.choose}
          onSave={save}
          onSettings={() => setOpen("settings")}
        />
        {file.box}
        <p className="said" role="status">
          {said}
        </p>
        <main className="station work">
          <div className="work-head">
            <h2 ref={heading} tabIndex={-1}>
              Station
            </h2>
            <span className="station-title">{project.title}</span>
            <div className="edit-steps">
              <StepButtons edit={edit} onSaid={setSaid} />
            </div>
            <TakeButton project={project} onTake={take} />
          </div>
          <FileWords
            problems={problems}
            notices={notices}
            onDismiss={() => {
              setProblems([]);
              setNotices([]);
            }}
          />
          <StationForm onFitTube={() => setOpen("fit")} />
          <section className="station-results work-results" aria-label="What the station does">
            <OperatingPoint />
            <StudySettings
              driveW={drive}
              fullDriveW={station.exciter.availableW}
              swr={swr}
              onDrive={(w) => setDriveW(w === station.exciter.availableW ? null : w)}
              onSwr={setSwr}
            />
            <TuneHelper />
            <BandTable chosen={band} onChoose={setChosenBand} />
            <PartStress chosen={band} />
            <TubeRatings chosen={band} />
            {isPoint && (
              <Suspense fallback={<p className="note">Charts are being loaded.</p>}>
                <StationCharts />
              </Suspense>
            )}
          </section>
        </main>
        {open === "settings" && <SettingsSheet onClose={() => setOpen("none")} />}
        <Suspense fallback={null}>
          {open === "fit" && <TubeFitSheet onClose={() => setOpen("none")} />}
        </Suspense>
      </div>
    </StationContext.Provider>
  );
}

/** A new run with this station; says first that the one under way ends. */
function TakeButton({
  project,
  onTake,
}: {
  readonly project: Project;
  readonly onTake: () => void;
}) {
  const { playback } = useBench();
  const running = useStore(playback.store, (s) => s.project);
  const started = useStore(playback.store, (s) => s.headNs > 0);
  const isThere = running !== null && isSame(running, project);
  const point = useStudy((s) => s.here?.matched ?? null);
  const passed = point === null ? [] : ratingsPassed(point, project.station.ratings);
  const stresses = useStudy((s) => s.here?.stresses);
  const published = publishedPassed(project.station, stresses ?? []).map((r) => BY_WORDS[r.by]);
  const words = isThere
    ? "The bench runs this station."
    : started
      ? "The run on the bench ends; its scenario is kept. Monitors nobody has set follow the station."
      : "The scenario is kept. Monitors nobody has set follow the station.";
  return (
    <div className="edit-take">
      <span className="note" id="take-words">
        {words}
        {passed.length > 0 &&
          ` At this drive ${passed.join(" and ")} ${passed.length > 1 ? "pass their ratings" : "passes its rating"}: a pickup scaled to it keeps the station on the air and does not protect the tube.`}
        {published.length > 0 &&
          ` At this drive ${published.join(" and ")} ${published.length > 1 ? "pass" : "passes"} what is published for ${tubesWords(project.station.tube)}.`}
      </span>
      <button
        type="button"
        className="button solid"
        disabled={isThere}
        aria-describedby="take-words"
        onClick={onTake}
      >
        Take this station to the bench
      </button>
    </div>
  );
}
