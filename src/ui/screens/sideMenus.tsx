/** The two menus of a screen beside the bench: the project as a file, and the settings; with what they open. */
import { type ReactNode, useState } from "react";
import { writeProject } from "../../formats/writeProject";
import { defaultProject } from "../../project/defaults";
import type { Project } from "../../project/types";
import { fileNameOf } from "../../state/project";
import { useBench } from "./bench/benchContext";
import { SettingsSheet } from "./bench/SettingsSheet";
import { saveText } from "./bench/saveFile";
import { useFileChoice } from "./fileChoice";
import { type BarEntry, FileItems } from "./ScreenBar";

export interface SideMenus {
  readonly entries: readonly BarEntry[];
  /** Stands anywhere on the screen. */
  readonly opened: ReactNode;
}

/** What is opened goes to the bench, which every screen follows; what cannot be read is told there, line by line. */
export function useSideMenus(project: Project): SideMenus {
  const { playback, projects } = useBench();
  const [isSettings, setIsSettings] = useState(false);
  const file = useFileChoice("Project file for the bench", async (text, name) => {
    const isTaken = await projects.openText(text, name);
    // a bench that nobody has seen yet begins with its own project, which puts away what was told before
    if (!isTaken && playback.store.getState().standing === "empty") {
      projects.openProject(defaultProject(), "");
      await projects.openText(text, name);
    }
    if (!isTaken) window.location.hash = "bench";
  });
  const save = (): void =>
    saveText(writeProject(project), fileNameOf(project.title, project.endS), "application/json");
  return {
    entries: [
      {
        word: "Project",
        items: <FileItems onOpen={file.choose} onSave={save} />,
      },
      {
        word: "More",
        items: (
          <button type="button" onClick={() => setIsSettings(true)}>
            Settings and keys
          </button>
        ),
      },
    ],
    opened: (
      <>
        {file.box}
        {isSettings && <SettingsSheet onClose={() => setIsSettings(false)} />}
      </>
    ),
  };
}
