/** Turns columns of least and greatest values into one path: peaks never disappear, gaps stay gaps. */

export interface TraceBox {
  readonly leftPx: number;
  readonly widthPx: number;
  readonly topPx: number;
  readonly heightPx: number;
  readonly minimum: number;
  readonly maximum: number;
}

function yOf(value: number, box: TraceBox): number {
  const fraction = (value - box.minimum) / (box.maximum - box.minimum);
  return box.topPx + (1 - Math.min(Math.max(fraction, 0), 1)) * box.heightPx;
}

/** Path data of one trace, at tenths of a pixel; a level stretch is one stroke. */
export function tracePath(
  minima: ArrayLike<number>,
  maxima: ArrayLike<number>,
  columns: number,
  box: TraceBox,
): string {
  let d = "";
  let drawing = false;
  let lastX = 0;
  let lastY = 0;
  /** The stroke has gone on at the height of `lastY` without having been written. */
  let level = false;
  const step = columns > 1 ? box.widthPx / (columns - 1) : 0;
  for (let i = 0; i < columns; i += 1) {
    const low = minima[i] as number;
    const high = maxima[i] as number;
    if (!(Number.isFinite(low) && Number.isFinite(high))) {
      if (level) d += `H${lastX}`;
      level = false;
      drawing = false;
      continue;
    }
    const x = Math.round((box.leftPx + i * step) * 10) / 10;
    const yHigh = Math.round(yOf(high, box) * 10) / 10;
    const yLow = Math.round(yOf(low, box) * 10) / 10;
    if (drawing && yHigh === lastY && yLow === lastY) {
      level = true;
      lastX = x;
      continue;
    }
    if (level) d += `H${lastX}`;
    level = false;
    // Enter the column at the end nearer to where the last one was left, so that no false stroke is drawn.
    const isDown = Math.abs(yHigh - lastY) <= Math.abs(yLow - lastY);
    const first = isDown ? yHigh : yLow;
    const second = isDown ? yLow : yHigh;
    d += `${drawing ? "L" : "M"}${x} ${first}`;
    if (second !== first) d += `V${second}`;
    lastX = x;
    lastY = second;
    drawing = true;
  }
  return level ? `${d}H${lastX}` : d;
}
