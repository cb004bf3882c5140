/** The bench: path over gauges and race, controls at the left, edge, strip and sequence at the right, time below. */
import { Suspense, useCallback, useEffect, useRef, useState } from "react";
import { faultJson } from "../../../formats/resultJson";
import { ARC_PLACES } from "../../../physics/stage/layout";
import { defaultProject } from "../../../project/defaults";
import {
  DEMONSTRATIONS,
  type Demonstration,
  demonstrationOf,
  fetchDemonstration,
  unknownDemonstration,
} from "../../../state/demonstrations";
import { raceAt } from "../../../state/playbackState";
import { SheetDefs } from "../../instruments/drawing/SheetDefs";
import { later } from "../../instruments/later";
import { useSheetVariant } from "../../theme/useSheetVariant";
import { useFileChoice } from "../fileChoice";
import { useScreenHeading } from "../screens";
import { ActingSheet } from "./ActingSheet";
import { BenchBar } from "./BenchBar";
import { useBench, usePlayback, useProjects } from "./benchContext";
import { ControlsZone } from "./ControlsZone";
import { GaugeZone } from "./GaugeZone";
import { Messages, RefusalLine } from "./Messages";
import { PathZone } from "./PathZone";
import { RaceZone } from "./RaceZone";
import { SideZone } from "./SideZone";
import { saveText } from "./saveFile";
import { TimeTools, TimeZone } from "./TimeZone";
import { useClock } from "./useClock";
import { useFaultActions } from "./useFaultActions";
import { useShortcuts } from "./useShortcuts";

const MonitorsSheet = later(async () => ({
  default: (await import("./MonitorsSheet")).MonitorsSheet,
}));
const SettingsSheet = later(async () => ({
  default: (await import("./SettingsSheet")).SettingsSheet,
}));
const fetchCaution = () => import("./FaultCaution");
const FaultCaution = later(fetchCaution);
const FaultsSheet = later(() => import("./FaultsSheet"));
const NotesSheet = later(() => import("./NotesSheet"));
const TripMemorySheet = later(async () => ({
  default: (await import("./TripMemorySheet")).TripMemorySheet,
}));
const FrozenEvent = later(() => import("./FrozenEvent"));

const NOT_SAVED =
  "Not saved: the page could not fetch the part of it that writes project files. See that the network is there, then save again.";

type Open = "none" | "faults" | "controls" | "monitors" | "settings" | "notes" | "frozen" | "trips";

/** A demonstration lasts until another project comes to the bench, from wherever. */
interface Shown {
  readonly demonstration: Demonstration;
  readonly brought: number;
}

export function BenchScreen() {
  const { playback, projects } = useBench();
  const variant = useSheetVariant();
  const heading = useScreenHeading();
  const [open, setOpen] = useState<Open>("none");
  const [shown, setShown] = useState<Shown | null>(null);
  const brought = useProjects((s) => s.brought);
  const demonstration = shown?.brought === brought ? shown.demonstration : null;
  const [said, setSaid] = useState("");
  const [linkWords, setLinkWords] = useState(() => unknownDemonstration(window.location.search));
  const faults = useFaultActions();
  useClock();
  useShortcuts(() => faults.toggle(faults.lastKey));

  const expectedGain = usePlayback((s) => s.expectedGain);

  const show = useCallback(
    async (d: Demonstration) => {
      const fetched = await fetchDemonstration(d, document.baseURI);
      if (!fetched.ok) {
        playback.refuse({ text: `Not opened: ${fetched.reason}.`, command: null });
        return;
      }
      if (!(await projects.openText(fetched.text, d.file))) return;
      setShown({ demonstration: d, brought: projects.store.getState().brought });
      playback.run();
    },
    [playback, projects],
  );

  useEffect(() => {
    // shown again after another screen: the bench stands as it was left
    if (playback.store.getState().standing !== "empty") return;
    const asked = demonstrationOf(window.location.search);
    if (asked !== null) void show(asked);
    else projects.openProject(defaultProject(), "");
  }, [playback, projects, show]);

  const standing = usePlayback((s) => s.standing);
  useEffect(() => {
    if (standing !== "ready") return;
    void projects.prepare();
    fetchCaution().catch(() => {}); // asked for again when it is wanted
  }, [standing, projects]);

  // a demonstration runs as soon as its project stands on the bench
  useEffect(() => {
    if (standing === "ready" && demonstration !== null) playback.run();
  }, [standing, demonstration, playback]);

  const file = useFileChoice("Project file", async (text, name) => {
    await projects.openText(text, name);
  });
  const save = async (): Promise<void> => {
    const saved = await projects.save();
    if (saved === null) playback.refuse({ text: NOT_SAVED, command: null });
    else saveText(saved.text, saved.name, "application/json");
  };
  const copy = async (): Promise<void> => {
    const { races, playNs } = playback.store.getState();
    const report = raceAt(races, playNs) ?? races[races.length - 1];
    if (report === undefined) return;
    const { hash } = await playback.exportProject();
    const place = report.zero.struck === null ? -1 : ARC_PLACES.indexOf(report.zero.struck);
    const result = {
      recordHash: hash,
      faults: [
        faultJson({
          race: report.race,
          supply: report.supply,
          moltenKg: report.moltenKg,
          moltenUnprotectedKg: place < 0 ? null : (report.found?.moltenKg[place] ?? null),
        }),
      ],
    };
    const text = `${JSON.stringify(result, null, 2)}\n`;
    try {
      await navigator.clipboard.writeText(text);
      setSaid("Result copied as JSON.");
    } catch {
      saveText(text, "quietarc-result.json", "application/json");
      setSaid("The browser allows no copying here: the result was saved as a file.");
    }
  };
  // looked at while the frozen event is open only: a race that grows does not redraw the sheet
  const report = usePlayback((s) =>
    open === "frozen" ? (raceAt(s.races, s.playNs) ?? s.races[s.races.length - 1] ?? null) : null,
  );
  const close = (): void => setOpen("none");
  // from the first caution on the dialog stays, so that it can give the focus back
  const wasAsked = useRef(false);
  if (faults.waiting !== null) wasAsked.current = true;
  const running = usePlayback((s) => s.running);
  return (
    <div className={`sheet-page ${variant}${running ? "" : " standing"}`}>
      <SheetDefs />
      <BenchBar
        variant={variant}
        onDemonstration={(d) => void show(d)}
        onOpen={file.choose}
        onSave={() => void save()}
        onCopy={() => void copy()}
        onFreeze={() => setOpen("frozen")}
        onControls={() => setOpen("controls")}
        onMonitors={() => setOpen("monitors")}
        onNotes={() => setOpen("notes")}
        onSettings={() => setOpen("settings")}
        onFullScreen={() => {
          if (document.fullscreenElement) void document.exitFullscreen();
          else void document.documentElement.requestFullscreen();
        }}
      />
      {file.box}
      <Messages
        demonstration={demonstration}
        linkWords={linkWords}
        onDismissLink={() => setLinkWords("")}
        onDemonstration={(name) => {
          const next = DEMONSTRATIONS.find((d) => d.name === name);
          if (next !== undefined) void show(next);
        }}
        onEndDemonstration={() => setShown(null)}
      />
      <p className="said" role="status">
        {said}
      </p>
      <main className="bench">
        <h2 className="unseen" ref={heading} tabIndex={-1}>
          Bench
        </h2>
        <PathZone variant={variant} onToggleFault={faults.toggle} />
        {variant !== "projector" && (
          <ControlsZone faults={faults} variant={variant} onFaultWords={() => setOpen("faults")} />
        )}
        <GaugeZone variant={variant} expectedGain={expectedGain} />
        <RaceZone variant={variant} chosenKey={faults.lastKey} expectedGain={expectedGain} />
        {variant === "phone" && <TimeTools />}
        <SideZone variant={variant} onTripMemory={() => setOpen("trips")} />
      </main>
      <RefusalLine />
      <TimeZone
        variant={variant}
        fault={
          <button type="button" className="button solid fault" onClick={faults.strikeAgain}>
            Strike again
          </button>
        }
      />
      {wasAsked.current && (
        <Suspense fallback={null}>
          <FaultCaution faults={faults} onClose={faults.cancel} />
        </Suspense>
      )}
      {open === "controls" && (
        <ActingSheet title="Controls and faults" onClose={close}>
          <TimeTools />
          <ControlsZone faults={faults} variant={variant} onFaultWords={() => setOpen("faults")} />
        </ActingSheet>
      )}
      <Suspense fallback={null}>
        {open === "faults" && <FaultsSheet chosenKey={faults.lastKey} onClose={close} />}
        {open === "monitors" && <MonitorsSheet onClose={close} />}
        {open === "settings" && <SettingsSheet onClose={close} />}
        {open === "trips" && <TripMemorySheet onClose={close} />}
        {open === "notes" && <NotesSheet onClose={close} />}
        {open === "frozen" && report !== null && <FrozenEvent report={report} onClose={close} />}
      </Suspense>
    </div>
  );
}
