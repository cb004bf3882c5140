/** Title block of the drawing: run and step, the clock, the record, the scale of playing, the lens, the run's identity. */
import { type ReactNode, type Ref, useImperativeHandle, useMemo, useRef } from "react";
import type { SheetVariant } from "../../theme/metrics";
import { ScrubBar, type ScrubHandle } from "./ScrubBar";
import type { TimeBarActions, TimeBarFrame, TimeBarHandle, TimeBarView } from "./timeView";

export interface TimeBarProps extends TimeBarActions {
  readonly view: TimeBarView;
  readonly variant: SheetVariant;
  readonly initial: TimeBarFrame;
  readonly handle?: Ref<TimeBarHandle>;
  /** Button at the end of the small sheets: strike again, or the chosen fault. */
  readonly fault?: ReactNode;
}

const ICONS = {
  run: "M3 1.5L12 7L3 12.5Z",
  pause: "M3 2h3v10H3zM8 2h3v10H8z",
  previous: "M2.5 2h1.6v10H2.5zM11.5 2L5 7L11.5 12Z",
  next: "M9.9 2h1.6v10H9.9zM2.5 2L9 7L2.5 12Z",
} as const;

function Icon({ name }: { readonly name: keyof typeof ICONS }) {
  return (
    <svg className="icon" width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
      <path d={ICONS[name]} />
    </svg>
  );
}

export function TimeBar(props: TimeBarProps) {
  const { view, variant, initial, handle, fault } = props;
  const number = useRef<HTMLElement | null>(null);
  const unit = useRef<HTMLElement | null>(null);
  const note = useRef<HTMLElement | null>(null);
  const scrub = useRef<ScrubHandle | null>(null);
  const last = useRef(initial);
  const drawer = useMemo<TimeBarHandle>(
    () => ({
      draw(frame) {
        last.current = frame;
        write(number.current, frame.clockNumber);
        write(unit.current, `\u00a0${frame.clockUnit}`);
        write(note.current, frame.clockNote);
        scrub.current?.draw(
          frame.headS,
          `${frame.clockNumber} ${frame.clockUnit}, ${frame.clockNote}`,
        );
      },
    }),
    [],
  );
  useImperativeHandle(handle, () => drawer, [drawer]);
  const shown = last.current;
  const small = variant === "phone" || variant === "projector";
  return (
    <section className={`time ${variant}`} aria-label="Time">
      <div className="time-run">
        <button
          type="button"
          className="button solid run"
          aria-keyshortcuts="Space"
          onClick={view.running ? props.onPause : props.onRun}
        >
          <Icon name={view.running ? "pause" : "run"} />
          {view.running ? "Pause" : "Run"}
        </button>
        {!small && (
          <button type="button" className="button" onClick={() => props.onStep("sample")}>
            One sample
          </button>
        )}
        <button type="button" className="button" onClick={() => props.onStep("scan")}>
          One scan
        </button>
        {variant !== "phone" && (
          <>
            <button
              type="button"
              className="button icon-only"
              aria-label="Previous event"
              onClick={() => props.onEvent("previous")}
            >
              <Icon name="previous" />
            </button>
            <button
              type="button"
              className="button icon-only"
              aria-label="Next event"
              onClick={() => props.onEvent("next")}
            >
              <Icon name="next" />
            </button>
          </>
        )}
      </div>
      <div className={view.live ? "time-clock" : "time-clock back"}>
        <b>
          <span ref={number}>{shown.clockNumber}</span>
          <span ref={unit} className="unit">{`\u00a0${shown.clockUnit}`}</span>
        </b>
        <small ref={note}>{shown.clockNote}</small>
      </div>
      <div className="time-live">
        <button
          type="button"
          className="button"
          aria-pressed={view.live}
          disabled={view.live}
          onClick={props.onLive}
        >
          Live
        </button>
      </div>
      {!small && (
        <ScrubBar
          view={view}
          initialHeadS={shown.headS}
          initialWords={`${shown.clockNumber} ${shown.clockUnit}, ${shown.clockNote}`}
          onScrub={props.onScrub}
          handle={scrub}
        />
      )}
      {variant !== "phone" && (
        <div className="time-pace">
          <small>Scale{view.reachedWord === "" ? "" : `, ${view.reachedWord}`}</small>
          <span className="pace-line">
            <button
              type="button"
              className="button step"
              aria-label="Slower"
              disabled={!view.canSlower}
              onClick={() => props.onPace("slower")}
            >
              {"\u2212"}
            </button>
            <span>{view.paceWord}</span>
            <button
              type="button"
              className="button step"
              aria-label="Faster"
              disabled={!view.canFaster}
              onClick={() => props.onPace("faster")}
            >
              +
            </button>
          </span>
        </div>
      )}
      {!small && (
        <>
          <label className="time-lens">
            <small>Time lens</small>
            <span>
              <input
                type="checkbox"
                checked={view.lensOn}
                onChange={(event) => props.onLens(event.currentTarget.checked)}
              />
              {view.lensOn ? "on" : "off"}
            </span>
          </label>
          <div className="time-identity">
            <small>Run</small>
            <span>{view.identityWord}</span>
          </div>
        </>
      )}
      {fault !== undefined && small && <div className="time-fault">{fault}</div>}
    </section>
  );
}

function write(node: HTMLElement | null, text: string): void {
  if (node !== null && node.textContent !== text) node.textContent = text;
}
