/**
 * Where letters stand on curves that lie close together: of all places along its own curve each takes the one that has most room
 * to the letters before it, to words on the sheet, to the other curves and to the edges. Pure; all lengths in pixels.
 */
export interface PlacePx {
  readonly x: number;
  readonly y: number;
}

export interface BoxPx extends PlacePx {
  readonly width: number;
  readonly height: number;
}

/** Places tried along a curve. */
const STEP_PX = 5;

/** A place on a curve, and how far the other curves are from it. */
export interface RoomyPlace extends PlacePx {
  readonly toOthersPx: number;
}

/** The places along each curve: what does not depend on the words, and takes long. */
export function placesAlong(
  curves: readonly (readonly (readonly PlacePx[])[])[],
  radiusPx: number,
  plot: BoxPx,
): readonly (readonly RoomyPlace[])[] {
  const tried = curves.map((runs) => runs.flatMap(stepsAlong));
  return tried.map((own, k) => {
    const others = tried.filter((_, j) => j !== k).flat();
    return own.map((p) => {
      const here = inside(p, radiusPx, plot);
      const toOthersPx = least(others, (q) => Math.hypot(q.x - here.x, q.y - here.y));
      return { ...here, toOthersPx };
    });
  });
}

/** One place for each curve; null for one without any place. */
export function letterPlaces(
  tried: readonly (readonly RoomyPlace[])[],
  radiusPx: number,
  words: readonly BoxPx[],
): readonly (PlacePx | null)[] {
  const placed: PlacePx[] = [];
  const found: (PlacePx | null)[] = tried.map(() => null);
  // who has least choice chooses first
  const order = [...tried.keys()].sort((a, b) => lengthOf(tried, a) - lengthOf(tried, b));
  for (const k of order) {
    let best: PlacePx | null = null;
    let most = -Infinity;
    for (const here of tried[k] ?? []) {
      const toLetters = least(placed, (q) => Math.hypot(q.x - here.x, q.y - here.y) - radiusPx);
      const toWords = least(words, (box) => distance(here, box));
      // no letter on another or on words; beyond that a curve's own stretch, up to where more room tells no more
      const free = Math.min(toLetters, toWords) - radiusPx;
      const room = Math.min(free, 0) * 100 + Math.min(free, 2 * radiusPx, here.toOthersPx);
      if (room <= most) continue;
      most = room;
      best = here;
    }
    if (best !== null) placed.push(best);
    found[k] = best;
  }
  return found;
}

/** Air between words that stand beside each other. */
const AIR_PX = 3;

/** The first of the boxes that lies clear of all words; where none does, the one that covers least of them. */
export function freeBox<Box extends BoxPx>(
  tried: readonly Box[],
  words: readonly BoxPx[],
): Box | null {
  let best: Box | null = null;
  let leastCovered = Infinity;
  for (const box of tried) {
    const covered = words.reduce((sum, other) => sum + coveredPx2(box, other), 0);
    if (covered >= leastCovered) continue;
    leastCovered = covered;
    best = box;
  }
  return best;
}

function coveredPx2(a: BoxPx, b: BoxPx): number {
  const along = (from: number, length: number, other: number, otherLength: number): number =>
    Math.min(from + length, other + otherLength) - Math.max(from, other) + AIR_PX;
  const width = along(a.x, a.width, b.x, b.width);
  const height = along(a.y, a.height, b.y, b.height);
  return Math.max(width, 0) * Math.max(height, 0);
}

function lengthOf(lists: readonly (readonly PlacePx[])[], k: number): number {
  return lists[k]?.length ?? 0;
}

function stepsAlong(run: readonly PlacePx[]): readonly PlacePx[] {
  return run.flatMap((p, k) => {
    const next = run[k + 1];
    if (next === undefined) return [p];
    const count = Math.max(Math.ceil(Math.hypot(next.x - p.x, next.y - p.y) / STEP_PX), 1);
    return Array.from({ length: count }, (_, i) => ({
      x: p.x + ((next.x - p.x) * i) / count,
      y: p.y + ((next.y - p.y) * i) / count,
    }));
  });
}

function inside({ x, y }: PlacePx, radiusPx: number, plot: BoxPx): PlacePx {
  const keep = (v: number, from: number, length: number): number =>
    Math.min(Math.max(v, from + radiusPx), from + length - radiusPx);
  return { x: keep(x, plot.x, plot.width), y: keep(y, plot.y, plot.height) };
}

/** From a place to the nearest side of a box; 0 inside. */
function distance({ x, y }: PlacePx, box: BoxPx): number {
  const dx = Math.max(box.x - x, 0, x - box.x - box.width);
  const dy = Math.max(box.y - y, 0, y - box.y - box.height);
  return Math.hypot(dx, dy);
}

function least<T>(of: readonly T[], measure: (one: T) => number): number {
  let found = Infinity;
  for (const one of of) found = Math.min(found, measure(one));
  return found;
}
