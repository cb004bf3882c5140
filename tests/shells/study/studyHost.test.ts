import { describe, expect, it } from "vitest";
import { DEFAULT_STATION } from "../../../src/project/defaults";
import type { FromStudy } from "../../../src/shells/study/protocol";
import { StudyHost } from "../../../src/shells/study/studyHost";
import { expectWithin } from "../../support/expectWithin";

function host() {
  const sent: FromStudy[] = [];
  return { sent, host: new StudyHost((message) => sent.push(message)) };
}

const study = (id: number) =>
  ({ kind: "study", id, station: DEFAULT_STATION, driveW: 62, swr: 2 }) as const;

describe("a study of a station", () => {
  it("answers the working point first, then every band, and the charts last", () => {
    const run = host();
    run.host.receive(study(1));
    while (run.host.next() !== null) run.host.work();
    const kinds = run.sent.map(({ kind }) => kind);
    expect(kinds[0]).toBe("here");
    expect(kinds.filter((k) => k === "band")).toHaveLength(9); // 160 m to 10 m
    expect(kinds.slice(-3)).toEqual(["drive", "circle", "done"]);
    const [first] = run.sent;
    const outputW = first?.kind === "here" ? (first.here.matched?.outputW ?? 0) : 0;
    // The demonstration station: 62 W of drive give 1453 W.
    expectWithin(outputW, 1453, 3, "its design figure is given to four digits");
  });

  it("is given up when another is asked for", () => {
    const run = host();
    run.host.receive(study(1));
    run.host.work();
    run.host.work();
    run.host.receive(study(2));
    while (run.host.next() !== null) run.host.work();
    const ids = run.sent.map((m) => ("id" in m ? m.id : 0));
    expect(run.sent.filter((m) => m.kind === "done")).toHaveLength(1);
    expect(ids.indexOf(2)).toBeGreaterThan(0);
    expect(ids.slice(ids.indexOf(2)).every((id) => id === 2)).toBe(true);
    run.host.receive({ kind: "cancel" });
    expect(run.host.next()).toBe(null);
  });

  it("says in words what keeps a design from being built", () => {
    const run = host();
    const { tank } = DEFAULT_STATION;
    const bands = "bands" in tank ? tank.bands.map((b) => ({ ...b, loadedQ: 2 })) : [];
    const station = { ...DEFAULT_STATION, tank: { ...tank, bands } as typeof tank };
    run.host.receive({ ...study(1), station });
    while (run.host.next() !== null) run.host.work();
    const [first] = run.sent;
    expect(first?.kind === "here" && first.here.problem).toMatch(/\w+ \w+/);
    expect(run.sent.at(-1)?.kind).toBe("done");
  });
});
