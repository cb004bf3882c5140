/** RF voltage and current at every part of one band against its rating, with a bar: the limit stands at 3/4 of it. */
import { memo } from "react";
import { headroom, type StressRow } from "../../../study/partStress";
import { formatPercent, formatQuantity } from "../../../units/format";
import { ComponentList } from "./BandTable";
import { useStudy } from "./stationContext";
import { BY_WORDS, PART_WORDS, shareWords, stressName, worstOf } from "./words";

const LIMIT_AT = 0.75;

export const PartStress = memo(function PartStress({ chosen }: { readonly chosen: number }) {
  const row = useStudy((s) => s.bands[chosen]);
  if (row === undefined) return null;
  const worst = worstOf(row.stresses);
  return (
    <section aria-labelledby="parts-title">
      <h3 id="parts-title">Parts on {row.band}</h3>
      <p className="summary">
        {worst === null
          ? "No part can be judged without a working point."
          : `Nearest to its limit: ${stressName(worst)}, ${shareWords(worst)}.`}
      </p>
      {row.components !== null && <ComponentList components={row.components} />}
      <div className="table-wide">
        <table className="figures">
          <caption className="unseen">Stress of every part on {row.band}</caption>
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col">By</th>
              <th scope="col">Now</th>
              <th scope="col">Rating</th>
              <th scope="col">Headroom</th>
            </tr>
          </thead>
          <tbody>
            {row.stresses.map((s) => (
              <tr key={`${s.part} ${s.by}`} className={(headroom(s) ?? 1) < 0 ? "over" : ""}>
                <th scope="row">{PART_WORDS[s.part]}</th>
                <td className="words">{BY_WORDS[s.by]}</td>
                <td>{formatQuantity(s.value, s.unit)}</td>
                <td>{s.rating === null ? "none stated" : formatQuantity(s.rating, s.unit)}</td>
                <td>
                  <HeadroomBar row={s} />
                  {headroomWords(s)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
});

function headroomWords(row: StressRow): string {
  const left = headroom(row);
  if (left === null) return "not judged";
  return left < 0 ? `over by ${formatPercent(-left)}` : formatPercent(left);
}

function HeadroomBar({ row }: { readonly row: StressRow }) {
  if (row.rating === null) return null;
  const share = Math.max(row.value / row.rating, 0);
  const within = Math.min(share, 1) * LIMIT_AT;
  const beyond = Math.min(Math.max(share - 1, 0) * LIMIT_AT, 1 - LIMIT_AT);
  return (
    <svg className="headroom" viewBox="0 0 120 10" width="120" height="10" aria-hidden="true">
      <line className="headroom-base" x1="0" x2="120" y1="9.5" y2="9.5" />
      <rect className="headroom-now" x="0" y="2" width={120 * within} height="6" />
      <rect className="headroom-over" x={120 * LIMIT_AT} y="2" width={120 * beyond} height="6" />
      <line className="headroom-limit" x1={120 * LIMIT_AT} x2={120 * LIMIT_AT} y1="0" y2="10" />
    </svg>
  );
}
