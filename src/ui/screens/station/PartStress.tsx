/** RF voltage and current at every part of one band against its rating. */
import { memo } from "react";
import { headroom } from "../../../study/partStress";
import { formatQuantity } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { ComponentList } from "./BandTable";
import { Headroom } from "./Headroom";
import { useStudy } from "./stationContext";
import { BY_WORDS, PART_WORDS, shareWords, stressName, worstOf } from "./words";

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
          <ColumnHeads words={["Part", "By", "Now", "Rating", "Headroom"]} />
          <tbody>
            {row.stresses.map((s) => (
              <tr key={`${s.part} ${s.by}`} className={(headroom(s) ?? 1) < 0 ? "over" : ""}>
                <th scope="row">{PART_WORDS[s.part]}</th>
                <td className="words">{BY_WORDS[s.by]}</td>
                <td>{formatQuantity(s.value, s.unit)}</td>
                <td>{s.rating === null ? "none stated" : formatQuantity(s.rating, s.unit)}</td>
                <td>
                  <Headroom row={s} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
});
