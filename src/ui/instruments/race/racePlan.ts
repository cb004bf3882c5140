/** Where everything of the race goes: columns, lane heights, and which quiet lanes fold into one line. */
import { metricsOf, type SheetMetrics, type SheetVariant } from "../../theme/metrics";
import { type RaceAxis, xOf } from "./raceAxis";
import type { MonitorLane, RaceView } from "./raceView";

export interface RaceBox {
  readonly widthPx: number;
  /** Room there is; quiet lanes fold when the whole would be taller. Null: as tall as it needs to be. */
  readonly maxHeightPx: number | null;
  readonly variant: SheetVariant;
}

export interface PlannedLane<L> {
  readonly lane: L;
  readonly y: number;
  readonly height: number;
}

export interface RacePlan {
  readonly sizes: SheetMetrics;
  readonly axis: RaceAxis;
  readonly widthPx: number;
  readonly heightPx: number;
  /** No column at the right: states are said by the marks, and in the table. */
  readonly narrow: boolean;
  readonly topY: number;
  readonly monitors: readonly PlannedLane<MonitorLane>[];
  readonly foldedWord: string;
  readonly foldedY: number;
  readonly spineY: number;
  readonly axisY: number;
  readonly damageY: number;
  readonly damage: readonly PlannedLane<RaceView["damage"][number]>[];
  readonly nowX: number | null;
}

/** Lanes in order of interest: the one that clears, then by time of pickup, then those that did not pick up. */
export function orderLanes(lanes: readonly MonitorLane[]): readonly MonitorLane[] {
  const rank = (lane: MonitorLane) =>
    lane.leading ? 0 : lane.pickup !== null ? 1 : lane.mode === "off" ? 3 : 2;
  return lanes.toSorted((a, b) => rank(a) - rank(b) || (a.pickup?.atS ?? 0) - (b.pickup?.atS ?? 0));
}

function foldWord(folded: readonly MonitorLane[]): string {
  if (folded.length === 0) return "";
  const states = [
    ...new Set(folded.map((lane) => (lane.pickup === null ? lane.stateWord : "shadow"))),
  ];
  return `${folded.length} more: ${states.join(", ")}`;
}

/** Damage lanes of a sheet: the struck part alone, or parts below rating folded into one, where room is short. */
function shownLanes(lanes: RaceView["damage"], how: "folded" | "struck"): RaceView["damage"] {
  if (how === "struck") return lanes.filter((lane) => lane.tall);
  const quiet = lanes.filter((lane) => !lane.tall && lane.onsetS === null);
  const first = quiet[0];
  if (first === undefined || quiet.length < 2) return lanes;
  const names = quiet.map((lane, i) => (i === 0 ? lane.name : lane.name.toLowerCase())).join(", ");
  const heads = [...new Set(quiet.map((lane) => lane.head))];
  const folded = {
    ...first,
    name: names,
    why: quiet.map((lane) => lane.why).join("; "),
    head: heads.join(", "),
  };
  return [...lanes.filter((lane) => !quiet.includes(lane)), folded];
}

/** Works out columns and rows for a box. */
export function planRace(view: RaceView, box: RaceBox): RacePlan {
  const sizes = metricsOf(box.variant);
  const projector = box.variant === "projector";
  const narrow = box.widthPx < 560;
  const label = narrow ? 84 : projector ? 186 : box.widthPx < 760 ? 142 : 176;
  const state = narrow ? 2 : projector ? 112 : box.widthPx < 760 ? 88 : 102;
  const axis = { leftPx: label, rightPx: box.widthPx - state };
  const quiet = sizes.labelPx + 3.2;
  const tallLane = projector ? 53 : 46;
  const spine = sizes.marginPx + sizes.labelPx * 2 + 8 + (projector ? 2 : 0);
  const axisBand = sizes.labelPx + 8;
  const tallDamage = projector ? 44 : 46;
  const topY = sizes.labelPx + 6;

  const ordered = orderLanes(view.monitors);
  const heightOf = (lanes: RaceView["damage"]) =>
    lanes.reduce((sum, lane) => sum + (lane.tall ? tallDamage + 4 : quiet), 0);
  const laneHeight = (lane: MonitorLane) => (lane.leading ? tallLane : quiet);
  const without = topY + spine + axisBand + 2;
  const whole = without + heightOf(view.damage) + total(ordered, laneHeight);
  const isShort = box.maxHeightPx !== null && whole > box.maxHeightPx;
  const folded = shownLanes(view.damage, "folded");
  const leading = total(
    ordered.filter(({ leading }) => leading),
    laneHeight,
  );
  const isVeryShort =
    box.maxHeightPx !== null && without + heightOf(folded) + leading > box.maxHeightPx;
  const shownDamage =
    projector || narrow || isVeryShort
      ? shownLanes(view.damage, "struck")
      : box.variant === "compact" || isShort
        ? folded
        : view.damage;
  const fixed = without + heightOf(shownDamage);
  let shown: readonly MonitorLane[] = ordered;
  if (narrow) shown = ordered.filter((lane) => lane.leading);
  else if (box.maxHeightPx === null && projector) shown = ordered.slice(0, 4);
  else if (box.maxHeightPx === null && box.variant === "compact")
    shown = ordered.filter((lane) => lane.pickup !== null);
  if (box.maxHeightPx !== null) {
    const room = box.maxHeightPx - fixed;
    while (shown.length > 0 && total(shown, laneHeight) > room) {
      if (shown.at(-1)?.leading === true) break;
      shown = shown.slice(0, -1);
    }
  }
  const foldedLanes = ordered.slice(shown.length);
  let y = topY;
  const monitors = shown.map((lane) => {
    const planned = { lane, y, height: laneHeight(lane) };
    y += planned.height;
    return planned;
  });
  const foldedY = y;
  const spineY = y;
  const axisY = spineY + spine;
  const damageY = axisY + axisBand;
  let below = damageY;
  const damage = shownDamage.map((lane) => {
    const planned = { lane, y: below, height: lane.tall ? tallDamage + 4 : quiet };
    below += planned.height;
    return planned;
  });
  const nowX = view.nowS === null ? null : xOf(axis, view.nowS);
  return {
    sizes,
    axis,
    widthPx: box.widthPx,
    heightPx: below + 2,
    narrow,
    topY,
    monitors,
    foldedWord: foldWord(foldedLanes),
    foldedY,
    spineY,
    axisY,
    damageY,
    damage,
    nowX,
  };
}

function total(lanes: readonly MonitorLane[], height: (lane: MonitorLane) => number): number {
  return lanes.reduce((sum, lane) => sum + height(lane), 0);
}
