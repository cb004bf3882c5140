/** Protection lanes: dotted filter, pickup triangle, confirm bar with one notch a scan, operate square, trip octagon. */
import { formatTime, timeParts } from "../../../units/format";
import type { SheetMetrics } from "../../theme/metrics";
import type { RichText, Shape } from "../drawing/shapes";
import { line, rect, words } from "../drawing/shapes";
import { fitText, textWidthPx, wrapText } from "../drawing/textWidth";
import { markAt } from "../state/stateShapes";
import { xOf } from "./raceAxis";
import type { PlannedLane, RacePlan } from "./racePlan";
import type { MonitorLane, RaceView } from "./raceView";

/** Ground behind a place: tinted right of now and in a forecast. */
export function groundAt(plan: RacePlan, view: RaceView, x: number): "sheet" | "ahead" {
  return view.standing === "forecast" || (plan.nowX !== null && x >= plan.nowX - 2)
    ? "ahead"
    : "sheet";
}

export function drawMonitorLanes(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  for (const planned of plan.monitors) {
    if (planned.lane.leading) drawLeading(view, plan, planned, shapes);
    else drawQuiet(view, plan, planned, shapes);
    shapes.push(
      line("hair", 0, planned.y + planned.height, plan.axis.rightPx, planned.y + planned.height),
    );
  }
  if (plan.foldedWord !== "")
    shapes.push(words("label", 0, plan.foldedY + plan.sizes.labelPx + 3, plan.foldedWord));
}

function drawLeading(
  view: RaceView,
  plan: RacePlan,
  { lane, y, height }: PlannedLane<MonitorLane>,
  shapes: Shape[],
): void {
  const { sizes, axis } = plan;
  const mid = y + height * 0.42;
  if (plan.narrow) drawNarrowName(lane.name, y, axis.leftPx - 6, sizes, shapes);
  else
    shapes.push(
      words(
        "body",
        0,
        mid + sizes.bodyPx * 0.3,
        shortName(lane.name, axis.leftPx - 6, sizes.bodyPx),
      ),
    );
  if (!plan.narrow)
    shapes.push(
      words(
        "note",
        0,
        mid + sizes.bodyPx * 0.3 + sizes.notePx + 3,
        fitText(lane.setting, axis.leftPx - 8, sizes.notePx),
      ),
    );
  const pickupX = lane.pickup === null ? null : xOf(axis, lane.pickup.atS);
  const operateX = lane.operate === null ? null : xOf(axis, lane.operate.atS);
  const nowX = plan.nowX ?? Number.POSITIVE_INFINITY;
  if (pickupX !== null && lane.pickup !== null) {
    shapes.push(line("filterLine", axis.leftPx, mid, pickupX - 6, mid));
    const filterWord = `${lane.beforeWord} ${formatTime(lane.pickup.atS)}`;
    const roomPx = pickupX - 10 - axis.leftPx;
    if (!plan.narrow && roomPx > textWidthPx(filterWord, sizes.notePx) + 12) {
      shapes.push(
        words("note", axis.leftPx + roomPx * 0.6, mid - 6, filterWord, {
          anchor: "middle",
          halo: groundAt(plan, view, axis.leftPx + roomPx * 0.6),
        }),
      );
    }
    const barEnd = operateX ?? Math.min(nowX, axis.rightPx);
    const solidTo = lane.pickup.happened
      ? Math.min(barEnd, lane.operate?.happened === true ? barEnd : nowX)
      : pickupX;
    if (barEnd > solidTo)
      shapes.push(
        rect(
          "guardHollow",
          Math.max(solidTo, pickupX + 6),
          mid - 5,
          barEnd - Math.max(solidTo, pickupX + 6),
          10,
        ),
      );
    if (solidTo > pickupX + 6)
      shapes.push(rect("guardFill", pickupX + 6, mid - 5, solidTo - pickupX - 6, 10));
    let notchX = pickupX + 6;
    for (const scanS of lane.scansS) {
      const x = xOf(axis, scanS);
      // Notches closer than 3 px would merge into one blot.
      if (x - notchX >= 3 && x <= solidTo - 3) {
        shapes.push(line("notch", x, mid - 5, x, mid + 5));
        notchX = x;
      }
    }
    if (
      !plan.narrow &&
      operateX !== null &&
      operateX - pickupX > textWidthPx("confirm", sizes.notePx) * 0.7
    ) {
      shapes.push(
        words("note", (pickupX + operateX) / 2, mid - 9, "confirm", {
          anchor: "middle",
          halo: groundAt(plan, view, pickupX),
        }),
      );
    }
    shapes.push(markAt(lane.pickup.happened ? "pickup" : "shadow pickup", pickupX, mid - 0.5, 15));
    if (!plan.narrow) {
      const { number } = timeParts(lane.pickup.atS);
      const inOneUnit =
        lane.operate !== null &&
        timeParts(lane.operate.atS).unit === timeParts(lane.pickup.atS).unit;
      shapes.push(
        words(
          "noteInk",
          pickupX + 4,
          mid + 9 + sizes.notePx,
          inOneUnit ? `pickup ${number}` : `pickup ${formatTime(lane.pickup.atS)}`,
          { anchor: "end", halo: groundAt(plan, view, pickupX) },
        ),
      );
    }
  } else {
    shapes.push(
      words("note", axis.leftPx + 8, mid + 4, lane.why, {
        halo: groundAt(plan, view, axis.leftPx),
      }),
    );
  }
  if (operateX !== null && lane.operate !== null) {
    shapes.push(markAt(lane.operate.happened ? "operate" : "operate ahead", operateX, mid, 15));
    const tripX = lane.trip === null ? null : xOf(axis, lane.trip.atS);
    let freeX = operateX + 8;
    if (tripX !== null && lane.trip !== null && tripX - operateX > 15) {
      shapes.push(
        line(lane.trip.happened ? "clearing" : "clearingDue", operateX + 8, mid, tripX - 7, mid),
        markAt(lane.trip.happened ? "trip" : "operate ahead", tripX, mid, 14),
      );
      freeX = tripX + 8;
    }
    if (lane.arcOut !== null && xOf(axis, lane.arcOut.atS) > freeX) {
      const outX = xOf(axis, lane.arcOut.atS);
      const role = lane.arcOut.happened ? "clearing" : "clearingDue";
      shapes.push(line(role, freeX, mid, outX, mid), line(role, outX, mid - 8, outX, mid + 8));
      freeX = outX;
    }
    drawWords(view, plan, lane, freeX, mid, shapes);
  }
  drawState(plan, lane, mid, true, shapes);
}

/** Breaks words with strong parts into lines at commas; null when even one part is too wide. */
function wrapRuns(runs: RichText, roomPx: number, sizePx: number): readonly RichText[] | null {
  const width = (line: RichText) =>
    line.reduce(
      (sum, run) => sum + textWidthPx(run.text, sizePx, run.strong === true ? 680 : 400),
      0,
    );
  if (width(runs) <= roomPx) return [runs];
  const breaks = runs.flatMap((run, i) => (i > 0 && run.text.startsWith(", ") ? [i] : []));
  for (const at of breaks.toReversed()) {
    const first = [...runs.slice(0, at), { text: "," }];
    const second = runs
      .slice(at)
      .map((run, i) => (i === 0 ? { ...run, text: run.text.slice(2) } : run));
    if (width(first) <= roomPx && width(second) <= roomPx) return [first, second];
  }
  return null;
}

function drawWords(
  view: RaceView,
  plan: RacePlan,
  lane: MonitorLane,
  fromX: number,
  mid: number,
  shapes: Shape[],
): void {
  const { sizes, axis } = plan;
  if (plan.narrow || lane.words.length === 0) return;
  const nowIsClose = plan.nowX !== null && plan.nowX > fromX && plan.nowX < fromX + 26;
  const leader = Math.max(fromX + 26, nowIsClose ? (plan.nowX ?? 0) + 8 : 0);
  const roomPx = axis.rightPx - leader - 4;
  const lines = wrapRuns(lane.words, roomPx, sizes.labelPx);
  if (lines === null) return;
  const ground = groundAt(plan, view, leader + roomPx / 2);
  shapes.push(line("thin", fromX, mid, leader, mid));
  lines.forEach((runs, i) => {
    shapes.push(
      words("label", leader + 4, mid - 4 + i * (sizes.labelPx + 4), runs, { halo: ground }),
    );
  });
  if (lines.length > 1 || lane.subWords === "") return;
  shapes.push(
    words(
      "note",
      leader + 4,
      mid + sizes.notePx + 1,
      fitText(lane.subWords, roomPx, sizes.notePx),
      { halo: ground },
    ),
  );
}

/** The usual abbreviation where the whole name has no room. */
function shortName(name: string, roomPx: number, sizePx: number): string {
  return textWidthPx(name, sizePx) <= roomPx ? name : name.replace("instantaneous", "inst.");
}

/** Over as many lines as its words need, where the column is no wider than one of them. */
function drawNarrowName(
  name: string,
  y: number,
  roomPx: number,
  { labelPx, bodyPx }: SheetMetrics,
  shapes: Shape[],
): void {
  const lines = wrapText(name.replace("instantaneous", "inst."), roomPx, labelPx, 680);
  const stepPx = labelPx + 2;
  lines.forEach((text, i) => {
    const base = y + 19 + bodyPx * 0.3 + (i - (lines.length - 1) / 2) * stepPx;
    shapes.push(words(lines.length === 1 ? "body" : "labelStrong", 0, base, text));
  });
}

/** Name and device number; the number goes before the name is cut. */
function laneName(lane: MonitorLane, roomPx: number, sizes: SheetMetrics): RichText {
  const numberPx = lane.device === "" ? 0 : textWidthPx(` ${lane.device}`, sizes.notePx);
  if (numberPx === 0 || textWidthPx(lane.name, sizes.labelPx) > roomPx - numberPx) {
    return [{ text: shortName(lane.name, roomPx, sizes.labelPx) }];
  }
  return [{ text: lane.name }, { text: ` ${lane.device}`, role: "note" }];
}

function drawQuiet(
  view: RaceView,
  plan: RacePlan,
  { lane, y, height }: PlannedLane<MonitorLane>,
  shapes: Shape[],
): void {
  const { sizes, axis } = plan;
  const base = y + height - 3.6;
  const mid = y + height / 2;
  shapes.push(words("label", 0, base, laneName(lane, axis.leftPx - 6, sizes)));
  if (lane.pickup === null) {
    shapes.push(
      words(
        "note",
        axis.leftPx + 8,
        base,
        fitText(lane.why, axis.rightPx - axis.leftPx - 12, sizes.notePx),
        { halo: groundAt(plan, view, axis.leftPx) },
      ),
    );
  } else {
    const pickupX = xOf(axis, lane.pickup.atS);
    const operateX = lane.operate === null ? null : xOf(axis, lane.operate.atS);
    const solid = lane.operate?.happened === true;
    const endX = operateX ?? axis.rightPx;
    const whyX = (pickupX + endX) / 2;
    const whyPx = lane.why === "" ? 0 : textWidthPx(lane.why, sizes.notePx);
    const hasWhy = whyPx > 0 && endX - pickupX > whyPx + 40;
    // the line stops before the words and goes on behind them
    const breaks = hasWhy ? [whyX - whyPx / 2 - 3, whyX + whyPx / 2 + 3] : [];
    const ends = [pickupX + 6, ...breaks, endX - (operateX === null ? 0 : 6)];
    for (let i = 0; endX - pickupX > 13 && i < ends.length; i += 2)
      shapes.push(
        line(solid ? "clearing" : "shadowLine", ends[i] as number, mid, ends[i + 1] as number, mid),
      );
    shapes.push(markAt(lane.pickup.happened ? "pickup" : "shadow pickup", pickupX, mid, 12));
    if (operateX !== null)
      shapes.push(markAt(solid ? "operate" : "operate ahead", operateX, mid, 12));
    const pickupWord = `pickup ${formatTime(lane.pickup.atS)}`;
    if (pickupX - axis.leftPx > textWidthPx(pickupWord, sizes.notePx) + 10) {
      shapes.push(
        words("noteInk", pickupX - 9, base, pickupWord, {
          anchor: "end",
          halo: groundAt(plan, view, pickupX - 20),
        }),
      );
    }
    if (hasWhy) {
      const halo = groundAt(plan, view, whyX);
      shapes.push(words("note", whyX, base, lane.why, { anchor: "middle", halo }));
    }
  }
  drawState(plan, lane, mid, false, shapes);
}

function drawState(
  plan: RacePlan,
  lane: MonitorLane,
  mid: number,
  tall: boolean,
  shapes: Shape[],
): void {
  if (plan.narrow) return;
  const x = plan.axis.rightPx + 16;
  const { sizes } = plan;
  const roomPx = plan.widthPx - x - 12;
  shapes.push(markAt(lane.state, x, mid, tall ? 14 : 11));
  if (tall) {
    shapes.push(
      words("body", x + 12, mid + 4, lane.stateWord),
      words("note", x + 12, mid + 6 + sizes.notePx, fitText(lane.stateNote, roomPx, sizes.notePx)),
    );
  } else {
    const long = lane.stateNote === "" ? lane.stateWord : `${lane.stateWord} ${lane.stateNote}`;
    const text = textWidthPx(long, sizes.labelPx) <= roomPx ? long : lane.stateWord;
    shapes.push(
      words(lane.pickup === null ? "labelSoft" : "label", x + 12, mid + sizes.labelPx * 0.34, text),
    );
  }
}
