/**
 * Timed items in order of (time, insertion). Persistent: every change gives a new list, so a snapshot is
 * a reference. Short lists only; a scenario's own entries are kept apart.
 */
export interface Queued<T> {
  readonly atNs: number;
  readonly item: T;
}

/** Inserts after everything at the same time. */
export function enqueue<T>(
  queue: readonly Queued<T>[],
  atNs: number,
  item: T,
): readonly Queued<T>[] {
  let i = queue.length;
  while (i > 0 && (queue[i - 1] as Queued<T>).atNs > atNs) i--;
  return [...queue.slice(0, i), { atNs, item }, ...queue.slice(i)];
}
