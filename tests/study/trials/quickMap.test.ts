/** Quick runs against the bench itself: the same readings within a stated limit, the same operations at the same scans. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../src/project/defaults";
import type { MonitorDef, MonitorRole } from "../../../src/project/protection";
import type { ScenarioEntry } from "../../../src/project/scenario";
import type { Project } from "../../../src/project/types";
import { createSensing, SENSOR_NAMES } from "../../../src/protection/sensing/sensing";
import { createBench } from "../../../src/simulation/bench";
import { type Operation, operationOf, quickRun } from "../../../src/study/trials/quickMapRun";
import { BLOCK, QuickSensing } from "../../../src/study/trials/quickMapSensing";

const SPEECH: readonly ScenarioEntry[] = [
  { atS: 0, do: "signal", signal: "speech", talker: 3 },
  { atS: 0, do: "key", down: true },
];

/** Low gain at 1 dB without smoothing or confirmation, behind detectors of 0.2 and 0.5 ms: it operates on speech. */
function unmatched(project: Project): Project {
  const { sensors, monitors } = project;
  return {
    ...project,
    sensors: { ...sensors, outputForwardW: { ...sensors.outputForwardW, timeConstantS: 0.5e-3 } },
    monitors: monitors.map((m) => (m.id === "lowGain" ? touchy(m) : m)),
  };
}

function touchy(m: MonitorDef): MonitorDef {
  const timing = { kind: "definite", delayS: 0 } as const;
  const criteria = m.criteria.map((c) => ({ ...c, pickup: -1, dropOff: -0.5, timing }));
  return { ...m, smoothingS: 0, criteria };
}

function lasting(scenario: readonly ScenarioEntry[], endS: number): Project {
  return { ...defaultProject(scenario), endS };
}

interface Compared {
  /** Largest differences of readings, of full scale, by sensor. */
  readonly worst: Readonly<Record<string, number>>;
  readonly quick: readonly Operation[];
  readonly bench: readonly Operation[];
}

/** Both engines side by side; sensors that no monitor reads are left out. */
function compared(project: Project): Compared {
  const created = createBench(project, { protection: "inhibited" });
  if (!created.ok) throw new Error(created.problem);
  const { bench } = created;
  const worst: Record<string, number> = {};
  const outcome = quickRun(project, {
    sink: (first, n, rows) => {
      for (let k = 0; k < n; k++) {
        bench.advanceTo((first + k + 1) * project.sampleNs);
        SENSOR_NAMES.forEach((name, i) => {
          if (name === "driveReflectedW" || name === "tankLight") return;
          const gap = Math.abs((rows[k]?.[i] as number) - (bench.sensedRow[i] as number));
          worst[name] = Math.max(worst[name] ?? 0, gap / project.sensors[name].fullScale);
        });
      }
    },
  });
  if (!outcome.ok) throw new Error(outcome.reason);
  const operations = bench.events.flatMap((e) => {
    const operation = e.kind === "protection" ? operationOf(e.event) : null;
    return operation === null ? [] : [operation];
  });
  return { worst, quick: outcome.operations, bench: operations };
}

/**
 * A converter's step is 0.024 % of full scale; a difference of less than one step may show as one. The plate current shows a
 * bypass capacitor that charges when bias comes on, for one sample: 0.22 %.
 */
const LIMIT = 0.003;

describe("a quick run beside the bench", () => {
  it("shows every sensor within 0.3 % of full scale and operates low gain at the same scans, on speech", () => {
    const { worst, quick, bench } = compared(unmatched(lasting(SPEECH, 0.25)));
    for (const name of Object.keys(worst)) expect(worst[name], name).toBeLessThan(LIMIT);
    expect(bench.map((o) => o.monitor)).toContain("lowGain");
    expect(quick).toEqual(bench);
  });

  it("does so on Morse, with relays between the elements", () => {
    const { worst, quick, bench } = compared(
      lasting([{ atS: 0, do: "key", text: "E", wordsPerMinute: 40 }], 0.38),
    );
    for (const name of Object.keys(worst)) expect(worst[name], name).toBeLessThan(LIMIT);
    expect(quick).toEqual(bench);
  });

  it("does so through a mains dip and while an antenna sways", () => {
    const { worst, quick, bench } = compared(
      lasting(
        [
          { atS: 0, do: "placeFault", fault: "sway", part: "load", severity: 0.01 },
          { atS: 0, do: "key", down: true },
          {
            atS: 0.04,
            do: "placeFault",
            fault: "mainsDip",
            part: "supply",
            severity: 0.3,
            onset: { kind: "passing", forS: 0.02 },
          },
        ],
        0.08,
      ),
    );
    for (const name of Object.keys(worst)) expect(worst[name], name).toBeLessThan(LIMIT);
    expect(quick).toEqual(bench);
  });

  it("answers the same whether monitors are asked at every sample or only where they could move", () => {
    const low = (p: Project): Project => ({
      ...p,
      monitors: p.monitors.map((m) =>
        m.id === "plateRfOvervoltage"
          ? { ...m, criteria: m.criteria.map((c) => ({ ...c, pickup: 2300, dropOff: 2200 })) }
          : m,
      ),
    });
    const project = low(lasting(SPEECH, 0.5));
    const left = quickRun(project);
    // a sink asks for every reading; a scan that is no whole block keeps low gain's sensors awake
    const awake = {
      ...project,
      monitors: [...project.monitors, { ...extraEverySample(project), id: "awake" }],
    };
    const asked = quickRun(awake, { sink: () => undefined });
    if (!left.ok || !asked.ok) throw new Error("refused");
    expect(left.operations.some((o) => o.monitor === "plateRfOvervoltage")).toBe(true);
    expect(asked.operations.filter((o) => o.monitor !== "awake")).toEqual(left.operations);
  });

  it("does so for the slower ones, whatever their role in either mode", () => {
    const eager = (id: string, pickup: number, role: MonitorRole, tuneRole: MonitorRole) => {
      const { alarm, ...m } = preset(id);
      const criteria = m.criteria.map((c) => ({
        ...c,
        pickup,
        dropOff: 0.97 * pickup,
        timing: { kind: "definite", delayS: 2e-3 } as const,
      }));
      const level = alarm === null ? null : { ...alarm, level: 0.6 * pickup, delayS: 3e-3 };
      return { ...m, alarm: level, criteria, role, tuneRole };
    };
    const monitors = [
      eager("plateTimed", 0.6, "acting", "off"),
      eager("gridTimed", 0.03, "acting", "acting"),
      { ...eager("gridFast", 0.02, "shadow", "shadow"), scanS: 2e-3 },
      eager("overdrive", 8, "off", "acting"),
    ];
    const base = lasting(
      [
        { atS: 0, do: "signal", signal: "twoTone", spacingHz: 60 },
        { atS: 0, do: "key", down: true },
        { atS: 0.1003, do: "mode", mode: "tune" },
        { atS: 0.2004, do: "mode", mode: "operate" },
      ],
      0.3,
    );
    const left = quickRun({ ...base, monitors });
    const awake = { ...extraEverySample(base), id: "awake" };
    const asked = quickRun({ ...base, monitors: [...monitors, awake] }, { sink: () => undefined });
    if (!left.ok || !asked.ok) throw new Error("refused");
    for (const { id } of monitors) expect(left.operations.map((o) => o.monitor)).toContain(id);
    expect(left.operations.map((o) => o.kind)).toContain("alarm");
    expect(asked.operations.filter((o) => o.monitor !== "awake")).toEqual(left.operations);
  });

  it.each([0.0401, 0.0409, 0.04095])(
    "follows a dip at %s s of a supply without resistance, wherever in a block it comes",
    (atS) => {
      const supply = { kind: "stiff", plateV: 3000 } as const;
      const onset = { kind: "passing", forS: 0.02 } as const;
      const project = lasting(
        [
          { atS: 0, do: "key", down: true },
          { atS, do: "placeFault", fault: "mainsDip", part: "supply", severity: 0.2, onset },
        ],
        0.05,
      );
      const { worst } = compared({ ...project, station: { ...project.station, supply } });
      // the sample in which the voltage jumps is cut in two on the bench
      for (const name of Object.keys(worst)) expect(worst[name], name).toBeLessThan(0.01);
    },
  );

  it("says what it cannot follow", () => {
    const refused = (scenario: readonly ScenarioEntry[]): string => {
      const outcome = quickRun(lasting(scenario, 0.3));
      return outcome.ok ? "" : outcome.reason;
    };
    expect(
      refused([
        { atS: 0, do: "placeFault", fault: "insect", part: "tuningCapacitor", severity: 1 },
      ]),
    ).toMatch(/insect/);
    expect(refused([{ atS: 0, do: "reset" }])).toMatch(/reset/);
    // full drive into nearly nothing strikes the gap of the loading capacitor or drives the grid beyond any map
    expect(
      refused([
        { atS: 0, do: "set", control: "driveW", value: 400 },
        { atS: 0, do: "key", down: true },
      ]),
    ).not.toBe("");
  });
});

function preset(id: string): MonitorDef {
  const monitor = defaultProject([]).monitors.find((m) => m.id === id);
  if (monitor === undefined) throw new Error(`no monitor ${id}`);
  return monitor;
}

function extraEverySample(project: Project): Project["monitors"][number] {
  const rf = project.monitors.find((m) => m.id === "plateRfOvervoltage");
  if (rf === undefined) throw new Error("no such monitor");
  return { ...rf, role: "shadow", criteria: rf.criteria.map((c) => ({ ...c, quantity: "vswr" })) };
}

describe("sensing in blocks", () => {
  it.each([
    ["every reading", SENSOR_NAMES],
    ["readings at the end of a block alone", []],
  ] as const)(
    "reads to the last bit what the bench's sensing reads sample by sample: %s",
    (_, kept) => {
      const project = defaultProject([]);
      const smoothings = [
        { sensor: "driveForwardW", smoothingS: 2e-3 },
        { sensor: "outputForwardW", smoothingS: 0 },
        { sensor: "outputForwardW", smoothingS: 0.5e-3 },
        { sensor: "outputForwardW", smoothingS: 2e-3 },
        { sensor: "outputReflectedW", smoothingS: 0 },
        { sensor: "plateCurrentA", smoothingS: 0 },
      ] as const;
      const whole = createSensing(project, smoothings);
      const state = new Float64Array(whole.stateLength);
      const row = new Float64Array(whole.rowLength);
      whole.init(state, 0, 7);
      const blocks = new QuickSensing(project.sensors, project.sampleNs, smoothings, kept);
      blocks.init(7, {});
      const means = new Float64Array(SENSOR_NAMES.length * BLOCK);
      const one = new Float64Array(SENSOR_NAMES.length);
      let made = 0;
      let compared = 0;
      const lengths = [20, 1, 7, 20, 13];
      // then everything stands, until every detector has come to rest
      const standing = Array.from({ length: 60 }, () => 20);
      for (const [round, n] of [...lengths, ...standing].entries()) {
        const isFlat = round >= lengths.length;
        for (let k = 0; k < n; k++) {
          SENSOR_NAMES.forEach((name, i) => {
            const at = isFlat ? 3 : made + k;
            const turn = ((at * 37 + i * 11) % 101) / 90; // past full scale at times
            means[i * BLOCK + k] = turn * project.sensors[name].fullScale;
          });
        }
        blocks.advance(means, n, isFlat);
        for (let k = 0; k < n; k++) {
          for (let i = 0; i < one.length; i++) one[i] = means[i * BLOCK + k] as number;
          whole.advanceSegment(state, 0, project.sampleNs / 1e9, one);
          whole.endSample(state, 0, row);
          if (kept.length === 0 && k < n - 1) continue;
          for (const { sensor, smoothingS } of smoothings) {
            const at = k * blocks.rowLength + blocks.rowIndex(sensor, smoothingS);
            if (blocks.rows[at] !== row[whole.rowIndex(sensor, smoothingS)])
              throw new Error(`${sensor} over ${smoothingS} s differs in round ${round}`);
            compared++;
          }
        }
        made += n;
      }
      expect(made).toBe(61 + 1200);
      expect(compared).toBe(smoothings.length * (kept.length === 0 ? 65 : made));
    },
  );
});
