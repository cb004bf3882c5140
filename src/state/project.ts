/** Opening and saving: text to a running project and back, with problems shown and the bench left alone. */
import { createStore, type StoreApi } from "zustand/vanilla";
import { excerpt } from "../formats/excerpt";
import type { Notice, Problem, ProblemCode } from "../formats/problem";
import { defaultProject } from "../project/defaults";
import { isSameData } from "../project/sameData";
import type { Station } from "../project/station";
import type { Project } from "../project/types";
import type { Playback } from "./playback";

/** What reads and checks a file weighs as much as the bench itself: it comes with the first file. */
const readerOfFiles = () => import("../formats/projectFile");
const writerOfFiles = () => import("../formats/writeProject");

export interface OpenProblem extends Omit<Problem, "code"> {
  /** `unreachable`: the page could not fetch what reads files. */
  readonly code: ProblemCode | "unreachable";
  /** Lines round the place, with a mark under it; empty for the file as a whole. */
  readonly excerpt: string;
}

export interface ProjectState {
  /** Name of the file last opened or tried, for messages. */
  readonly fileName: string;
  readonly title: string;
  readonly problems: readonly OpenProblem[];
  /** Problems found beyond those listed. */
  readonly omitted: number;
  readonly notices: readonly Notice[];
  /** What was opened from a file and what it holds; null until a file was, and once that has been read. */
  readonly opened: OpenedFile | null;
  /** One more with each project that comes whole: a file, ours, a case. One edited beside the bench is still the same. */
  readonly brought: number;
  /** What stations came with their titles from files, demonstrations and cases: each once. */
  readonly known: readonly TitledStation[];
}

export interface TitledStation {
  readonly title: string;
  readonly station: Station;
}

/**
 * Whether the station is another than any that came with its title; one whose title never came with a station is what its title
 * says. The station of ours is known by its title.
 */
export function isChangedStation(
  { title, station }: TitledStation,
  known: readonly TitledStation[],
): boolean {
  const ours = defaultProject();
  const came = title === ours.title ? [ours] : known.filter((k) => k.title === title);
  return came.length > 0 && !came.some((k) => isSameData(k.station, station));
}

function alsoKnown(
  known: readonly TitledStation[],
  { title, station }: TitledStation,
): readonly TitledStation[] {
  const isThere = known.some((k) => k.title === title && isSameData(k.station, station));
  return isThere ? known : [...known, { title, station }];
}

export interface OpenedFile {
  readonly title: string;
  readonly entries: number;
  /** Instants of the first and the last entry, s; 0 without any. */
  readonly firstS: number;
  readonly lastS: number;
}

function openedOf({ title, scenario }: Project): OpenedFile {
  const times = scenario.map((e) => e.atS);
  return {
    title,
    entries: times.length,
    firstS: times.length === 0 ? 0 : Math.min(...times),
    lastS: Math.max(0, ...times),
  };
}

export interface SavedFile {
  readonly name: string;
  readonly text: string;
}

/** `quiet-arc-4.30s.json` of a title and how far the run has come. */
export function fileNameOf(title: string, endS: number): string {
  const words = title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "");
  return `${words === "" ? "project" : words}-${endS.toFixed(2)}s.json`;
}

const UNREACHABLE: OpenProblem = {
  code: "unreachable",
  place: "",
  line: 0,
  column: 0,
  quoted: "",
  excerpt: "",
  message: "the page could not fetch the part of it that reads project files",
  remedy: "see that the network is there, then open the file again",
};

/** The project a playback runs, and what was wrong with those it did not take. */
export function createProjectStore(playback: Playback) {
  const store: StoreApi<ProjectState> = createStore<ProjectState>()(() => ({
    fileName: "",
    title: "",
    problems: [],
    omitted: 0,
    notices: [],
    opened: null,
    brought: 0,
    known: [],
  }));

  const learn = (project: TitledStation): void =>
    store.setState(({ known }) => ({ known: alsoKnown(known, project) }));

  const bring = (): void => store.setState(({ brought }) => ({ brought: brought + 1 }));

  function run(project: Project, fileName: string, playToNs: number): void {
    const read = { problems: [], omitted: 0, notices: [], opened: null };
    store.setState({ fileName, title: project.title, ...read });
    playback.open(project, playToNs);
  }

  return {
    store,
    /** Fetches ahead what opening and saving need, so that both work when the network has gone. */
    async prepare(): Promise<void> {
      await Promise.allSettled([readerOfFiles(), writerOfFiles()]);
    },
    /** Opens a text; a bad one shows its problems and changes nothing else. Answers whether it was taken. */
    async openText(text: string, fileName: string): Promise<boolean> {
      const reader = await readerOfFiles().catch(() => null);
      if (reader === null) {
        store.setState({ fileName, problems: [UNREACHABLE], omitted: 0 });
        return false;
      }
      const reading = reader.readProject(text);
      if (!reading.ok) {
        const problems = reading.problems.map((p) => ({
          ...p,
          excerpt: p.line > 0 && p.quoted !== "" ? excerpt(text, p.line, p.column) : "",
        }));
        store.setState({ fileName, problems, omitted: reading.omitted });
        return false;
      }
      const { project, notices } = reading;
      store.setState({
        fileName,
        title: project.title,
        problems: [],
        omitted: 0,
        notices,
        opened: openedOf(project),
      });
      learn(project);
      bring();
      playback.open(project);
      return true;
    },
    /** A project as it came: ours, or a case of a study. */
    openProject(project: Project, fileName: string, playToNs = 0): void {
      learn(project);
      bring();
      run(project, fileName, playToNs);
    },
    /** A project edited beside the bench: its title is the one it came with, whatever its station is now. */
    openEdited: (project: Project) => run(project, "", 0),
    /** A project that came from a file to be edited beside the bench. */
    learn,
    dismissProblems: () => store.setState({ problems: [], omitted: 0 }),
    dismissOpened: () => store.setState({ opened: null, notices: [] }),
    /** The session as a file: everything that was done, at its exact instants; null when the writer cannot be fetched. */
    async save(): Promise<SavedFile | null> {
      const writer = await writerOfFiles().catch(() => null);
      if (writer === null) return null;
      const { project } = await playback.exportProject();
      const endS = playback.store.getState().headNs / 1e9;
      return { name: fileNameOf(project.title, endS), text: writer.writeProject(project) };
    },
  };
}
