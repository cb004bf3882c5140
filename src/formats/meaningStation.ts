/** Checks of the station that no shape can tell: passive loads, bands that hold the frequency, parts of a whole. */
import { matchedLossDb } from "../physics/feeder/line";
import type { Load, Station } from "../project/station";
import { outOfRange } from "./explain";
import { type Finding, finding, type PathStep } from "./problem";

/** The largest reflection the solver takes; a lossless load is as good as this. */
const LARGEST_REFLECTION = 0.9999;

/** Everything that is wrong with a station of the right shape. */
export function checkStation(station: Station): Finding[] {
  const findings: Finding[] = [];
  const { load, tank, arc, erosion } = station;
  if (load.kind === "admittance" && load.conductanceSiemens < 0) {
    findings.push(
      finding(
        "notPassive",
        ["station", "load", "conductanceSiemens"],
        `a conductance of ${load.conductanceSiemens} S would feed power back: no antenna or line does`,
        "give 0 S or more; an open load is 0, a matched one 0.02",
      ),
    );
  }
  if (load.kind === "reflection") {
    findings.push(...checkReflection(load.magnitude, ["station", "load", "magnitude"]));
  }
  if (load.kind === "antenna") findings.push(...checkFeeder(load, station.freqHz));
  if (tank.kind === "designedPi" || tank.kind === "designedPiL")
    findings.push(...checkBands(tank.bands, station.freqHz));
  else if (tank.strayF >= tank.tuningF) {
    findings.push(
      finding(
        "wrongOrder",
        ["station", "tank", "strayF"],
        `the fixed part, ${tank.strayF} F, is not smaller than the whole plate-node capacitance, ${tank.tuningF} F`,
        "tuningF is the whole capacitance, strays included; give the smaller part as strayF",
      ),
    );
  }
  for (const name of ["tuningCapacitor", "loadingCapacitor"] as const) {
    const { minF, maxF } = station[name];
    if (minF >= maxF) {
      findings.push(
        finding(
          "wrongOrder",
          ["station", name, "minF"],
          `the lower end stop, ${minF} F, is not below the upper one, ${maxF} F`,
          "give the smaller capacitance as minF",
        ),
      );
    }
  }
  if (arc !== undefined && arc.place !== "coilTap" && arc.tapFraction !== undefined) {
    findings.push(
      finding(
        "wrongPlace",
        ["station", "arc", "tapFraction"],
        `an arc at ${arc.place} has no tap`,
        'remove "tapFraction", or set the place to "coilTap"',
      ),
    );
  }
  if (erosion.early.spotAPerM2 < erosion.late.spotAPerM2) {
    findings.push(
      finding(
        "wrongOrder",
        ["station", "erosion", "early", "spotAPerM2"],
        `the early edge's current density, ${erosion.early.spotAPerM2}, is below the late edge's, ${erosion.late.spotAPerM2}`,
        "a denser spot melts earlier: give the larger density to the early edge",
      ),
    );
  }
  findings.push(...checkHeat(station));
  return findings;
}

/** A part is damaged above the temperature it starts from, and the grid is rated between the two. */
function checkHeat({ cooling, clocks, site }: Station): Finding[] {
  const inletK = cooling.inletK ?? site.airK;
  const pairs: readonly (readonly [PathStep[], number, string, number])[] = [
    [["cooling", "anodeLimitK"], cooling.anodeLimitK, "the air at the inlet", inletK],
    [["cooling", "sealLimitK"], cooling.sealLimitK, "the air at the inlet", inletK],
    [["clocks", "gridLimitK"], clocks.gridLimitK, "the grid without current", clocks.gridIdleK],
    [["clocks", "gridRatedK"], clocks.gridRatedK, "the grid without current", clocks.gridIdleK],
  ];
  return pairs
    .filter(([, hotK, , coldK]) => hotK <= coldK)
    .map(([path, hotK, what, coldK]) =>
      finding(
        "wrongOrder",
        ["station", ...path],
        `${hotK} K is not above ${what}, ${coldK} K`,
        "give a higher temperature, or a lower one to start from",
      ),
    );
}

function checkReflection(magnitude: number, path: readonly PathStep[]): Finding[] {
  if (magnitude <= LARGEST_REFLECTION) return [];
  if (magnitude > 1) {
    return [
      finding(
        "notPassive",
        path,
        `a reflection of magnitude ${magnitude} would return more than it receives`,
        `give a magnitude from 0 to ${LARGEST_REFLECTION}`,
      ),
    ];
  }
  const range = { min: 0, max: LARGEST_REFLECTION, aboveMin: false, belowMax: false, unit: "" };
  return [outOfRange(path, magnitude, range)];
}

/** A line that takes more than this leaves nothing of the antenna to see: a slip of the pen. */
const MOST_LINE_LOSS_DB = 100;

function checkFeeder(load: Extract<Load, { kind: "antenna" }>, freqHz: number): Finding[] {
  const findings: Finding[] = [];
  if (load.antenna.kind === "reflection") {
    const path = ["station", "load", "antenna", "magnitude"];
    findings.push(...checkReflection(load.antenna.magnitude, path));
  }
  const lossDb = matchedLossDb(load.line, freqHz);
  if (lossDb > MOST_LINE_LOSS_DB) {
    findings.push(
      finding(
        "outOfRange",
        ["station", "load", "line"],
        `${load.line.lengthM} m of this line lose ${lossDb.toPrecision(3)} dB at ${freqHz} Hz`,
        `shorten lengthM, or give conductorDbPerM and dielectricDbPerM in dB per metre at lossAtHz: at most ${MOST_LINE_LOSS_DB} dB in all`,
      ),
    );
  }
  return findings;
}

type DesignedTank = Extract<Station["tank"], { kind: "designedPi" }>;

function checkBands(bands: DesignedTank["bands"], freqHz: number): Finding[] {
  const findings: Finding[] = [];
  for (const [index, band] of bands.entries()) {
    if (band.fromHz > band.toHz) {
      findings.push(
        finding(
          "wrongOrder",
          ["station", "tank", "bands", index, "fromHz"],
          `band ${JSON.stringify(band.name)} begins at ${band.fromHz} Hz, above its end at ${band.toHz} Hz`,
          "give the lower edge as fromHz",
        ),
      );
    }
  }
  if (!bands.some((band) => band.fromHz <= freqHz && freqHz <= band.toHz)) {
    const ranges = bands.map((band) => `${band.fromHz}-${band.toHz}`).join(", ");
    findings.push(
      finding(
        "noBand",
        ["station", "freqHz"],
        `no band of the tank holds ${freqHz} Hz`,
        bands.length === 0
          ? "list at least one band in station.tank.bands"
          : `choose a frequency in ${ranges}, or add a band`,
      ),
    );
  }
  return findings;
}
