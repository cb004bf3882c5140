/**
 * The coil that another position of the band switch puts in.
 *
 * A designed tank has the coil its own design gives for the frequency asked for, in the band nearest to it; a tank of
 * given components has one of the same reactance there, L' = L f/f'. The switch changes the coil (of a pi-L both coils) and
 * nothing else: both capacitors stay where their knobs stand, the choke is the same. Q at the frequency in use stays.
 */
import type { Station } from "../../project/station";
import { designPi, designPiL, type PiComponents, type PiLComponents } from "../tank/pi";
import { bandAt, LINE_OHM, type StationParts } from "./stationCircuit";

/** Inductance of the other band's coils over that of the ones in use. */
export interface CoilShares {
  coilShare: number;
  outputCoilShare: number;
}

let lastParts: StationParts | null = null;
let lastRatio = Number.NaN;
const last: CoilShares = { coilShare: 1, outputCoilShare: 1 };

/**
 * Shares of the coils for a band at `ratio` times the frequency in use. The answer is one object, used again: worked out when
 * parts or ratio change. Law: module header.
 */
export function otherBandCoils(parts: StationParts, ratio: number): CoilShares {
  if (parts === lastParts && ratio === lastRatio) return last;
  const other = designedCoils(parts.station, ratio);
  last.coilShare = other === null ? 1 / ratio : other.coilH / parts.coilH;
  const outputH = other?.outputCoilH;
  last.outputCoilShare = outputH === undefined ? 1 / ratio : outputH / parts.outputCoilH;
  lastParts = parts;
  lastRatio = ratio;
  return last;
}

function designedCoils(
  { tank, freqHz: inUseHz }: Station,
  ratio: number,
): (PiComponents & Partial<PiLComponents>) | null {
  if (tank.kind !== "designedPi" && tank.kind !== "designedPiL") return null;
  const freqHz = inUseHz * ratio;
  const band = bandAt(tank.bands, freqHz);
  if (band === null) return null;
  const request = {
    plateLoadOhm: tank.plateLoadOhm,
    loadOhm: LINE_OHM,
    loadedQ: band.loadedQ,
    coilQ: band.coilQ,
    freqHz,
    chokeH: band.chokeH,
  };
  const design =
    tank.kind === "designedPiL"
      ? designPiL({ ...request, intermediateOhm: tank.intermediateOhm })
      : designPi(request);
  return design.ok ? design.value : null;
}
