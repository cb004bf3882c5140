/** How monitors are told apart without colour: a dash and a mark each, the same on the curve and beside its name. */

const DASHES = ["none", "9 4", "2 3", "9 3 2 3", "14 4", "5 3", "1 4", "12 3 2 3 2 3"] as const;
const MARKS = [
  "M-4 -4H4V4H-4Z",
  "M0 -5L5 4H-5Z",
  "M0 -5L5 0L0 5L-5 0Z",
  "M-4 -4L4 4M4 -4L-4 4",
  "M0 5L5 -4H-5Z",
  "M0 -5V5M-5 0H5",
] as const;

/** Eight dashes and six marks: 24 monitors before a pair comes again. */
export function strokeOf(index: number): { readonly dash: string; readonly mark: string } {
  return {
    dash: DASHES[index % DASHES.length] as string,
    mark: MARKS[index % MARKS.length] as string,
  };
}

/** A piece of a monitor's line, for its name. */
export function StrokeSample({ index }: { readonly index: number }) {
  const { dash, mark } = strokeOf(index);
  return (
    <svg className="stroke-sample" width="44" height="14" viewBox="0 0 44 14" aria-hidden="true">
      <path className="trip" d="M1 7H43" strokeDasharray={dash} />
      <path className="trip-mark" d={mark} transform="translate(22 7)" />
    </svg>
  );
}
