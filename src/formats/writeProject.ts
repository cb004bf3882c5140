/**
 * Writing a project file: stable order of keys, one line for what fits on one, infinite values as null.
 *
 * Reading the text again gives the same project. The order is that of the project's types; a name this list
 * does not know would follow at the end.
 */
import type { Project } from "../project/types";

/** The names of the types in `project` in reading order; one order serves all records. */
export const KEY_ORDER: readonly string[] = (
  "format schemaVersion title seed sampleNs endS operatorS " +
  // what names or chooses comes first in its record
  "atS do id kind name place control fault part severity onset overS share forS monitor change mode which closed on down text wordsPerMinute value " +
  "signal talker spacingHz processingDb powerShare " +
  "deviceNumber role tuneRole path scanS smoothingS arming blankingS criteria alarm actions reset " +
  "quantity side level criterion pickup dropOff tunePickup timing driveAboveW settledS holdS afterSupplyReadyS " +
  "scans ofScans curve timeMultiplier afterS tries withinS repeatWithinS when " +
  "station freqHz exciter inputCircuit tube bias supply tank load site ratings " +
  "tuningCapacitor loadingCapacitor blockingCapacitor safetyChoke bandSwitch outputContact cooling clocks airGaps erosion transmitReceive powerUp arc " +
  "noLoadV sourceOhm availableW keyEdgeS alc overshootDb overshootS thresholdW thresholdA attackS rangeDb turnsRatio capacitanceF inductanceH cathodeOhm shuntOhm " +
  "count mu perveanceAPerV1p5 divisionRatio offsetV cathodeV " +
  "filterF surgeOhm bleederOhm mains stepStart fuse ratio meltingA2s meltingA " +
  "tuningF coilH coilSeriesOhm loadingF plateLoadOhm intermediateOhm outputCoilH outputCoilSeriesOhm bands fromHz toHz loadedQ coilQ chokeH strayF " +
  "line antenna lineOhm lengthM velocityFactor lossAtHz conductorDbPerM dielectricDbPerM resonanceHz resistanceOhm q " +
  "conductanceSiemens susceptanceSiemens magnitude phaseRad altitudeM airK relativeHumidity " +
  "plateDissipationW gridDissipationW exciterReflectedW tuningRmsA loadingRmsA coilRmsA chokeRmsA blockingRmsA outputRmsA " +
  "minF maxF ratedV gapM plateThicknessM thicknessM metal maintainingV tapFraction " +
  "airflowM3PerS inletK anodeHeatCapacityJPerK ratedRiseK stillShare anodeLimitK sealTimeConstantS sealLimitK " +
  "emitter gridRatedK gridIdleK gridLimitK gridTimeConstantS exciterTimeConstantS contactTimeConstantS " +
  "capacitorTimeConstantS chokeTimeConstantS surgeRatedJ surgeCoolingS relayRatedJ " +
  "rfStrength edgeFactor strikeSpread arcVoltage coilTap beyondCoupler moltenEdgeLowers " +
  "nominal early late spotAPerM2 electrodeShare arcTimeConstantS holdingW startK " +
  "antennaRelayS inputRelayS biasS driveS warmUpS fanRunOnS " +
  "sensors driveForwardW driveReflectedW outputForwardW outputReflectedW plateCurrentA gridCurrentA plateV plateRfPeakV exhaustAirK tankLight " +
  "comparatorTap timeConstantS fullScale fullScaleA bits gainError offset noiseFraction directivityDb " +
  "monitors actuators driveInhibit cathodeCutoff contactor crowbar fitted delayS earliestRatio latestRatio timeS resistorOhm bypassF stepV " +
  "releaseS waitBelowW waitAtMostS scenario accepted band reason notes"
).split(" ");

const RANK = new Map(KEY_ORDER.map((name, index) => [name, index]));

const LINE_WIDTH = 100;

/** A project, or one that leaves to the defaults what it does not say. */
export type WrittenProject = Pick<Project, "format" | "schemaVersion"> & Partial<Project>;

/** The text of a project file. */
export function writeProject(project: WrittenProject): string {
  return `${layOut(project, "", 0, true)}\n`;
}

/** `taken`: columns of the line that are used before the value and after it. */
function layOut(value: unknown, indent: string, taken: number, spread = false): string {
  const flat = onOneLine(value);
  if (!spread && indent.length + taken + flat.length <= LINE_WIDTH) return flat;
  const inner = `${indent}  `;
  if (Array.isArray(value) && value.length > 0) {
    return `[\n${value.map((item) => inner + layOut(item, inner, 1)).join(",\n")}\n${indent}]`;
  }
  if (typeof value === "object" && value !== null && !Array.isArray(value)) {
    const members = membersOf(value).map(([name, member]) => {
      const key = `${JSON.stringify(name)}: `;
      return inner + key + layOut(member, inner, key.length + 1);
    });
    return members.length === 0 ? "{}" : `{\n${members.join(",\n")}\n${indent}}`;
  }
  return flat;
}

function onOneLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(onOneLine).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    const members = membersOf(value);
    if (members.length === 0) return "{}";
    return `{ ${members.map(([name, member]) => `${JSON.stringify(name)}: ${onOneLine(member)}`).join(", ")} }`;
  }
  // JSON has no word for what is not finite; JSON.stringify writes null, and 0 for -0.
  return JSON.stringify(value) ?? "null";
}

function membersOf(value: object): [string, unknown][] {
  const rank = (name: string) => RANK.get(name) ?? RANK.size;
  return Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .sort(([a], [b]) => rank(a) - rank(b) || (a < b ? -1 : a > b ? 1 : 0));
}
