/** What the feed line of a station takes of the power at its frequency, in a sentence. */
import { antennaAdmittance } from "../../../physics/feeder/antenna";
import { emptyFigures, lineFigures } from "../../../physics/feeder/line";
import type { Station } from "../../../project/station";
import { formatNumber, formatPercent, formatQuantity, NO_VALUE } from "../../../units/format";

/** Empty where there is no line. */
export function lineWords({ load, freqHz }: Pick<Station, "load" | "freqHz">): string {
  if (load.kind !== "antenna") return "";
  const { line, antenna } = load;
  const y = { conductanceSiemens: 0, susceptanceSiemens: 0 };
  antennaAdmittance(antenna, freqHz, line.lineOhm, 1, y);
  const f = emptyFigures();
  lineFigures(line, freqHz, y.conductanceSiemens, y.susceptanceSiemens, f);
  const loss = `Loss of the line: ${db(f.matchedLossDb)} matched, ${db(f.totalLossDb)} with this antenna, which is ${formatPercent(f.lostShare)} of the power.`;
  return `${loss} SWR against ${formatQuantity(line.lineOhm, "Ω")}: ${ratio(f.swrAtLoad)} at the antenna, ${ratio(f.swrAtInput)} at the connector.`;
}

/** Losses of a short line are hundredths of a dB. */
function db(value: number): string {
  return Number.isFinite(value) ? `${value.toFixed(2)}\u00a0dB` : `${NO_VALUE}\u00a0dB`;
}

function ratio(swr: number): string {
  return Number.isFinite(swr) ? formatNumber(swr) : "infinite";
}
