/** Run, step, record and pace: the title block of the drawing, and its tools where the block has no room for them. */
import { type ReactNode, useRef } from "react";
import { ScrubBar, type ScrubHandle } from "../../instruments/time/ScrubBar";
import { TimeBar } from "../../instruments/time/TimeBar";
import type { TimeBarHandle } from "../../instruments/time/timeView";
import type { SheetVariant } from "../../theme/metrics";
import { useTimeBar } from "./useTimeBar";

export interface TimeZoneProps {
  readonly variant: SheetVariant;
  readonly fault: ReactNode;
}

export function TimeZone({ variant, fault }: TimeZoneProps) {
  const handle = useRef<TimeBarHandle | null>(null);
  const { view, initial, actions } = useTimeBar((frame) => handle.current?.draw(frame));
  return (
    <TimeBar
      view={view}
      variant={variant}
      initial={initial}
      handle={handle}
      fault={fault}
      {...actions}
    />
  );
}

/** Record, steps, events, pace and lens of the small sheets. */
export function TimeTools() {
  const scrub = useRef<ScrubHandle | null>(null);
  const { view, initial, actions } = useTimeBar((frame) =>
    scrub.current?.draw(frame.headS, `${frame.clockNumber} ${frame.clockUnit}, ${frame.clockNote}`),
  );
  return (
    <section className="time-tools" aria-label="Record and pace">
      <ScrubBar
        view={view}
        initialHeadS={initial.headS}
        initialWords={`${initial.clockNumber} ${initial.clockUnit}, ${initial.clockNote}`}
        onScrub={actions.onScrub}
        handle={scrub}
      />
      <div className="tool-row">
        <button type="button" className="button" onClick={() => actions.onEvent("previous")}>
          Previous event
        </button>
        <button type="button" className="button" onClick={() => actions.onEvent("next")}>
          Next event
        </button>
        <button type="button" className="button" onClick={() => actions.onStep("sample")}>
          One sample
        </button>
      </div>
      <div className="tool-row">
        <button
          type="button"
          className="button step"
          aria-label="Slower"
          disabled={!view.canSlower}
          onClick={() => actions.onPace("slower")}
        >
          {"\u2212"}
        </button>
        <span className="tool-word">{view.paceWord}</span>
        <button
          type="button"
          className="button step"
          aria-label="Faster"
          disabled={!view.canFaster}
          onClick={() => actions.onPace("faster")}
        >
          +
        </button>
        <label className="tool-lens">
          <input
            type="checkbox"
            checked={view.lensOn}
            onChange={(event) => actions.onLens(event.currentTarget.checked)}
          />
          Time lens
        </label>
      </div>
    </section>
  );
}
