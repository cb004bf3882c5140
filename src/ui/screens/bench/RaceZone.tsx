/** The race: live once something has struck, the forecast of the chosen fault before that. */
import { useCallback, useEffect, useRef } from "react";
import { usualSeverity } from "../../../project/faults";
import type { MonitorDef } from "../../../project/protection";
import type { RaceReport } from "../../../shells/bench/protocol";
import type { ExpectedGain } from "../../../simulation/gainTable";
import { type PlaybackState, raceAt } from "../../../state/playbackState";
import { pagePalette } from "../../instruments/drawing/pagePalette";
import { RaceChart, type RaceHandle } from "../../instruments/race/RaceChart";
import type { SheetVariant } from "../../theme/metrics";
import { useSideBelow } from "../../theme/useSheetVariant";
import {
  useBench,
  useDrawingsPerSecond,
  useFrames,
  useFrameTurn,
  usePlayback,
} from "./benchContext";
import { saveText } from "./saveFile";
import { faultOfKey } from "./views/faultEntries";
import { clocksIn } from "./views/frameReader";
import { offAirWords } from "./views/offAir";
import { raceViewOf } from "./views/raceView";

/** Changes when the race has something to tell that must not wait for the next drawing. */
function newsOf({ events, races, forecast, settings }: PlaybackState): string {
  const roles = settings.map((m) => m.role).join();
  return `${events.length} ${races.length} ${races.at(-1)?.aloneDone} ${forecast?.standing} ${roles}`;
}

const NO_PICTURE =
  "No picture: the page could not fetch the part of it that draws one. See that the network is there, then try again.";

export interface RaceZoneProps {
  readonly variant: SheetVariant;
  readonly chosenKey: string;
  readonly expectedGain: ExpectedGain;
}

export function RaceZone({ variant, chosenKey, expectedGain }: RaceZoneProps) {
  const { playback } = useBench();
  const zone = useRef<HTMLDivElement | null>(null);
  const standing = usePlayback((s) => s.standing);
  const sideBelow = useSideBelow();
  useEffect(() => {
    if (standing !== "ready") return;
    const { fault, part } = faultOfKey(chosenKey);
    playback.chooseFault({ fault, part, severity: usualSeverity(fault, part) });
  }, [playback, chosenKey, standing]);
  useFrameTurn(useDrawingsPerSecond(true), newsOf);
  const handle = useRef<RaceHandle | null>(null);
  const drawnZeroNs = useRef<number | null>(null);
  useFrames((figures) => {
    const state = playback.store.getState();
    const zeroNs = raceAt(state.races, state.playNs)?.zero.atNs ?? null;
    if (!figures || zeroNs === null || zeroNs !== drawnZeroNs.current) return;
    handle.current?.moveNow((state.playNs - zeroNs) / 1e9);
  });
  const { world, project, races, forecast, playNs, running, settings, events } =
    playback.store.getState();
  drawnZeroNs.current = raceAt(races, playNs)?.zero.atNs ?? null;
  const view =
    world === null || project === null
      ? null
      : raceViewOf({
          report: raceAt(races, playNs),
          forecast,
          monitors: asAtTheFault(settings, raceAt(races, playNs)),
          mode: world.mode,
          failures: world.failures,
          playNs,
          project,
          events,
          row: Float64Array.from(playback.readings),
          clocks: clocksIn(playback.frame),
          expectedGain,
          offAir: offAirWords(world, project.scenario, playNs, running),
        });
  const save = useCallback(async () => {
    if (view === null || zone.current === null) return;
    const palette = pagePalette(zone.current);
    const drawer = await import("../../instruments/race/raceSvg").catch(() => null);
    if (drawer === null) {
      playback.refuse({ text: NO_PICTURE, command: null });
      return;
    }
    const svg = drawer.raceToSvg(view, { widthPx: 1200, maxHeightPx: null, variant }, palette);
    saveText(svg, "quietarc-race.svg", "image/svg+xml");
  }, [playback, view, variant]);
  if (view === null) return null;
  const tall = variant === "phone" || (variant === "compact" && sideBelow);
  return (
    <div className="bench-race" ref={zone}>
      <RaceChart
        view={view}
        variant={variant}
        fit={tall ? "content" : "room"}
        handle={handle}
        onSavePicture={() => void save()}
      />
    </div>
  );
}

/** A finished race keeps the roles its monitors had when the fault came, whatever is set now. */
function asAtTheFault(
  settings: readonly MonitorDef[],
  report: RaceReport | null,
): readonly MonitorDef[] {
  if (report === null) return settings;
  return settings.map((def) => {
    const lane = report.race.monitors.find((m) => m.id === def.id);
    return lane === undefined || lane.role === def.role ? def : { ...def, role: lane.role };
  });
}
