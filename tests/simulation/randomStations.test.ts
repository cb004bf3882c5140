/**
 * Random stations with random faults on the running bench: every number finite, the same record twice, and the energy
 * accounted for. The identities are in `energyBalance`. Five run for ten seconds here, in samples of 0.5 ms, which takes the
 * settled stretches a tenth as often and leaves transients as they are; all hundred, in the usual samples, are `npm run bench random`.
 */
import { describe, expect, it } from "vitest";
import { randomRun } from "../support/randomRuns";
import { randomProject } from "../support/randomStations";

describe("a random station with random faults", () => {
  it.each([0, 1, 2, 3, 4])(
    "stays finite, repeats itself and loses no energy: number %i",
    (index) => {
      // a number that is not finite throws, another record at the second run too
      const run = randomRun(index, 10, 500_000);
      expect(run.instants).toBe(141);
      expect(run.windows).toBeGreaterThan(50);
      // identities: of the equations at every instant, of the settled samples over windows in which the powers stand
      expect(run.instant).toBeLessThan(1e-6);
      expect(run.window).toBeLessThan(1e-6);
    },
  );

  it("is another one each time, of every band and class, and most faults are among a hundred", () => {
    const projects = Array.from({ length: 100 }, (_, index) => randomProject(index, 10));
    const kinds = (of: (p: (typeof projects)[number]) => string): number =>
      new Set(projects.map(of)).size;
    expect(kinds((p) => p.station.tank.kind)).toBe(2);
    expect(kinds((p) => `${p.station.tube.count} ${p.station.tube.mu}`)).toBe(4);
    expect(kinds((p) => String(Math.floor(p.station.freqHz / 1e6)))).toBeGreaterThan(7);
    const placed = projects.flatMap((p) =>
      p.scenario.flatMap((e) => (e.do === "placeFault" ? [e.fault] : [])),
    );
    expect(new Set(placed).size).toBeGreaterThan(45);
    expect(randomProject(7, 10)).toEqual(projects[7]);
  });
});
