import { it } from "vitest";
import { defaultProject } from "../src/project/defaults";
import { FAULT_NAMES, FAULTS, usualSeverity } from "../src/project/faults";
import { createBench } from "../src/simulation/bench";

it("x", () => {
  const base = createBench(defaultProject([{ atS: 0, do: "key", down: true }]), {
    protection: "inhibited",
  });
  if (!base.ok) throw 1;
  const b = base.bench;
  b.advanceTo(100e6);
  const snap = b.snapshot();
  console.log([...b.sensedRow.slice(0, 10)].map((x) => +x.toPrecision(4)).join(" "));
  const out: string[] = [];
  for (const f of FAULT_NAMES)
    for (const p of FAULTS[f].parts) {
      if (FAULTS[f].latent) continue;
      const o = b.another();
      o.visit(snap);
      const t0 = performance.now();
      try {
        o.schedule(100e6, {
          do: "placeFault",
          fault: f,
          part: p,
          severity: usualSeverity(f, p),
          ...(FAULTS[f].usualOnset ? { onset: FAULTS[f].usualOnset } : {}),
        });
        o.advanceTo(300e6);
      } catch (e) {
        out.push(f + " " + e);
        continue;
      }
      out.push(
        `${f} ${p} ${(performance.now() - t0).toFixed(0)}ms | ` +
          [...o.sensedRow.slice(0, 10)].map((x) => +x.toPrecision(4)).join(" ") +
          " | " +
          o.events
            .filter((e) => e.kind === "protection" && e.event.kind === "operate")
            .map((e) =>
              e.kind === "protection"
                ? e.event.monitorId + "@" + ((e.atNs - 1e8) / 1e6).toFixed(1)
                : "",
            )
            .join(","),
      );
    }
  console.log(out.join("\n"));
}, 60000);
