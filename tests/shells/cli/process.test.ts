import { spawnSync } from "node:child_process";
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { expectWithin } from "../../support/expectWithin";
import { ROOT } from "../../support/root";

/** Runs the program as a person would; the bundle is made on first use. */
function quietarc(words: readonly string[], input = "") {
  const script = resolve(ROOT, "src/shells/node/quietarc.mjs");
  const ended = spawnSync(process.execPath, [script, ...words], {
    cwd: ROOT,
    input,
    encoding: "utf8",
  });
  return { status: ended.status, out: ended.stdout, error: ended.stderr };
}

/** One triode of the generic pair's doubled perveance at 14.2 MHz, 65 W of drive, all parts given as such. */
const EXPLICIT = `{ "format": "quietarc-project", "schemaVersion": 1, "station": {
  "freqHz": 14200000,
  "exciter": { "sourceOhm": 50, "availableW": 65 },
  "inputCircuit": { "kind": "explicit", "turnsRatio": 1.077, "capacitanceF": 4.8e-10, "inductanceH": 2.6e-7, "shuntOhm": 1500 },
  "tube": { "kind": "triode", "count": 1, "mu": 200, "perveanceAPerV1p5": 0.0042, "divisionRatio": 3, "offsetV": 0 },
  "bias": { "cathodeV": 9 },
  "supply": { "kind": "stiff", "plateV": 3000 },
  "tank": { "kind": "explicitPi", "tuningF": 7.6e-11, "coilH": 2.0e-6, "coilSeriesOhm": 0.6, "loadingF": 3.9e-10, "chokeH": 9e-5 },
  "load": { "kind": "admittance", "conductanceSiemens": 0.02, "susceptanceSiemens": 0 },
  "arc": { "place": "tuningCapacitor", "maintainingV": 250 } } }`;

describe("the program on the command line", () => {
  beforeAll(() => {
    quietarc(["help"]); // makes the bundle, so that no test waits for it
  });

  it("prints the operating point of a circuit from standard input as one JSON object", () => {
    const { status, out, error } = quietarc(["operating-point", "-"], EXPLICIT);
    expect(status).toBe(0);
    expect(error).toMatch(/^[^\n]*: notice: monitors: the file names no monitors: [^\n]*\n$/);
    const point: Record<string, number> = JSON.parse(out);
    for (const name of [
      "plateCurrentA",
      "gridCurrentA",
      "driveW",
      "driveReflectedW",
      "outputW",
      "forwardW",
      "reflectedW",
      "gainDb",
      "forwardGainDb",
      "cathodeRfPeakV",
      "plateRfPeakV",
      "loadRfPeakV",
      "plateMinV",
      "plateDissipationW",
      "gridDissipationW",
      "arcW",
    ]) {
      expect(point, name).toHaveProperty(name);
    }
    // A full-wave circuit simulation of this stage, arc of 250 V at the tuning capacitor: 14.8 W, arc 171 W.
    expectWithin(
      point.outputW ?? 0,
      14.8,
      0.5,
      "rounded values of the circuit, one unit in 14.8 W and 2 %",
    );
    expectWithin(point.arcW ?? 0, 171, 4, "rounded values of the circuit, 2 %");
  });

  it("explains a bad file on standard error, with the place, and ends with status 2", () => {
    const bad = EXPLICIT.replace('"conductanceSiemens": 0.02', '"conductanceSiemens": -0.02');
    const { status, out, error } = quietarc(["operating-point", "-"], bad);
    expect([status, out]).toEqual([2, ""]);
    expect(error).toMatch(/^stdin:9:57: notPassive: /);
  });

  it("names a file that is not there, and a folder", () => {
    expect(quietarc(["simulate", "nowhere.json"])).toMatchObject({ status: 2, out: "" });
    expect(quietarc(["simulate", "src"]).error).toMatch(/^src: cannotRead: this is a folder/);
  });

  it("tells its usage", () => {
    expect(quietarc(["help"]).status).toBe(0);
    expect(quietarc([])).toMatchObject({ status: 2, out: "" });
  });
});
