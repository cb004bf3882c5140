/** Six gauges and the readings an operator looks for. Needles follow every frame, figures ten times a second. */
import {
  createRef,
  type RefObject,
  useCallback,
  useLayoutEffect,
  useMemo,
  useReducer,
  useRef,
  useState,
} from "react";
import type { RaceReport } from "../../../shells/bench/protocol";
import { CHANNEL_COUNT } from "../../../simulation/channels";
import type { ExpectedGain } from "../../../simulation/gainTable";
import { raceAt } from "../../../state/playbackState";
import { formatTime } from "../../../units/format";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { Gauge } from "../../instruments/gauge/Gauge";
import { GaugeReading } from "../../instruments/gauge/GaugeReading";
import type { GaugeHandle } from "../../instruments/gauge/gaugeView";
import type { SheetVariant } from "../../theme/metrics";
import { useBench, useFrames, usePlayback } from "./benchContext";
import { GAUGE_KEYS, gaugeFrame, gaugeViews, sideReadings } from "./views/gaugeViews";

export interface GaugeZoneProps {
  readonly variant: SheetVariant;
  readonly expectedGain: ExpectedGain;
}

/** Row recorded at the first trip of the race, null while there is none to hold. */
function heldRow(report: RaceReport | null, playNs: number): Float64Array | null {
  const trip = report?.race.firstTrip;
  if (report === null || trip === null || trip === undefined) return null;
  const tripNs = Math.round(trip.atS * 1e9);
  if (playNs < report.zero.atNs + tripNs) return null;
  const { sinceNs, rows } = report.acting;
  let k = -1;
  while (k + 1 < sinceNs.length && (sinceNs[k + 1] as number) <= tripNs) k++;
  return k < 0 ? null : rows.subarray(k * CHANNEL_COUNT, (k + 1) * CHANNEL_COUNT);
}

export function GaugeZone({ variant, expectedGain }: GaugeZoneProps) {
  const { playback } = useBench();
  const [wish, setWish] = useState<"held" | "now">("held");
  const world = usePlayback((s) => s.world);
  const project = usePlayback((s) => s.project);
  const [, next] = useReducer((n: number) => n + 1, 0);
  usePlayback((s) => {
    const race = raceAt(s.races, s.playNs);
    return race === null ? "" : `${race.zero.atNs} ${race.race.firstTrip?.atS}`;
  });
  const { races, playNs } = playback.store.getState();
  const report = raceAt(races, playNs);
  const canHold = usePlayback((s) => heldRow(raceAt(s.races, s.playNs), s.playNs) !== null);
  const held = canHold && wish === "held" ? heldRow(report, Number.MAX_SAFE_INTEGER) : null;
  const heldRef = useRef(held);
  heldRef.current = held;
  const handles = useMemo<readonly RefObject<GaugeHandle | null>[]>(
    () => GAUGE_KEYS.map(() => createRef<GaugeHandle>()),
    [],
  );
  const figuresRef = useRef<HTMLDListElement | null>(null);
  const drawGauges = useCallback(
    (figures: boolean) =>
      GAUGE_KEYS.forEach((key, i) => {
        handles[i]?.current?.draw(gaugeFrame(key, playback.frame, heldRef.current), figures);
      }),
    [handles, playback],
  );
  // while time stands no frame follows: what was drawn before the readings were held is drawn again with them
  const heldFromNs = held === null ? null : (report?.zero.atNs ?? null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the race that holds them is what the drawing follows
  useLayoutEffect(() => drawGauges(true), [drawGauges, heldFromNs]);
  useFrames((figures) => {
    drawGauges(figures);
    if (figures && figuresRef.current !== null) writeFigures(figuresRef.current, playback.frame);
  });
  // beside held readings stands what is now
  useFrames((figures) => {
    if (figures && heldRef.current !== null) next();
  }, 2);
  if (world === null || project === null) return null;
  const views = gaugeViews({
    world,
    ratings: project.station.ratings,
    before: report?.before ?? null,
    now: held === null ? null : Float64Array.from(playback.readings),
    driveW: world.mode === "tune" ? Math.min(world.targets.driveW, 20) : world.targets.driveW,
    expectedGain,
  });
  const trip = report?.race.firstTrip ?? null;
  const lines = variant === "compact";
  return (
    <section className="bench-gauges" aria-label="Gauges">
      <div className="gauge-head">
        <div className="zone-head">
          <h2>{held === null ? "Readings" : `Held at operate, ${formatTime(trip?.atS ?? 0)}`}</h2>
          {!lines && (
            <span className="note">
              {held === null
                ? "needles within 2.5 % of full scale (class 2.5)"
                : "as sensed, before a monitor smooths it"}
            </span>
          )}
          {canHold && (
            <SegmentedChoice
              name="Readings"
              nameHidden
              small
              options={[
                { value: "held", word: "Held" },
                { value: "now", word: "Now" },
              ]}
              value={wish}
              onChoose={setWish}
            />
          )}
        </div>
        <dl className="side-readings" ref={figuresRef}>
          {sideReadings(playback.frame).map((r) => (
            <div key={r.key}>
              <dt>{r.name}</dt>
              <dd>
                <b>{r.number}</b> <span>{r.unit}</span>
              </dd>
            </div>
          ))}
        </dl>
      </div>
      <div className={lines ? "reading-row" : "gauge-row"}>
        {views.map((view, i) => {
          const initial = gaugeFrame(view.key, playback.frame, held);
          const handle = handles[i] as RefObject<GaugeHandle | null>;
          return lines ? (
            <GaugeReading key={view.key} view={view} initial={initial} handle={handle} />
          ) : (
            <Gauge key={view.key} view={view} variant={variant} initial={initial} handle={handle} />
          );
        })}
      </div>
    </section>
  );
}

function writeFigures(list: HTMLDListElement, frame: ArrayLike<number>): void {
  const cells = list.querySelectorAll("dd");
  sideReadings(frame).forEach((r, i) => {
    const cell = cells[i];
    const number = cell?.querySelector("b");
    const unit = cell?.querySelector("span");
    if (number && number.textContent !== r.number) number.textContent = r.number;
    if (unit && unit.textContent !== r.unit) unit.textContent = r.unit;
  });
}
