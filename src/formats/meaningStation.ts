/** Checks of the station that no shape can tell: passive loads, bands that hold the frequency, parts of a whole. */
import type { Station } from "../project/station";
import { outOfRange } from "./explain";
import { type Finding, finding } from "./problem";

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
  if (load.kind === "reflection" && load.magnitude > LARGEST_REFLECTION) {
    const path = ["station", "load", "magnitude"];
    findings.push(
      load.magnitude > 1
        ? finding(
            "notPassive",
            path,
            `a reflection of magnitude ${load.magnitude} would return more than it receives`,
            `give a magnitude from 0 to ${LARGEST_REFLECTION}`,
          )
        : outOfRange(path, load.magnitude, {
            min: 0,
            max: LARGEST_REFLECTION,
            aboveMin: false,
            belowMax: false,
            unit: "",
          }),
    );
  }
  if (tank.kind === "designedPi") findings.push(...checkBands(tank.bands, station.freqHz));
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
