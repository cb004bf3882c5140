/** The published ratings of the registered tube in use as headroom on one band, with their standing; and those of all types. */
import { memo } from "react";
import type { Figure, RegisteredTube } from "../../../project/registeredTube";
import { REGISTERED_TUBES } from "../../../project/tubes";
import { formatQuantity } from "../../../units/format";
import { TableReveal } from "../../instruments/TableReveal";
import { upperFirst } from "../bench/views/words";
import { Headroom } from "./Headroom";
import { useEdit, useStudy } from "./stationContext";
import { lawWords, publishedRows, RATING_KINDS, registeredTypeOf } from "./tubeRatings";
import { BY_WORDS, shareWords, worstOf } from "./words";

export const TubeRatings = memo(function TubeRatings({ chosen }: { readonly chosen: number }) {
  const tube = useEdit((s) => s.project.station.tube);
  const type = registeredTypeOf(tube);
  return (
    <section aria-labelledby="tube-title">
      <div className="zone-head">
        <h3 id="tube-title">Tube by its published ratings</h3>
        <TableReveal label="Registered tube types" word="All types">
          <AllTypes />
        </TableReveal>
      </div>
      {type === null ? (
        <p className="summary">
          {tube.name} has values of one's own: nothing is published for it, and the station's
          ratings above judge it.
        </p>
      ) : (
        <TypeInUse type={type} count={tube.count} chosen={chosen} />
      )}
    </section>
  );
});

interface TypeInUseProps {
  readonly type: RegisteredTube;
  readonly count: number;
  readonly chosen: number;
}

function TypeInUse({ type, count, chosen }: TypeInUseProps) {
  const ratings = useEdit((s) => s.project.station.ratings);
  const band = useStudy((s) => s.bands[chosen]);
  const rows = publishedRows(type, count, ratings, band?.stresses ?? []);
  const worst = worstOf(rows);
  const isOther = rows.some((r) => r.ownRating !== null);
  return (
    <>
      <p className="summary">
        {count} × {type.type}, {type.standing}; law {lawWords(type)}.{" "}
        {worst === null || band === undefined
          ? "Nothing can be judged without a working point."
          : `Nearest to what is published on ${band.band}: ${BY_WORDS[worst.by]}, ${shareWords(worst)}.`}
        {isOther &&
          " The station is judged by other ratings than these where the last column says so."}
      </p>
      {rows.length > 0 && (
        <div className="table-wide">
          <table className="figures">
            <caption className="unseen">Published ratings of {type.type} on this band</caption>
            <thead>
              <tr>
                <th scope="col">Rating</th>
                <th scope="col">One tube</th>
                <th scope="col">Standing</th>
                <th scope="col">{count === 1 ? "Published" : `${count} tubes`}</th>
                <th scope="col">Now</th>
                <th scope="col">Headroom</th>
                {isOther && <th scope="col">Station's own</th>}
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr key={r.by} className={r.rating !== null && r.value > r.rating ? "over" : ""}>
                  <th scope="row">{upperFirst(BY_WORDS[r.by])}</th>
                  <td>{figureWords(r.published, r.unit)}</td>
                  <td className="words">{r.published?.standing ?? "none stated"}</td>
                  <td>{r.rating === null ? "–" : formatQuantity(r.rating, r.unit)}</td>
                  <td>{formatQuantity(r.value, r.unit)}</td>
                  <td>
                    <Headroom row={r} />
                  </td>
                  {isOther && (
                    <td>
                      {r.ownRating === null ? "the same" : formatQuantity(r.ownRating, r.unit)}
                    </td>
                  )}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  );
}

/** What is known of each type; a figure met in a source that quotes the sheet is marked. */
function AllTypes() {
  return (
    <>
      <p className="note">
        One tube each. Figures are remembered from the data sheets, those marked * were met in a
        source that quotes the sheet: check on paper before building. A type without a law can be
        fitted to one's own data sheet.
      </p>
      <table className="figures">
        <thead>
          <tr>
            <th scope="col">Type</th>
            <th scope="col">Standing</th>
            <th scope="col">Law</th>
            {RATING_KINDS.map((k) => (
              <th key={k.by} scope="col">
                {upperFirst(BY_WORDS[k.by])}
              </th>
            ))}
            <th scope="col">Warm-up</th>
          </tr>
        </thead>
        <tbody>
          {REGISTERED_TUBES.map((t) => (
            <tr key={t.type}>
              <th scope="row">{[t.type, ...t.otherTypes].join(", ")}</th>
              <td className="words">{t.standing}</td>
              <td className="words">{lawWords(t)}</td>
              {RATING_KINDS.map((k) => (
                <td key={k.by}>{markedFigure(t[k.name], k.unit)}</td>
              ))}
              <td>{markedFigure(t.warmUpS, "s")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function figureWords(figure: Figure | null, unit: string): string {
  return figure === null ? "–" : formatQuantity(figure.value, unit);
}

function markedFigure(figure: Figure | null, unit: string): string {
  return `${figureWords(figure, unit)}${figure?.standing === "source confirmed" ? "*" : ""}`;
}
