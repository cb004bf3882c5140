/**
 * What damage curves are called: by their names where there is room for them, by letters with a list under the chart on a narrow
 * sheet and where many curves lie close together.
 */
import { useMemo } from "react";
import { NO_BREAK_SPACE } from "../../../units/format";
import { type BoxPx, letterPlaces, placesAlong } from "./letterPlaces";
import type { Curve, DamageCurve, Place } from "./sheetData";
import { damageWords } from "./words";

/** Names of this many curves never lie far enough apart. */
const MOST_NAMED = 4;
/** Under this width, in sizes of the text, names reach into each other. */
const LEAST_WIDTH_EM = 46;

/** Whether letters stand for the names. */
export function isLettered(
  curves: readonly DamageCurve[],
  widthPx: number,
  textPx: number,
): boolean {
  return curves.length > MOST_NAMED || widthPx < LEAST_WIDTH_EM * textPx;
}

const letterOf = (k: number): string => String.fromCharCode(65 + k);

function nameOf(part: DamageCurve["part"], milestone: DamageCurve["milestone"]): string {
  return damageWords({ part, milestone, nominalS: null, earlyS: null, lateS: null });
}

/** About what a line of text covers whose left end stands at a place. */
export function boxOf(words: string, x: number, y: number, textPx: number): BoxPx {
  return { x, y: y - 0.8 * textPx, width: 0.52 * textPx * words.length, height: textPx };
}

/** The letters and what they stand for. */
export function DamageList({ curves }: { readonly curves: readonly DamageCurve[] }) {
  return (
    <ul className="damage-list" aria-hidden="true">
      {curves.map(({ key, part, milestone }, k) => (
        <li key={key}>
          <b>{letterOf(k)}</b> {nameOf(part, milestone)}
        </li>
      ))}
    </ul>
  );
}

interface OnPlot {
  readonly curves: readonly DamageCurve[];
  readonly px: (x: number) => number;
  readonly py: (s: number) => number;
  readonly plot: BoxPx;
  readonly textPx: number;
}

/** A letter on each curve, clear of the others and of the `words` on the sheet. */
export function DamageLetters(props: OnPlot & { readonly words: readonly BoxPx[] }) {
  const { curves, px, py, plot, textPx, words } = props;
  const radius = 0.72 * textPx;
  // the cursor moves words, not curves
  const tried = useMemo(() => {
    const runs = curves.map(({ curve }) =>
      curve.map((run) => run.map((p) => ({ x: px(p.x), y: py(p.s) }))),
    );
    return placesAlong(runs, radius, plot);
  }, [curves, px, py, radius, plot]);
  return letterPlaces(tried, radius, words).map((at, k) =>
    at === null ? null : (
      <g key={curves[k]?.key} className="damage-letter">
        <circle cx={at.x} cy={at.y} r={radius} />
        <text x={at.x} y={at.y + 0.36 * textPx} textAnchor="middle">
          {letterOf(k)}
        </text>
      </g>
    ),
  );
}

/** Beside the onset of the same part, which names it. */
const MOLTEN_WORDS = `0.5${NO_BREAK_SPACE}mg molten`;

/** The name of a damage curve and where it stands: `isLeft` with its right end at the place. */
export interface DamageName {
  readonly key: string;
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly isLeft: boolean;
  readonly box: BoxPx;
}

/**
 * The last place of a falling curve that still has a line of text between itself and what clears it; its end where none has. A
 * name under a line that it does not belong to would be read as that line's.
 */
function clearOfLines(
  run: readonly Place[],
  clearing: Curve,
  py: (s: number) => number,
  roomPx: number,
): Place | undefined {
  const lines = clearing.flat();
  const isClear = (p: Place): boolean =>
    lines.every((l) => {
      const below = py(l.s) - py(p.s);
      return l.x > p.x || below < -0.5 * roomPx || below > roomPx;
    });
  return run.findLast(isClear) ?? run.at(-1);
}

/** What is hurt, at the end of each curve, no two on one line. */
export function damageNames({
  curves,
  clearing,
  px,
  py,
  plot,
  textPx,
}: OnPlot & { readonly clearing: Curve }): readonly DamageName[] {
  const { x: left, y: top } = plot;
  const right = left + plot.width;
  const taken: number[] = [];
  return curves.flatMap(({ key, part, milestone, curve }) => {
    const last = curve.at(-1) ?? [];
    const start = last[0];
    const ending = last.at(-1);
    if (start === undefined || ending === undefined) return [];
    const end =
      start.s > ending.s ? (clearOfLines(last, clearing, py, 2 * textPx) ?? ending) : ending;
    // on the side the curve does not come from; what comes after the onset rides on its own curve, away from that of the onset
    const isFalling = start.s > end.s && milestone !== "halfMilligram";
    let y = py(end.s) + (isFalling ? textPx + 3 : -5);
    for (const other of taken) {
      if (Math.abs(other - y) < textPx + 1) y = other + (isFalling ? textPx + 1 : -textPx - 1);
    }
    y = Math.max(y, top + textPx);
    taken.push(y);
    const words = milestone === "halfMilligram" ? MOLTEN_WORDS : nameOf(part, milestone);
    const endX = Math.min(px(end.x), right) - 4;
    const box = boxOf(words, endX, y, textPx);
    // a curve that ends near the axis is named to its right
    const isLeft = endX - box.width >= left;
    const x = isLeft ? endX : left + 4;
    return [{ key, words, x, y, isLeft, box: { ...box, x: isLeft ? x - box.width : x } }];
  });
}

export function DamageNames({ names }: { readonly names: readonly DamageName[] }) {
  return names.map(({ key, words, x, y, isLeft }) => (
    <text key={key} className="damage-name" x={x} y={y} textAnchor={isLeft ? "end" : "start"}>
      {words}
    </text>
  ));
}
