/** Sequence of events: time from the strike, shape, sentence; a dotted rule where now is. */
import {
  type KeyboardEvent,
  memo,
  type ReactNode,
  useCallback,
  useEffect,
  useId,
  useRef,
} from "react";
import { formatTime } from "../../../units/format";
import { sameRuns } from "../drawing/sameShape";
import { StateMark } from "../state/StateMark";
import type { EventListView, EventRow } from "./eventView";

export interface EventListProps {
  readonly view: EventListView;
  /** Moves the play head to an event. */
  readonly onJump?: (atS: number) => void;
  /** What stands there while nothing has happened. */
  readonly emptyWords?: string;
  /** What stands beside the heading. */
  readonly action?: ReactNode;
}

function rowTime(atS: number): string {
  return atS === 0 ? "0" : formatTime(atS);
}

interface EventLineProps {
  readonly row: EventRow;
  readonly isHeld: boolean;
  readonly isLastPast: boolean;
  readonly inTabOrder: boolean;
  readonly onJump: EventListProps["onJump"];
}

function sameRow(a: EventRow, b: EventRow): boolean {
  return (
    a.atS === b.atS &&
    a.mark === b.mark &&
    a.firstUp === b.firstUp &&
    a.isNew === b.isNew &&
    a.ahead === b.ahead &&
    a.leftAlone === b.leftAlone &&
    sameRuns(a.sentence, b.sentence)
  );
}

function PlainEventLine({ row, isHeld, isLastPast, inTabOrder, onJump }: EventLineProps) {
  const time = rowTime(row.atS);
  const look = `${row.ahead || row.leftAlone ? " ahead" : ""}${isLastPast ? " last-past" : ""}`;
  return (
    <li className={`event${look}${isHeld ? " held" : ""}`}>
      {onJump === undefined || row.ahead || row.leftAlone ? (
        <span className="event-time">{time}</span>
      ) : (
        <button
          type="button"
          className="event-time"
          aria-label={`Go to ${time}`}
          tabIndex={inTabOrder ? 0 : -1}
          onClick={() => onJump(row.atS)}
        >
          {time}
        </button>
      )}
      <span className="event-mark">
        <StateMark mark={row.mark} sizePx={11} isNew={row.isNew} />
      </span>
      <span className="event-words">
        {row.sentence.map((run, i) =>
          // biome-ignore lint/suspicious/noArrayIndexKey: runs have no identity but their order
          run.strong === true ? <b key={i}>{run.text}</b> : <span key={i}>{run.text}</span>,
        )}
        {row.firstUp && <span className="first-up">first up</span>}
        {row.isNew && <span className="new-word">new</span>}
      </span>
    </li>
  );
}

// rows are made anew with every look, and hardly ever say anything else
const EventLine = memo(
  PlainEventLine,
  (old, next) =>
    old.isHeld === next.isHeld &&
    old.isLastPast === next.isLastPast &&
    old.inTabOrder === next.inTabOrder &&
    old.onJump === next.onJump &&
    sameRow(old.row, next.row),
);

/** One stop of the Tab key for all events; the arrows go from one to the next. */
function moveAmong(event: KeyboardEvent<HTMLElement>): void {
  const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  const here = event.target as HTMLElement;
  if (step === 0 || !here.matches("button.event-time")) return;
  const all = [...event.currentTarget.querySelectorAll<HTMLElement>("button.event-time")];
  event.preventDefault();
  all[all.indexOf(here) + step]?.focus();
}

/** Once the page has been laid out for a frame: to measure before would lay it out twice. Answers how to leave it. */
function afterPaint(measure: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | null = null;
  const request = requestAnimationFrame(() => {
    timer = setTimeout(measure);
  });
  return () => {
    cancelAnimationFrame(request);
    if (timer !== null) clearTimeout(timer);
  };
}

/** Two rows of what is ahead under the last that happened, where these three have room. */
function lastPastAt({ offsetTop, offsetHeight }: HTMLElement, heightPx: number): number {
  return Math.min(offsetTop - heightPx + offsetHeight * 3, offsetTop);
}

/** Puts a held row at the top, or the last that happened where it can be read with what comes; answers where it was put. */
function follow(panel: HTMLElement): number {
  const held = panel.querySelector<HTMLElement>(".held");
  const row = panel.querySelector<HTMLElement>(".last-past");
  panel.scrollTop =
    held !== null
      ? held.offsetTop
      : row === null
        ? panel.scrollHeight
        : Math.max(lastPastAt(row, panel.clientHeight), 0);
  return panel.scrollTop;
}

export function EventList({ view, onJump, emptyWords = "", action }: EventListProps) {
  const titleId = useId();
  const box = useRef<HTMLDivElement | null>(null);
  const following = useRef(true);
  const atEnd = useRef(false);
  const putAt = useRef(0);
  const isHeld = view.heldKey !== null;
  const latest = useRef(onJump);
  latest.current = onJump;
  const jump = useCallback((atS: number) => latest.current?.(atS), []);
  const lastPast = view.rows.findLastIndex((row) => !row.ahead);
  const lastHappened = view.rows.findLastIndex((row) => !row.ahead && !row.leftAlone);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each new row is a reason to follow
  useEffect(
    () =>
      afterPaint(() => {
        // who read on to the end while a race was held is there for what comes after it
        if (!isHeld && atEnd.current) following.current = true;
        if (box.current !== null && following.current) putAt.current = follow(box.current);
      }),
    [view.rows.length, lastPast, view.heldKey],
  );
  // rows of another width break their lines elsewhere: what is followed has moved, and no row has come
  useEffect(() => {
    const element = box.current;
    if (element === null || typeof ResizeObserver === "undefined") return;
    const observer = new ResizeObserver(() => {
      if (following.current) putAt.current = follow(element);
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return (
    <div className="events">
      <div className="zone-head">
        <h2 id={titleId}>{view.title}</h2>
        <span className="note">{view.note}</span>
        {action}
      </div>
      <div
        ref={box}
        className="event-scroll"
        // A scrolling region must be reachable, or the keyboard cannot scroll it.
        // biome-ignore lint/a11y/noNoninteractiveTabindex: see above
        tabIndex={0}
        role="region"
        aria-labelledby={titleId}
        onKeyDown={moveAmong}
        onScroll={(event) => {
          // scrolled away by a person it stays where it was put, scrolled back it follows again
          const { scrollTop, scrollHeight, clientHeight } = event.currentTarget;
          const by = scrollTop - putAt.current;
          atEnd.current = scrollHeight - scrollTop - clientHeight < 2;
          // a panel that grows is drawn back to its end without anybody having scrolled
          const isDrawnBack = by < 0 && atEnd.current;
          following.current = isDrawnBack || (isHeld ? Math.abs(by) < 30 : by > -30);
        }}
      >
        {view.rows.length === 0 && emptyWords !== "" && <p className="note">{emptyWords}</p>}
        <ol>
          {view.rows.map((row, i) => (
            <EventLine
              key={row.key}
              row={row}
              isHeld={row.key === view.heldKey}
              inTabOrder={i === lastHappened}
              isLastPast={i === lastPast && lastPast < view.rows.length - 1}
              onJump={onJump === undefined ? undefined : jump}
            />
          ))}
        </ol>
      </div>
    </div>
  );
}
