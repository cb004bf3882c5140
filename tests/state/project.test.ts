import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { readProject } from "../../src/formats/projectFile";
import { writeProject } from "../../src/formats/writeProject";
import { defaultProject } from "../../src/project/defaults";
import type { Project } from "../../src/project/types";
import {
  DEMONSTRATIONS,
  demonstrationOf,
  fetchDemonstration,
  fileOf,
} from "../../src/state/demonstrations";
import { createPlayback } from "../../src/state/playback";
import { createProjectStore, fileNameOf, isChangedStation } from "../../src/state/project";
import { createInProcessPort } from "../support/inProcessPort";
import { ROOT } from "../support/root";

const textOf = (file: string): string => readFileSync(join(ROOT, "public", file), "utf8");

function start() {
  const playback = createPlayback(createInProcessPort());
  return { playback, projects: createProjectStore(playback) };
}

describe("opening a project", () => {
  it("runs it from the start", async () => {
    const { playback, projects } = start();
    expect(
      await projects.openText(textOf("projects/skerry-light-insect.json"), "insect.json"),
    ).toBe(true);
    expect(projects.store.getState()).toMatchObject({ title: "Quiet arc", problems: [] });
    expect(playback.store.getState()).toMatchObject({
      standing: "ready",
      playNs: 0,
      running: false,
    });
  });

  const onAnotherBand = (project: Project): Project => ({
    ...project,
    station: { ...project.station, freqHz: 3.6e6 },
  });

  it("says of a station changed beside the bench that it is another than its title was given to", async () => {
    const { projects } = start();
    const isChanged = (project: Project) =>
      isChangedStation(project, projects.store.getState().known);
    for (const demonstration of DEMONSTRATIONS) {
      const { name } = demonstration;
      const file = fileOf(demonstration);
      await projects.openText(textOf(file), file);
      const reading = readProject(textOf(file));
      if (!reading.ok) throw new Error(name);
      expect(isChanged(reading.project), name).toBe(false);
      projects.openEdited(onAnotherBand(reading.project));
      expect(isChanged(onAnotherBand(reading.project)), name).toBe(true);
    }
    projects.openProject(defaultProject(), "");
    expect(isChanged(defaultProject())).toBe(false);
    expect(isChanged(onAnotherBand(defaultProject()))).toBe(true);
    // a file of one's own is what its title says
    expect(isChanged({ ...onAnotherBand(defaultProject()), title: "Our club" })).toBe(false);
  });

  it("goes by what a project came with: another file of its title, and whatever was opened in between", async () => {
    const { projects } = start();
    const isChanged = (project: Project) =>
      isChangedStation(project, projects.store.getState().known);
    const club = { ...defaultProject(), title: "Our club" };
    const second = onAnotherBand(club);
    const edited: Project = { ...club, station: { ...club.station, freqHz: 7.05e6 } };
    await projects.openText(writeProject(club), "club.json");
    expect([club, second, edited].map(isChanged)).toEqual([false, true, true]);
    // a case of a study is as it came, and the mark outlives it
    const unit = (of: Project): Project => ({ ...of, title: "Our club: one unit" });
    projects.openProject(unit(second), "");
    projects.openProject(unit(edited), "");
    expect([unit(second), unit(edited)].map(isChanged)).toEqual([false, false]);
    projects.openEdited(edited);
    expect([isChanged(edited), isChanged(club)]).toEqual([true, false]);
    // opened beside the bench and taken there as it is
    projects.learn(second);
    projects.openEdited(second);
    expect([isChanged(second), isChanged(edited)]).toEqual([false, true]);
  });

  it("shows what is wrong with a bad file, with its place, and leaves the bench as it is", async () => {
    const { playback, projects } = start();
    await projects.openText(textOf("projects/skerry-light-insect.json"), "insect.json");
    const before = playback.store.getState();
    expect(
      await projects.openText('{\n  "format": "quietarc-project",\n  "seed" 1\n}', "bad.json"),
    ).toBe(false);
    const { problems, fileName, title } = projects.store.getState();
    expect(problems[0]).toMatchObject({ line: 3, code: "notJson" });
    expect(problems[0]?.excerpt).toContain('"seed" 1');
    expect([fileName, title]).toEqual(["bad.json", "Quiet arc"]);
    expect(playback.store.getState()).toBe(before);
    projects.dismissProblems();
    expect(projects.store.getState().problems).toEqual([]);
  });
});

describe("saving a session", () => {
  it("gives a file that opens again, with what was done in it", async () => {
    const { playback, projects } = start();
    await projects.openText(textOf("projects/skerry-light.json"), "skerry-light.json");
    playback.setLens(false);
    playback.run();
    for (let n = 1; n <= 5; n++) playback.tick(16 * n);
    playback.pause();
    playback.act({ do: "set", control: "driveW", value: 30 });
    const saved = await projects.save();
    if (saved === null) throw new Error("the writer is here");
    const { name, text } = saved;
    expect(name).toBe("skerry-light-0.06s.json"); // four steps of 16 ms after the first tick
    const reading = readProject(text);
    expect(reading.ok && reading.project.scenario.at(-1)).toEqual({
      atS: 0.064,
      do: "set",
      control: "driveW",
      value: 30,
    });
  });

  it("names files by project and time, without spaces", () => {
    expect(fileNameOf("Quiet arc: the 2nd!", 4.3)).toBe("quiet-arc-the-2nd-4.30s.json");
    expect(fileNameOf("…", 0)).toBe("project-0.00s.json");
  });
});

describe("demonstrations", () => {
  it("all open a sample project, have words before and after, and lead to one another", () => {
    const names = new Set(DEMONSTRATIONS.map((d) => d.name));
    expect(names.size).toBe(DEMONSTRATIONS.length);
    for (const d of DEMONSTRATIONS) {
      expect(readProject(textOf(fileOf(d))).ok).toBe(true);
      expect(d.before.length * d.after.length).toBeGreaterThan(0);
      if (d.nextName !== "") expect(names.has(d.nextName)).toBe(true);
    }
  });

  it("are found by the address of the page", () => {
    expect(demonstrationOf("?show=quiet-arc")?.file).toBe("skerry-light-insect.json");
    expect(demonstrationOf("?show=nothing-of-the-kind")).toBeNull();
    expect(demonstrationOf("")).toBeNull();
  });

  it("say in words when their file is not there", async () => {
    const [first] = DEMONSTRATIONS;
    if (first === undefined) throw new Error("none");
    vi.stubGlobal("fetch", async () => new Response("", { status: 404 }));
    expect(await fetchDemonstration(first, "http://127.0.0.1/app/")).toEqual({
      ok: false,
      reason: "projects/skerry-light-insect.json is not there",
    });
    vi.stubGlobal("fetch", async () => {
      throw new Error("offline");
    });
    expect((await fetchDemonstration(first, "http://127.0.0.1/app/")).ok).toBe(false);
    vi.unstubAllGlobals();
  });
});
