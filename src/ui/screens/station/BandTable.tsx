/** Every band at the chosen drive: working point and components, the band whose parts are looked at marked. */

import { memo } from "react";
import type { Components } from "../../../shells/study/protocol";
import { formatNumber, formatPercent, formatQuantity } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { useEdit, useStudy } from "./stationContext";
import { publishedBandsSentence } from "./tubeRatings";
import { bandsSummary, gainDb, shareWords, stressName, worstOf } from "./words";

export interface BandTableProps {
  readonly chosen: number;
  readonly onChoose: (index: number) => void;
}

export const BandTable = memo(function BandTable({ chosen, onChoose }: BandTableProps) {
  const rows = useStudy((s) => s.bands);
  const driveW = useStudy((s) => s.bandsDriveW);
  const station = useEdit((s) => s.project.station);
  return (
    <section aria-labelledby="bands-title">
      <h3 id="bands-title">Every band at {formatQuantity(driveW, "W")}</h3>
      <p className="summary">{bandsSummary(rows) + publishedBandsSentence(station, rows)}</p>
      <div className="table-wide">
        <table className="figures">
          <caption className="unseen">Operating point per band</caption>
          <ColumnHeads
            words={[
              "Band",
              "Output",
              "Gain",
              "Plate current",
              "Grid current",
              "Efficiency",
              "Dissipation",
              "Plate RF, peak",
              "Least headroom",
            ]}
          />
          <tbody>
            {rows.map(({ band, freqHz, point, problem, stresses }, index) => {
              const worst = worstOf(stresses);
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: two bands may have one name
                <tr key={index} className={index === chosen ? "chosen" : ""}>
                  <th scope="row">
                    <button
                      type="button"
                      className="button small"
                      aria-pressed={index === chosen}
                      aria-label={`Parts on ${band}`}
                      onClick={() => onChoose(index)}
                    >
                      {band}
                    </button>
                    <small>{formatNumber(freqHz / 1e6, 4)}&nbsp;MHz</small>
                  </th>
                  {point === null ? (
                    <td colSpan={8}>No working point: {problem}.</td>
                  ) : (
                    <>
                      <td>{formatQuantity(point.outputW, "W")}</td>
                      <td>{gainDb(point).toFixed(1)}&nbsp;dB</td>
                      <td>{formatQuantity(point.plateCurrentA, "A")}</td>
                      <td>{formatQuantity(point.gridCurrentA, "A")}</td>
                      <td>{formatPercent(point.efficiency)}</td>
                      <td>{formatQuantity(point.plateDissipationW, "W")}</td>
                      <td>{formatQuantity(point.plateRfPeakV, "V")}</td>
                      <td className="words">
                        {worst === null
                          ? "no rating"
                          : `${shareWords(worst)}: ${stressName(worst)}`}
                      </td>
                    </>
                  )}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
});

/** Components of one band, as they are to be built. */
export function ComponentList({ components: c }: { readonly components: Components }) {
  const entries: readonly (readonly [string, string])[] = [
    ["Tuning, strays included", formatQuantity(c.tuningF, "F")],
    ["Tuning, on the knob", formatQuantity(c.tuningF - c.strayF, "F")],
    ["Coil", formatQuantity(c.coilH, "H")],
    ["Coil loss, series", formatQuantity(c.coilOhm, "Ω")],
    ["Loading", formatQuantity(c.loadingF, "F")],
    ...(c.outputCoilH > 0
      ? ([
          ["Output coil", formatQuantity(c.outputCoilH, "H")],
          ["Output coil loss", formatQuantity(c.outputCoilOhm, "Ω")],
        ] as const)
      : []),
    ["Plate choke", formatQuantity(c.chokeH, "H")],
    ["Input transformer", `1 to ${formatNumber(c.turnsRatio)}`],
    ["Input capacitor", formatQuantity(c.cathodeF, "F")],
    ["Input coil", formatQuantity(c.cathodeH, "H")],
  ];
  return (
    <dl className="components">
      {entries.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
