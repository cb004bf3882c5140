/**
 * The one project that is edited beside a bench, by every screen that edits: what is opened on the bench comes here too, as
 * it is while nothing was edited, as a step to undo afterwards.
 */
import type { Project } from "../project/types";
import type { Playback } from "./playback";
import { createStationEdit, isSame, type StationEdit } from "./stationEdit";

const EDITS = new WeakMap<Playback, StationEdit>();

/** The edited project beside this bench; it begins as the bench's when it is first asked for. */
export function editBeside(playback: Playback): StationEdit {
  const known = EDITS.get(playback);
  if (known !== undefined) return known;
  const running = playback.store.getState().project;
  const edit = running === null ? createStationEdit() : createStationEdit(running);
  EDITS.set(playback, edit);
  let seen: Project | null = null;
  const follow = (project: Project | null): void => {
    if (project === null || project === seen) return;
    const isNews = seen === null || !isSame(seen, project);
    seen = project;
    if (!isNews) return;
    const { past, future } = edit.store.getState();
    if (past.length === 0 && future.length === 0) edit.follow(project);
    else edit.load(project, `Opened on the bench: ${project.title}`);
  };
  follow(running);
  playback.store.subscribe((s) => follow(s.project));
  return edit;
}
