/** Sheets through the study's own messages, and the store that keeps them. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import type { FromStudy, StudyPort, ToStudy } from "../../src/shells/study/protocol";
import { StudyHost } from "../../src/shells/study/studyHost";
import { createCoordination } from "../../src/state/coordination";
import type { StressName } from "../../src/study/coordination/stress";

/** A host without a worker: works when it is told to. */
function harness() {
  const said: FromStudy[] = [];
  let listener: ((message: FromStudy) => void) | null = null;
  const host = new StudyHost((message) => {
    said.push(message);
    listener?.(message);
  });
  const port: StudyPort = {
    post: (message: ToStudy) => host.receive(message as Exclude<ToStudy, { kind: "fit" }>),
    listen: (next) => {
      listener = next;
    },
    close: () => {},
  };
  return { host, port, said };
}

const whole = defaultProject();
/** Two monitors are enough here: messages are the matter, not what they carry. */
const monitors = whole.monitors.filter((m) => m.id === "plateTimed" || m.id === "gridTimed");
const project = { ...whole, monitors };

describe("coordination sheets in slices", () => {
  it("come as they grow, whole ones are not made again, and the next stress begins where one stopped", () => {
    const { host, port, said } = harness();
    const study = createCoordination(() => port);
    study.ask(project, "plateCurrent");
    const sheets = () => said.flatMap((m) => (m.kind === "sheet" ? [m] : []));
    while (!study.store.getState().whole.has("plateCurrent")) host.work();
    const grown = sheets().map((m) => m.done);
    expect(grown).toEqual([...grown].sort((a, b) => a - b));
    expect(grown.length).toBeGreaterThan(3);
    expect(study.store.getState()).toMatchObject({ working: true, failure: "", project });

    // another look at it: the whole sheet is there after two slices
    study.rest();
    expect(study.store.getState().working).toBe(false);
    expect(host.next()).toBeNull();
    const before = sheets().length;
    study.ask(project, "plateCurrent");
    host.work();
    host.work();
    expect(sheets().length).toBe(before + 1);
    expect(sheets().at(-1)?.sheet.points).toEqual(sheets()[before - 1]?.sheet.points);
  });

  it("another setting takes the place of what is under way; old sheets stay until a new one comes", () => {
    const { host, port } = harness();
    const study = createCoordination(() => port);
    const work = (slices: number): void => {
      for (let k = 0; k < slices; k++) host.work();
    };
    const stress: StressName = "gridCurrent";
    study.ask(project, stress);
    work(8);
    expect(study.store.getState().project).toBe(project);
    const other = { ...project, monitors: monitors.slice(1) };
    study.ask(other, stress);
    expect(study.store.getState().project).toBe(project);
    work(8);
    expect(study.store.getState().project).toBe(other);
    const [point] = study.store.getState().sheets.get(stress)?.points ?? [];
    expect(point?.monitors).toHaveLength(1);
  });

  it("a station without a design is said in words", () => {
    const { host, port } = harness();
    const study = createCoordination(() => port);
    const { station } = project;
    const tank = { ...station.tank, bands: [] } as unknown as typeof station.tank;
    study.ask({ ...project, station: { ...station, tank } }, "mismatch");
    host.work();
    expect(study.store.getState()).toMatchObject({
      working: false,
      failure: "No sheet can be made: the tank has no bands.",
    });
  });
});
