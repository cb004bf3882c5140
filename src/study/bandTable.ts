/** One station on each of its bands: components and working point at a drive, tuned and matched as designed. */
import { resolveStation, type StationParts } from "../physics/stage/stationCircuit";
import type { Station } from "../project/station";
import { type Working, WorkingPoints } from "./workingPoint";

export interface BandRow {
  readonly band: string;
  readonly freqHz: number;
  readonly result:
    | { readonly kind: "solved"; readonly parts: StationParts; readonly working: Working }
    /** The tank cannot be designed for this band, in words. */
    | { readonly kind: "impossible"; readonly problem: string }
    /** The circuit exists but finds no settled point. */
    | { readonly kind: "unsettled"; readonly parts: StationParts };
}

const ONLY_BAND = "as given";

/** Names of the rows of `bandTable`, without solving any. */
export function bandNames({ tank }: Station): readonly string[] {
  return "bands" in tank ? tank.bands.map(({ name }) => name) : [ONLY_BAND];
}

/**
 * Every band of a designed tank at its middle (the station's own frequency where that lies in the band); an explicit
 * tank has only the frequency it was built for. The input circuit of an explicit station is not switched either.
 */
export function bandTable(station: Station, driveW: number): readonly BandRow[] {
  const { tank, freqHz } = station;
  if (tank.kind === "explicitPi" || tank.kind === "explicitPiL") {
    return [row(station, ONLY_BAND, driveW)];
  }
  return tank.bands.map((band) => {
    const isHere = band.fromHz <= freqHz && freqHz <= band.toHz;
    const at = isHere ? freqHz : (band.fromHz + band.toHz) / 2;
    return row({ ...station, freqHz: at }, band.name, driveW);
  });
}

function row(station: Station, band: string, driveW: number): BandRow {
  const { freqHz } = station;
  const resolved = resolveStation(station);
  if (!resolved.ok) {
    return { band, freqHz, result: { kind: "impossible", problem: resolved.problem } };
  }
  const { parts } = resolved;
  const points = new WorkingPoints(parts);
  const working = points.at(points.asDesigned(driveW));
  if (working === null) return { band, freqHz, result: { kind: "unsettled", parts } };
  return { band, freqHz, result: { kind: "solved", parts, working } };
}
