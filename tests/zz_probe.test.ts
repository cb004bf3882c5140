import { it } from "vitest";
import { defaultProject } from "../src/project/defaults";
import { usualSeverity } from "../src/project/faults";
import { protectionLog, reading } from "./support/benchLog";
import { benchOf, faultScenario } from "./support/cases";

it("probe", () => {
  const rows: [string, number | null, number, any, boolean][] = [
    ["tubeAgeing", null, 3, undefined, true],
    ["tubeOut", null, 1, undefined, true],
    ["gassyTube", null, 3, undefined, true],
    ["gassyTube", 0.12, 1, { kind: "growing", overS: 0.3 }, true],
    ["gassyTube", 0.12, 1, undefined, true],
    ["gridTouch", null, 1, undefined, true],
    ["selfOscillation", null, 1, undefined, true],
    ["selfOscillation", null, 1, undefined, false],
    ["selfOscillation", 0.1, 3, undefined, false],
  ];
  for (const [fault, sev, len, onset, drive] of rows) {
    const f = fault as any;
    let sc = faultScenario(f, "tube", sev ?? usualSeverity(f, "tube"), 0.10037) as any[];
    if (onset) sc = sc.map((e) => (e.do === "placeFault" ? { ...e, onset } : e));
    if (!drive) sc = [{ atS: 0, do: "set", control: "driveW", value: 0 }, ...sc];
    const b = benchOf(defaultProject(sc));
    const show = (w: string) =>
      console.log(
        w,
        [
          "driveW",
          "driveReflectedW",
          "forwardW",
          "plateCurrentA",
          "gridCurrentA",
          "plateV",
          "plateDissipationW",
          "cathodeV",
        ]
          .map((q) => {
            try {
              return `${q}=${reading(b, q as any).toFixed(3)}`;
            } catch {
              return q;
            }
          })
          .join(" "),
      );
    b.advanceTo(120_000_000);
    console.log("==", fault, sev, onset, drive);
    show("at 20ms");
    b.advanceTo(Math.round((0.10037 + len) * 1e9));
    show("end");
    console.log(
      protectionLog(b, "trip").map(
        (e) => `${e.event.monitorId} ${(e.atNs / 1e6 - 100.37).toFixed(3)}`,
      ),
      protectionLog(b, "alarm").map(
        (e) => `${e.event.monitorId} ${(e.atNs / 1e6 - 100.37).toFixed(1)}`,
      ),
      b.events
        .filter((e) => e.kind === "cleared" || e.kind === "supply" || e.kind === "milestone")
        .map((e) => `${JSON.stringify(e)} `),
    );
  }
});
