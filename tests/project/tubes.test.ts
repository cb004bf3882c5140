import { describe, expect, it } from "vitest";
import {
  findRegisteredTube,
  NAMED_TUBES,
  REGISTERED_TUBES,
  registeredRatings,
  registeredTriode,
} from "../../src/project/tubes";

interface Standing {
  readonly value: number;
  readonly standing: string;
  readonly source: string;
}

/** Every figure of a value, at any depth. */
function figuresIn(value: unknown): Standing[] {
  if (typeof value !== "object" || value === null) return [];
  if ("standing" in value && "value" in value) return [value as Standing];
  return Object.values(value).flatMap(figuresIn);
}

describe("the registered types", () => {
  it("are eight, each designation once", () => {
    const names = REGISTERED_TUBES.flatMap(({ type, otherTypes }) => [type, ...otherTypes]);
    expect(names).toEqual([
      "3-500Z",
      "8877",
      "3CX1500A7",
      "572B",
      "811A",
      "GI-7B",
      "3-400Z",
      "3-1000Z",
      "3CX1200A7",
    ]);
  });

  it("state for every figure how well it is known and whence", () => {
    for (const tube of REGISTERED_TUBES) {
      expect(tube.standing).toBe("typical, unverified");
      expect(tube.fitRemark).toMatch(/\S/);
      const figures = figuresIn(tube);
      expect(figures.length).toBeGreaterThanOrEqual(5);
      for (const { value, standing, source } of figures) {
        expect(Number.isFinite(value)).toBe(true);
        expect(["source confirmed", "from memory"]).toContain(standing);
        // What is remembered is never said to be more than that.
        if (standing === "from memory") expect(source).toContain("from memory");
      }
    }
  });

  it("mark as confirmed only the figures that a source was found for", () => {
    const confirmed = (type: string) =>
      Object.entries(findRegisteredTube(type) ?? {})
        .filter(([, figure]) => figuresIn([figure]).some((f) => f.standing === "source confirmed"))
        .map(([name]) => name);
    expect(confirmed("3-500Z")).toEqual(["plateCurrentA", "columns"]);
    expect(confirmed("8877")).toEqual([
      "mu",
      "plateDissipationW",
      "gridDissipationW",
      "heaterV",
      "heaterA",
    ]);
    for (const type of ["572B", "811A", "GI-7B", "3-400Z", "3-1000Z", "3CX1200A7"]) {
      expect(confirmed(type)).toEqual([]);
    }
  });

  it("may be named in a project when a law was fitted to them", () => {
    expect(NAMED_TUBES).toEqual(["3-500Z", "8877", "3CX1500A7", "811A", "3CX1200A7"]);
    for (const name of NAMED_TUBES) expect(registeredTriode(name, 1)?.name).toBe(name);
    expect(registeredTriode("GI-7B", 1)).toBe(null);
    expect(registeredTriode("12345", 1)).toBe(null);
    expect(findRegisteredTube("3CX1500A7")?.type).toBe("8877");
  });

  it("have currents and dissipations for every tube, and one plate voltage for all", () => {
    // 3-500Z: 4000 V, 0.4 A, 500 W, grid 20 W; twice that but the voltage. No grid current is rated.
    const tube = findRegisteredTube("3-500Z");
    if (tube === null) throw new Error("no 3-500Z");
    expect(registeredRatings(tube, 2)).toEqual({
      plateV: 4000,
      plateDissipationW: 1000,
      plateCurrentA: 0.8,
      gridDissipationW: 40,
    });
  });
});
