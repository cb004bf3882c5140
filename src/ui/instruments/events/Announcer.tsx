import { useEffect, useRef, useState } from "react";
import { type AnnouncementQueue, createAnnouncementQueue } from "./announcements";

export interface Announcement {
  /** Announced once for each key. */
  readonly key: string;
  readonly sentence: string;
}

/** Status region: says monitor events politely, merged, at most once a second. Focus stays where it is. */
export function Announcer({ announcements }: { readonly announcements: readonly Announcement[] }) {
  const [text, setText] = useState("");
  const said = useRef(new Set<string>());
  const queue = useRef<AnnouncementQueue | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => {
    queue.current ??= createAnnouncementQueue();
    const line = queue.current;
    for (const { key, sentence } of announcements) {
      if (said.current.has(key)) continue;
      said.current.add(key);
      const now = line.add(sentence, performance.now());
      if (now !== null) setText(now);
    }
    const later = () => {
      const next = line.flush(performance.now());
      if (next !== null) setText(next);
      const waitMs = line.waitMs(performance.now());
      timer.current = waitMs > 0 ? setTimeout(later, waitMs) : undefined;
    };
    const waitMs = line.waitMs(performance.now());
    if (waitMs > 0 && timer.current === undefined) timer.current = setTimeout(later, waitMs);
  }, [announcements]);
  useEffect(() => () => clearTimeout(timer.current), []);
  return (
    <p role="status" aria-live="polite" className="unseen">
      {text}
    </p>
  );
}
