/**
 * `node tests/bench/mutate.mjs [word]`: plants one mistake (a sign, a factor of two, the wrong side) in each module of physics
 * and protection that computes, in turn, and runs the tests of that module, which have to fail. A word picks the modules whose
 * path holds it. Never part of `npm test`: a run takes minutes.
 */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";

const root = resolve(fileURLToPath(new URL("../..", import.meta.url)));

/** Module, what stands there, the mistake, the tests that have to notice. */
const MISTAKES = [
  ["physics/airgap/airDensity", "5.25588 * ln", "-5.25588 * ln", "physics/airgap"],
  ["physics/airgap/breakdown", "24.36 * pd", "12.18 * pd", "physics/airgap"],
  ["physics/airgap/gapState", "1 - INSECT_REACH", "1 + INSECT_REACH", "physics/airgap"],
  ["physics/arc/cassie", "0.5 * conductanceSiemens", "conductanceSiemens", "physics/arc"],
  ["physics/arc/maintainingVoltage", "fall + gradient", "fall - gradient", "physics/arc"],
  [
    "physics/heat/arcRoot",
    "Math.PI * spotAPerM2",
    "4 * Math.PI * spotAPerM2",
    "physics/heat/arcRoot",
  ],
  ["physics/heat/bead", "6 * moltenKg", "12 * moltenKg", "physics/heat/bead"],
  ["physics/heat/clocks", "image - (stress", "image + (stress", "physics/heat/clocks"],
  [
    "physics/heat/enthalpyTable",
    "h * table.stepsPerJPerKg",
    "2 * h * table.stepsPerJPerKg",
    "physics/heat/plateEdge",
  ],
  ["physics/heat/metals", "933.473", "1866.9", "physics/heat/metals"],
  [
    "physics/heat/plateEdge",
    "Math.PI * def.thicknessM) / ln",
    "2 * Math.PI * def.thicknessM) / ln",
    "physics/heat/plateEdge",
  ],
  ["physics/stage/readings", "(8 * c.driveOhm)", "(4 * c.driveOhm)", "simulation/checkValues"],
  [
    "physics/stage/stageEquations",
    "c.turnsRatio * c.turnsRatio * c.driveOhm",
    "c.turnsRatio * c.driveOhm * 2",
    "physics/stage/reference",
  ],
  ["physics/supply/faultEnergy", "0.5 * capacitanceF", "capacitanceF", "physics/supply"],
  [
    "physics/supply/copperWire",
    "areaM2(diameterM) * lengthM",
    "areaM2(diameterM)",
    "physics/supply",
  ],
  ["physics/supply/dcArc", "(feedV - arcV)", "(feedV + arcV)", "physics/stage/supplyTransient"],
  ["physics/tank/pi", "R1 / (1 + Q1 * Q1)", "R1 / (1 - Q1 * Q1)", "physics/tank/pi"],
  [
    "physics/tank/reflection",
    "(swr - 1) / (swr + 1)",
    "(swr + 1) / (swr - 1)",
    "physics/tank/reflection",
  ],
  [
    "physics/tube/strayCurrents",
    "s.gridSiemens -= siemens",
    "s.gridSiemens += siemens",
    "physics/tube",
  ],
  ["physics/tube/triode", "1.5 * law.perveance", "3 * law.perveance", "physics/stage/jacobian"],
  [
    "protection/actuators/schedule",
    "outputW < step.wait.belowW",
    "outputW > step.wait.belowW",
    "protection/actuators",
  ],
  [
    "protection/curves/definiteTime",
    "Math.round(delayS * 1e9)",
    "Math.round(2 * delayS * 1e9)",
    "protection/curves/definiteTime",
  ],
  ["protection/curves/dependentTime", "M * M - 1", "M * M + 1", "protection/curves/dependentTime"],
  [
    "protection/curves/thermalReplica",
    "heating - initialImage",
    "heating + initialImage",
    "protection/curves/thermalReplica",
  ],
  [
    "protection/derived",
    "VSWR_CAP : (1 + r) / (1 - r)",
    "VSWR_CAP : (1 - r) / (1 + r)",
    "protection/derived",
  ],
  [
    "protection/interpreter/arming",
    ">= arming.driveAboveW ? ARMED",
    "< arming.driveAboveW ? ARMED",
    "protection/interpreter",
  ],
  [
    "protection/interpreter/timing",
    "value / pickup : pickup / value",
    "pickup / value : value / pickup",
    "protection/interpreter",
  ],
  [
    "protection/latch",
    "atNs - latch.atNs >= rule.afterS",
    "atNs - latch.atNs >= 2 * rule.afterS",
    "protection/supervisor",
  ],
  [
    "protection/sensing/comparatorTap",
    "(i1A - i0A) / (dtNs",
    "(i0A - i1A) / (dtNs",
    "protection/sensing",
  ],
  [
    "protection/sensing/noise",
    "(sum - BYTE_MEAN_SUM)",
    "(sum + BYTE_MEAN_SUM)",
    "protection/sensing",
  ],
  [
    "protection/sensing/sensing",
    "-d.directivityDb / 10",
    "d.directivityDb / 10",
    "protection/sensing",
  ],
];

const word = process.argv[2] ?? "";
const survivors = [];
for (const [name, from, to, tests] of MISTAKES) {
  const file = `src/${name}.ts`;
  if (!file.includes(word)) continue;
  if (!readFileSync(resolve(root, file), "utf8").includes(from)) {
    survivors.push(`${file}: no "${from}" there any more`);
    continue;
  }
  const noticed = run(tests, { file, from, to }) !== 0;
  console.log(`${noticed ? "noticed " : "SURVIVED"}  ${file}: ${to}`);
  if (!noticed) survivors.push(file);
}
for (const line of survivors) console.log(`MISSED  ${line}`);
process.exitCode = survivors.length === 0 ? 0 : 1;

/** Exit status of the unit tests under `tests/<tests>`; they stop at the first that fails. */
function run(tests, mistake) {
  const words = [
    "run",
    "--config",
    "tests/bench/mutate.config.ts",
    "--project",
    "core",
    "--bail",
    "1",
  ];
  const { status } = spawnSync(
    process.execPath,
    [resolve(root, "node_modules/vitest/vitest.mjs"), ...words, `tests/${tests}`],
    {
      cwd: root,
      stdio: "ignore",
      env: { ...process.env, QUIETARC_MISTAKE: JSON.stringify(mistake) },
    },
  );
  return status ?? 1;
}
