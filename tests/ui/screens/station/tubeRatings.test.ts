/** Published ratings of a registered tube against a working point: times the tubes there are, and never invented. */
import { describe, expect, it } from "vitest";
import { DEFAULT_STATION } from "../../../../src/project/defaults";
import type { RegisteredTube } from "../../../../src/project/registeredTube";
import {
  findRegisteredTube,
  registeredRatings,
  registeredTriode,
} from "../../../../src/project/tubes";
import { headroom, type StressRow } from "../../../../src/study/partStress";
import {
  lawWords,
  publishedBandsSentence,
  publishedRows,
  publishedSentence,
  registeredTypeOf,
} from "../../../../src/ui/screens/station/tubeRatings";
import { expectWithin } from "../../../support/expectWithin";

const GLASS = findRegisteredTube("3-500Z") as RegisteredTube;
const now = (by: StressRow["by"], unit: StressRow["unit"], value: number): StressRow => ({
  part: "tube",
  by,
  unit,
  value,
  rating: 1,
});
const POINT = [
  now("plateCurrent", "A", 0.6),
  now("gridCurrent", "A", 0.2),
  now("plateDissipation", "W", 1200),
  now("plateVoltage", "V", 3000),
];

describe("published ratings of a registered tube", () => {
  it("are those of the sheet: currents and powers times the tubes, the voltage once", () => {
    // 0.4 A, 500 W, 4000 V a tube, no grid current stated: manufacturer's data sheet, from memory
    const rows = publishedRows(GLASS, 2, DEFAULT_STATION.ratings, POINT);
    const left = (by: StressRow["by"]) => headroom(rows.find((r) => r.by === by) as StressRow);
    expectWithin(left("plateCurrent") ?? Number.NaN, 1 - 0.6 / 0.8, 1e-12, "rounding");
    expectWithin(left("plateDissipation") ?? Number.NaN, 1 - 1200 / 1000, 1e-12, "rounding");
    expectWithin(left("plateVoltage") ?? Number.NaN, 1 - 3000 / 4000, 1e-12, "rounding");
    expect(left("gridCurrent")).toBeNull();
    expect(rows.map((r) => r.by)).not.toContain("gridDissipation");
  });

  it("say where the station is judged by another value", () => {
    const own = { ...DEFAULT_STATION.ratings, ...registeredRatings(GLASS, 2) };
    const differing = (ratings: typeof own) =>
      publishedRows(GLASS, 2, ratings, POINT).filter(
        (r) => r.rating !== null && r.ownRating !== null,
      );
    expect(differing(own)).toEqual([]);
    expect(differing({ ...own, plateCurrentA: 1 }).map((r) => r.ownRating)).toEqual([1]);
  });

  it("are told where they are passed although the station's own are kept, and of which bands", () => {
    const tube = registeredTriode("3-500Z", 2);
    if (tube === null) throw new Error("no law");
    const ratings = { ...DEFAULT_STATION.ratings, plateDissipationW: 5000 };
    // 1200 W in two tubes of 500 W each: 120 %
    const said = publishedSentence({ tube, ratings }, POINT).replaceAll("\u00a0", " ");
    expect(said).toBe(
      " Passes what is published for 2 × 3-500Z: plate dissipation, 120 % of rating.",
    );
    const within = [now("plateDissipation", "W", 990)];
    expect(publishedSentence({ tube, ratings }, within)).toBe("");
    expect(publishedSentence(DEFAULT_STATION, POINT)).toBe("");
    const rows = [
      { band: "20 m", stresses: POINT },
      { band: "10 m", stresses: within },
      { band: "6 m", stresses: [] },
    ];
    expect(publishedBandsSentence({ tube, ratings }, rows)).toMatch(
      /3-500Z: 20 m \(plate dissipation\)\.$/,
    );
    expect(publishedBandsSentence({ tube, ratings }, rows.toSpliced(1, 1))).toMatch(
      /3-500Z on every band: plate dissipation\.$/,
    );
    expect(publishedBandsSentence({ tube, ratings }, rows.slice(1))).toBe("");
  });

  it("belong to a type with its own law, not to a tube that only has its name", () => {
    const tube = registeredTriode("3-500Z", 2);
    if (tube === null) throw new Error("no law");
    expect(registeredTypeOf(tube)?.type).toBe("3-500Z");
    expect(registeredTypeOf({ ...tube, mu: tube.mu + 1 })).toBeNull();
    expect(registeredTypeOf(DEFAULT_STATION.tube)).toBeNull();
    expect(lawWords(GLASS)).toBe("missed by 4.2 % rms");
    expect(lawWords(findRegisteredTube("GI-7B") as RegisteredTube)).toBe("no law");
  });
});
