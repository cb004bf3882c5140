/** Right column: plate edge, strip chart, sequence of events. */
import { useEffect, useMemo, useRef, useState } from "react";
import { PLATE_EDGE_CELLS } from "../../../physics/heat/plateEdge";
import { ARC_PLACES } from "../../../physics/stage/layout";
import type { ArcPlace } from "../../../project/station";
import type { Project } from "../../../project/types";
import { FRAME } from "../../../shells/bench/frameLayout";
import { CH, NO_GAIN_DB } from "../../../simulation/channels";
import { raceAt } from "../../../state/playbackState";
import { formatTime } from "../../../units/format";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import { PlateEdge } from "../../instruments/edge/PlateEdge";
import { Announcer } from "../../instruments/events/Announcer";
import { EventList } from "../../instruments/events/EventList";
import { StripChart } from "../../instruments/strip/StripChart";
import type { StripFrame, StripHandle, StripView } from "../../instruments/strip/stripView";
import type { SheetVariant } from "../../theme/metrics";
import {
  useBench,
  useDrawingsPerSecond,
  useFrames,
  useFrameTurn,
  usePlayback,
} from "./benchContext";
import { edgeViewOf } from "./views/edgeView";
import { eventRowsOf } from "./views/eventRows";
import { announcementsOf } from "./views/eventSentences";
import { channelIn } from "./views/frameReader";
import { offAirWords } from "./views/offAir";
import { criterionPickup } from "./views/pickups";

export const STRIP_CHANNELS: readonly number[] = [
  CH.sensedForwardGainDb,
  CH.outputW,
  CH.plateCurrentA,
  CH.gridCurrentA,
  CH.reflectedW,
];

/** Spans of the strip chart a person may choose, s. */
const SPANS: readonly { readonly seconds: number; readonly word: string }[] = [
  { seconds: 0.02, word: "20 ms" },
  { seconds: 0.2, word: "0.2 s" },
  { seconds: 2, word: "2 s" },
  { seconds: 10, word: "10 s" },
  { seconds: 60, word: "1 min" },
];
const COLUMNS = 240;

function cellsIn(frame: ArrayLike<number>): Float64Array {
  return Float64Array.from(
    { length: PLATE_EDGE_CELLS },
    (_, i) => frame[FRAME.cells + i] as number,
  );
}

function EdgeZone({ variant }: { readonly variant: SheetVariant }) {
  const { playback } = useBench();
  useFrameTurn(useDrawingsPerSecond(), (s) => s.world);
  const { project, world, races, forecast, playNs, running } = playback.store.getState();
  if (project === null || world === null) return null;
  const place = playback.frame[FRAME.place] as number;
  return (
    <div className="bench-edge">
      <PlateEdge
        view={edgeViewOf({
          station: project.station,
          report: raceAt(races, playNs),
          forecast,
          playNs,
          offAir: offAirWords(world, project.scenario, playNs, running),
          place,
          cellsK: place < 0 ? null : cellsIn(playback.frame),
          bridged: place >= 0 && world.bridged.includes(ARC_PLACES[place] as ArcPlace),
          moltenKg: place < 0 ? 0 : (playback.frame[FRAME.moltenKg + place] as number),
        })}
        variant={variant}
      />
    </div>
  );
}

function StripZone({ variant }: { readonly variant: SheetVariant }) {
  const { playback } = useBench();
  const [spanS, setSpanS] = useState(2);
  const handle = useRef<StripHandle | null>(null);
  const settings = usePlayback((s) => s.settings);
  useEffect(() => {
    playback.setStrip({ spanNs: spanS * 1e9, columns: COLUMNS, channels: STRIP_CHANNELS });
  }, [playback, spanS]);
  useFrames((figures) => {
    const frame = stripFrame(playback);
    if (frame !== null) handle.current?.draw(frame, figures);
  }, 10);
  const view = useMemo<StripView>(
    () => ({
      lanes: [
        { key: "gain", name: "Gain", unit: "dB", minimum: -10, maximum: 16, pickup: null },
        { key: "output", name: "Output", unit: "W", minimum: 0, maximum: 1800, pickup: null },
        {
          key: "plate",
          name: "Plate",
          unit: "A",
          prefix: "",
          minimum: 0,
          maximum: 1.4,
          pickup: criterionPickup(settings, "plateTimed"),
        },
        {
          key: "grid",
          name: "Grid",
          unit: "A",
          prefix: "m",
          minimum: 0,
          maximum: 0.25,
          pickup: criterionPickup(settings, "gridTimed"),
        },
        {
          key: "reflected",
          name: "Reflected",
          unit: "W",
          prefix: "",
          minimum: 0,
          maximum: 250,
          pickup: criterionPickup(settings, "reflectedPower"),
        },
      ],
      fromS: -spanS,
      toS: 0,
      ticks: [-1, -0.75, -0.5, -0.25, 0].map((part) => ({
        atS: part * spanS,
        word: part === 0 ? "now" : tick(part * spanS),
      })),
      valueWord: "now",
      summary: `Strip chart of the last ${SPANS.find((s) => s.seconds === spanS)?.word ?? ""}: gain, output, plate and grid current, reflected power.`,
    }),
    [spanS, settings],
  );
  return (
    <div className="bench-strip">
      <StripChart
        view={view}
        variant={variant}
        handle={handle}
        action={
          <label className="strip-span">
            <span>Span</span>
            <select
              value={String(spanS)}
              onChange={(event) => setSpanS(Number(event.currentTarget.value))}
            >
              {SPANS.map((s) => (
                <option key={s.word} value={String(s.seconds)}>
                  {s.word}
                </option>
              ))}
            </select>
          </label>
        }
      />
    </div>
  );
}

function tick(seconds: number): string {
  const size = Math.abs(seconds);
  const text = size < 0.1 ? `${Math.round(size * 1000)} ms` : `${Number(size.toPrecision(2))} s`;
  return `−${text}`;
}

type Bench = ReturnType<typeof useBench>["playback"];

/** Columns of the engine laid on the chart's own; a gain without reading is a gap. */
function stripFrame(playback: Bench): StripFrame | null {
  const { strip, playNs, races } = playback.store.getState();
  if (strip === null || strip.columns < 2) return null;
  const n = strip.columns;
  const minima: Float32Array[] = [];
  const maxima: Float32Array[] = [];
  strip.channels.forEach((channel, i) => {
    const low = strip.minima.subarray(i * n, (i + 1) * n);
    const high = strip.maxima.subarray(i * n, (i + 1) * n);
    if (channel === CH.sensedForwardGainDb) {
      minima.push(
        low.map((v, k) => ((high[k] as number) <= NO_GAIN_DB ? Number.NaN : Math.max(v, -20))),
      );
      maxima.push(high.map((v) => (v <= NO_GAIN_DB ? Number.NaN : v)));
    } else {
      minima.push(low);
      maxima.push(high);
    }
  });
  const gain = channelIn(playback.frame, "sensedForwardGainDb");
  const column = (ns: number): number => Math.floor((ns - strip.fromNs) / strip.columnNs);
  const report = raceAt(races, playNs);
  let arc: StripFrame["arc"] = null;
  if (report !== null && report.zero.struck !== null) {
    const endNs =
      report.race.arcOutS === null ? playNs : report.zero.atNs + report.race.arcOutS * 1e9;
    const from = Math.max(column(report.zero.atNs), 0);
    const to = Math.min(Math.max(column(endNs), from), n - 1);
    if (column(endNs) >= 0 && from < n) arc = { fromColumn: from, toColumn: to };
  }
  return {
    columns: n,
    minima,
    maxima,
    values: [
      gain <= NO_GAIN_DB ? Number.NaN : gain,
      channelIn(playback.frame, "outputW"),
      channelIn(playback.frame, "plateCurrentA"),
      channelIn(playback.frame, "gridCurrentA"),
      channelIn(playback.frame, "reflectedW"),
    ],
    headColumn: Math.min(Math.max(column(playNs), 0), n - 1),
    arc,
  };
}

/** The right column; on a low sheet sequence and strip chart share one place. */
export interface SideZoneProps {
  readonly variant: SheetVariant;
  readonly onTripMemory: () => void;
}

export function SideZone({ variant, onTripMemory }: SideZoneProps) {
  const [shown, setShown] = useState<"events" | "strip">("events");
  const shared = variant === "compact";
  return (
    <section className="bench-side" aria-label="Plate edge, strip chart, sequence of events">
      <EdgeZone variant={variant} />
      {shared && (
        <div className="side-choice">
          <SegmentedChoice
            name="Shown"
            nameHidden
            small
            options={[
              { value: "events", word: "Sequence" },
              { value: "strip", word: "Strip chart" },
            ]}
            value={shown}
            onChoose={setShown}
          />
        </div>
      )}
      {(!shared || shown === "strip") && <StripZone variant={variant} />}
      {(!shared || shown === "events") && <EventsZone onTripMemory={onTripMemory} />}
      <EventAnnouncer />
    </section>
  );
}

/** Speaks operations and resets, whatever is on show. */
function EventAnnouncer() {
  const events = usePlayback((s) => s.events);
  const settings = usePlayback((s) => s.settings);
  const announcements = useMemo(() => announcementsOf(events, settings), [events, settings]);
  return <Announcer announcements={announcements} />;
}

/** What will happen next: the scenario's plan, or what a person may do. */
function aheadWords(scenario: Project["scenario"], playNs: number): string {
  const ahead = scenario.filter((e) => e.atS * 1e9 >= playNs);
  const nextS = Math.min(...ahead.map((e) => e.atS));
  return ahead.length === 0
    ? "Key down, then place a fault."
    : `Run plays the scenario: next entry at ${nextS === 0 ? "0" : formatTime(nextS)}.`;
}

function EventsZone({ onTripMemory }: { readonly onTripMemory: () => void }) {
  const { playback } = useBench();
  useFrameTurn(useDrawingsPerSecond(true), (s) => s.events);
  const running = usePlayback((s) => s.running);
  const mode = usePlayback((s) => s.mode);
  const { events, races, playNs, project, world } = playback.store.getState();
  const report = raceAt(races, playNs);
  if (project === null || world === null) return null;
  const zeroNs = report?.zero.atNs ?? 0;
  return (
    <div className="bench-events">
      <EventList
        view={eventRowsOf({
          events,
          zeroNs: report?.zero.atNs ?? null,
          playNs,
          aloneEvents: report?.aloneEvents ?? [],
          project,
          failures: world.failures,
          running,
          atEnd: mode === "live",
        })}
        action={
          <button type="button" className="button" onClick={onTripMemory}>
            Trip memory
          </button>
        }
        emptyWords={`Nothing has happened yet. ${aheadWords(project.scenario, playNs)}`}
        onJump={(atS) => playback.seek(Math.round(zeroNs + atS * 1e9))}
      />
    </div>
  );
}
