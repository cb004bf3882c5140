/**
 * What the README says of every fault. The whole table is `npm run faults check`; here some of its lines are worked out anew,
 * and no fault is missing.
 */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../src/project/defaults";
import { FAULT_NAMES, FAULTS } from "../../src/project/faults";
import { type FaultPlace, type FaultRow, faultTable } from "../../src/study/faultTable";
import { expectWithin } from "../support/expectWithin";
import { faultLine } from "../support/faultRows";
import { writtenBlock } from "../support/readmeBlock";

const table = faultTable(defaultProject());

const done = new Map<string, FaultRow>();

function row(place: FaultPlace): FaultRow {
  if (!table.ok) throw new Error(table.problem);
  const key = Object.values(place).join();
  const known = done.get(key) ?? table.row(place);
  done.set(key, known);
  return known;
}

const lines = (writtenBlock("faults") ?? "").split("\n");

describe("the table of all faults", () => {
  it("names every fault, with what nothing catches in words", () => {
    for (const name of FAULT_NAMES) {
      const rows = lines.filter((l) => l.startsWith(`| ${FAULTS[name].name} `));
      expect(rows.length, name).toBeGreaterThan(0);
    }
    expect(lines.join("\n")).toMatch(/\*\*Caught by nothing at all\*\*.*cathode bias lost/);
  });

  it.each([
    { fault: "arc", part: "loadingCapacitor" },
    { fault: "plateSupplyShort", part: "supply" },
    { fault: "gridTouch", part: "tube" },
    { fault: "sensorOpen", part: "outputForwardW" },
    { fault: "shortedTurn", part: "tank" },
  ] as const)("$fault on $part is as the README says", (place) => {
    expect(lines).toContain(faultLine(row(place)));
  });

  it("says of an arc what the table of cases says", () => {
    const cases = (writtenBlock("cases") ?? "").split("\n");
    const arc = cases.find((l) => l.startsWith("| Arc at the loading capacitor"))?.split(" | ");
    const row = lines.find((l) => l.startsWith("| Arc struck | loading capacitor"))?.split(" | ");
    expect(row?.slice(2, 5)).toEqual(arc?.slice(1, 4));
    expect(row?.[5]).toBe(`loading capacitor, ${arc?.[4]}`);
    expect(row?.[6]).toBe(`${arc?.[5]} |`);
  });

  it("gives no margin where a part heats on: the idle current alone takes a plate without air to its limit", () => {
    const project = defaultProject();
    const monitors = project.monitors.map((m) =>
      m.id === "exhaustAir"
        ? {
            ...m,
            actions: ["driveInhibit" as const],
            // early, for a short run
            criteria: m.criteria.map((c) => ({ ...c, pickup: 310, dropOff: 308 })),
          }
        : m,
    );
    const driveOnly = faultTable({ ...project, monitors });
    if (!driveOnly.ok) throw new Error(driveOnly.problem);
    const lost = driveOnly.row({ fault: "airflowLost", part: "tube" });
    expect([lost.trip?.id, lost.heatsOn?.part, lost.margin]).toEqual(["exhaustAir", "anode", null]);
    expect(lost.endedS).toBeGreaterThanOrEqual(lost.trip?.atS ?? Infinity);
    expect(faultLine(lost)).toMatch(/\| heats on: [^|]+, about \d+ s \|$/);
  });

  it("reckons a clock on from its stress: a surge resistor in a short, and a margin over the contactor", () => {
    const short = row({ fault: "plateSupplyShort", part: "supply" });
    expect(short.weakest?.part).toBe("surgeResistor");
    // filter of 40 uF at 3.05 kV under load: 186 J, two thirds of them in 10 of 15 ohm. Then 3180 V through 165 ohm: 19.3 A,
    // 3.71 kW in 10 ohm. (500 - 124) J / 3.71 kW
    expectWithin(
      short.weakest?.damageS ?? 0,
      0.1013,
      0.003,
      "the filter empties for 1 ms meanwhile",
    );
    expectWithin(
      short.margin ?? 0,
      (short.weakest?.damageS ?? 0) / (short.clearingS ?? 1),
      1e-12,
      "exact",
    );
  });
});
