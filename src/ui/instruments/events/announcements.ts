/**
 * Merges what is to be announced: at most one announcement a second, nothing lost, nothing said twice.
 * Holds no timer of its own; whoever uses it says when it is.
 */
export interface AnnouncementQueue {
  /** Adds a sentence. Returns the text to announce now, or null when it has to wait. */
  add(sentence: string, nowMs: number): string | null;
  /** Called when the wait is over. Returns the merged text, or null when nothing waits. */
  flush(nowMs: number): string | null;
  /** How long to wait before the next flush; 0 when nothing waits. */
  waitMs(nowMs: number): number;
}

export const ANNOUNCE_EVERY_MS = 1000;

export function createAnnouncementQueue(): AnnouncementQueue {
  let waiting: string[] = [];
  let lastMs = Number.NEGATIVE_INFINITY;
  const take = (nowMs: number): string | null => {
    if (waiting.length === 0 || nowMs - lastMs < ANNOUNCE_EVERY_MS) return null;
    const text = waiting.join(" ");
    waiting = [];
    lastMs = nowMs;
    return text;
  };
  return {
    add(sentence, nowMs) {
      if (!waiting.includes(sentence)) waiting.push(sentence);
      return take(nowMs);
    },
    flush: take,
    waitMs: (nowMs) => (waiting.length === 0 ? 0 : Math.max(lastMs + ANNOUNCE_EVERY_MS - nowMs, 1)),
  };
}
