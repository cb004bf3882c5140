/** Checks of what no shape can tell: names that must exist, values that must fit together, loads that must be passive. */
import { absoluteHumidityGPerM3, isHumidityInRange } from "../physics/airgap/airDensity";
import { CONTROL_RANGES } from "../project/controls";
import { FAULTS, faultFits, onsetFits } from "../project/faults";
import { keyText } from "../project/morse";
import type { MonitorDef } from "../project/protection";
import type { FaultName, PartName, ScenarioEntry } from "../project/scenario";
import type { AcceptedFault, Project } from "../project/types";
import { outOfRange } from "./explain";
import { checkStation } from "./meaningStation";
import { nearestName } from "./nearest";
import { outOfReach } from "./outOfReach";
import { type Finding, finding, type Notice, type PathStep } from "./problem";

const NS_PER_S = 1e9;

/** Everything that is wrong with a project of the right shape. */
export function checkMeaning(project: Project): Finding[] {
  const monitors = new Map(project.monitors.map((monitor) => [monitor.id, monitor]));
  return [
    ...checkStation(project.station),
    ...project.monitors.flatMap((monitor, index) =>
      checkMonitor(monitor, ["monitors", index], project.sampleNs),
    ),
    ...checkIds(project.monitors),
    ...checkCrowbar(project),
    ...project.scenario.flatMap((entry, index) => checkEntry(entry, ["scenario", index], monitors)),
    ...project.accepted.flatMap((entry, index) => checkAccepted(project, entry, index)),
  ];
}

/** What is accepted and yet worth a word; what monitors round says whoever compiles them. */
export function noticesOf(project: Project): Notice[] {
  const notices: Notice[] = [...outOfReach(project)];
  const late = project.scenario.filter((entry) => entry.atS > project.endS).length;
  if (late > 0) {
    notices.push({
      place: "scenario",
      message: `${late} of ${project.scenario.length} entries lie after endS (${project.endS} s) and are not played`,
    });
  }
  const { airK, relativeHumidity } = project.station.site;
  const grams = absoluteHumidityGPerM3(airK, relativeHumidity);
  if (!isHumidityInRange(grams)) {
    notices.push({
      place: "station.site.relativeHumidity",
      message: `${grams.toFixed(1)} g of water in a cubic metre of air; the correction of gaps is known from 1 to 13 g and held at its end`,
    });
  }
  return notices;
}

/** A fault has to be on a part it can have. */
function checkPlace(fault: FaultName, part: PartName, path: readonly PathStep[]): Finding[] {
  if (faultFits(fault, part)) return [];
  return [
    finding(
      "wrongPlace",
      [...path, "part"],
      `"${fault}" cannot be placed on "${part}"`,
      `place it on ${FAULTS[fault].parts.map((name) => `"${name}"`).join(" or ")}`,
    ),
  ];
}

/** An accepted fault needs a reason, and a band that the tank has. */
function checkAccepted(
  { station: { tank } }: Project,
  { fault, part, band, reason }: AcceptedFault,
  index: number,
): Finding[] {
  const path = ["accepted", index];
  const findings = checkPlace(fault, part, path);
  if (reason.trim() === "") {
    const says = "the fault is accepted without a reason";
    findings.push(finding("wrongType", [...path, "reason"], says, "say why it may stay as it is"));
  }
  const bands = tank.kind === "designedPi" || tank.kind === "designedPiL" ? tank.bands : [];
  if (band !== undefined && !bands.some(({ name }) => name === band)) {
    const names = bands.map(({ name }) => `"${name}"`).join(", ");
    findings.push(
      finding(
        "wrongPlace",
        [...path, "band"],
        `the tank has no band "${band}"`,
        bands.length === 0
          ? "leave the band out: an explicit tank has none"
          : `choose one of ${names}, or leave it out for all`,
      ),
    );
  }
  return findings;
}

/** A monitor may fire a crowbar only where one is fitted. */
function checkCrowbar({ monitors, actuators }: Project): Finding[] {
  if (actuators.crowbar.fitted) return [];
  return monitors.flatMap(({ actions }, index) => {
    const at = actions.indexOf("crowbar");
    if (at < 0) return [];
    return [
      finding(
        "wrongPlace",
        ["monitors", index, "actions", at],
        "the monitor fires a crowbar, and none is fitted",
        "set actuators.crowbar.fitted to true, or take it out of the actions",
      ),
    ];
  });
}

function checkIds(monitors: readonly MonitorDef[]): Finding[] {
  const findings: Finding[] = [];
  for (const [index, { id }] of monitors.entries()) {
    const path = ["monitors", index, "id"];
    const first = monitors.findIndex((monitor) => monitor.id === id);
    if (id === "") {
      findings.push(finding("wrongType", path, "the id is empty", "give the monitor a short name"));
    } else if (first < index) {
      findings.push(
        finding(
          "repeatedId",
          path,
          `${JSON.stringify(id)} is already the id of monitors[${first}]`,
          "give every monitor an id of its own",
        ),
      );
    }
  }
  return findings;
}

function checkMonitor(monitor: MonitorDef, path: readonly PathStep[], sampleNs: number): Finding[] {
  const findings: Finding[] = [];
  const scanNs = Math.round(monitor.scanS * NS_PER_S);
  if (scanNs % sampleNs !== 0) {
    findings.push(
      finding(
        "doesNotDivide",
        [...path, "scanS"],
        `a scan of ${monitor.scanS} s is no whole number of samples of ${sampleNs} ns`,
        `choose a multiple of ${sampleNs} ns`,
      ),
    );
  }
  if (monitor.criteria.length === 0) {
    findings.push(
      finding("missingKey", [...path, "criteria"], "the monitor has no criterion", "add one"),
    );
  }
  if (monitor.path === "comparator") {
    const only = monitor.criteria[0];
    if (monitor.criteria.length > 1 || (only && only.quantity !== "plateCurrentA")) {
      findings.push(
        finding(
          "wrongPlace",
          [...path, "criteria"],
          "the comparator sees the plate-current shunt alone",
          'keep one criterion on "plateCurrentA", or set the path to "scanned"',
        ),
      );
    }
  }
  for (const [index, criterion] of monitor.criteria.entries()) {
    const { side, pickup, dropOff, timing } = criterion;
    const at = [...path, "criteria", index];
    if (side === "over" ? dropOff > pickup : dropOff < pickup) {
      findings.push(
        finding(
          "wrongOrder",
          [...at, "dropOff"],
          `drop-off at ${dropOff} lies ${side} the pickup at ${pickup}`,
          `an ${side === "over" ? "over-function drops off at or below" : "under-function drops off at or above"} its pickup`,
        ),
      );
    }
    if (timing.kind === "instantaneous" && timing.scans > timing.ofScans) {
      findings.push(
        finding(
          "wrongOrder",
          [...at, "timing", "scans"],
          `${timing.scans} of the last ${timing.ofScans} scans can never be`,
          "scans must not exceed ofScans",
        ),
      );
    }
  }
  return findings;
}

function checkEntry(
  entry: ScenarioEntry,
  path: readonly PathStep[],
  monitors: ReadonlyMap<string, MonitorDef>,
): Finding[] {
  switch (entry.do) {
    case "set": {
      const { min, max, unit } = CONTROL_RANGES[entry.control];
      if (entry.value >= min && entry.value <= max) return [];
      const range = { min, max, unit, aboveMin: false, belowMax: false };
      const found = outOfRange([...path, "value"], entry.value, range);
      return [{ ...found, message: `${found.message} as ${entry.control}` }];
    }
    case "placeFault":
    case "removeFault": {
      const { fault, part } = entry;
      const { severity, latent, onsets } = FAULTS[fault];
      const misplaced = checkPlace(fault, part, path);
      if (misplaced.length > 0) return misplaced;
      if (entry.do === "removeFault") return [];
      if (entry.onset !== undefined && !onsetFits(fault, entry.onset)) {
        return [
          finding(
            "wrongPlace",
            [...path, "onset"],
            latent
              ? `"${fault}" waits for its call: it is there or not`
              : `"${fault}" cannot come in this way`,
            onsets === undefined
              ? 'Leave "onset" out'
              : `Leave "onset" out, or take ${onsets.map((kind) => `"${kind}"`).join(" or ")}`,
          ),
        ];
      }
      if (entry.severity >= severity.min && entry.severity <= severity.max) return [];
      const { min, max, unit } = severity;
      const range = { min, max, unit, aboveMin: false, belowMax: false };
      const found = outOfRange([...path, "severity"], entry.severity, range);
      return [{ ...found, remedy: `${found.remedy}: ${severity.meaning}` }];
    }
    case "key": {
      if (!("text" in entry)) return [];
      const keyed = keyText(entry.text, entry.wordsPerMinute);
      return keyed.ok
        ? []
        : [
            finding(
              "unknownWord",
              [...path, "text"],
              keyed.problems[0] ?? "this text cannot be sent in Morse code",
              "use letters, figures and the punctuation of ITU-R M.1677-1",
            ),
          ];
    }
    case "configureMonitor": {
      const monitor = monitors.get(entry.monitor);
      if (monitor === undefined) {
        const ids = [...monitors.keys()];
        const near = nearestName(entry.monitor, ids);
        return [
          finding(
            "unknownMonitor",
            [...path, "monitor"],
            `no monitor has the id ${JSON.stringify(entry.monitor)}`,
            near === null ? `known here: ${ids.join(", ")}` : `did you mean "${near}"?`,
          ),
        ];
      }
      const index = entry.change.criterion ?? 0;
      if (index < monitor.criteria.length) return [];
      return [
        finding(
          "outOfRange",
          [...path, "change", "criterion"],
          `"${monitor.id}" has ${monitor.criteria.length} criteria, counted from 0; there is no ${index}`,
          `give a number from 0 to ${monitor.criteria.length - 1}`,
        ),
      ];
    }
    default:
      return [];
  }
}
