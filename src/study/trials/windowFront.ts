/**
 * The best compromises among points with two costs: a point is on the front when no other is at least as good in both and
 * better in one. Points that cost the same in both stand on it together. Infinite costs are allowed.
 */
export function paretoFront(costs: readonly (readonly [number, number])[]): readonly number[] {
  const order = costs
    .map((_, i) => i)
    .sort((a, b) => {
      const [ax, ay] = costs[a] as readonly [number, number];
      const [bx, by] = costs[b] as readonly [number, number];
      if (ax !== bx) return ax < bx ? -1 : 1;
      if (ay !== by) return ay < by ? -1 : 1;
      return a - b;
    });
  const front: number[] = [];
  let best = Infinity;
  let bestAt: readonly [number, number] | null = null;
  for (const i of order) {
    const [x, y] = costs[i] as readonly [number, number];
    const isSame = bestAt !== null && bestAt[0] === x && bestAt[1] === y;
    if (bestAt !== null && !isSame && y >= best) continue;
    best = y;
    bestAt = [x, y];
    front.push(i);
  }
  return front.sort((a, b) => a - b);
}
