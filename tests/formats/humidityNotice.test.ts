/** Air too dry or too damp for the correction of gaps is accepted and said. */
import { describe, expect, it } from "vitest";
import { readProject } from "../../src/formats/projectFile";

function noticesAt(airK: number, relativeHumidity: number): readonly string[] {
  const site = { airK, relativeHumidity };
  const text = JSON.stringify({ format: "quietarc-project", schemaVersion: 1, station: { site } });
  const read = readProject(text);
  if (!read.ok) throw new Error(read.problems[0]?.message);
  return read.notices.map((n) => `${n.place}: ${n.message}`);
}

describe("humidity outside 1 to 13 g/m3", () => {
  it("is accepted with a notice, and inside without", () => {
    expect(noticesAt(293.15, 0.5)).toEqual([]); // 8.64 g/m3, worked with another program
    // 24.3 g/m3 at 30 degC and 80 %, worked with another program
    expect(noticesAt(303.15, 0.8)).toEqual([
      "station.site.relativeHumidity: 24.3 g of water in a cubic metre of air; the correction of gaps is known from 1 to 13 g and held at its end",
    ]);
    expect(noticesAt(263.15, 0.2)).toHaveLength(1); // 0.5 g/m3
  });
});
