/** What is left of a rating, as a bar whose limit stands at 3/4 of it and in words. */
import { headroom, type StressRow } from "../../../study/partStress";
import { formatPercent } from "../../../units/format";

const LIMIT_AT = 0.75;

export function Headroom({ row }: { readonly row: Pick<StressRow, "value" | "rating"> }) {
  return (
    <>
      <HeadroomBar row={row} />
      {headroomWords(headroom(row))}
    </>
  );
}

function headroomWords(left: number | null): string {
  if (left === null) return "not judged";
  return left < 0 ? `over by ${formatPercent(-left)}` : formatPercent(left);
}

function HeadroomBar({ row }: { readonly row: Pick<StressRow, "value" | "rating"> }) {
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
