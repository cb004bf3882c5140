/** Way-to-damage lanes: area is the fraction; solid up to clearing, soft while cooling, hatched for the run left alone. */

import type { LineRole } from "../drawing/roles";
import type { Shape } from "../drawing/shapes";
import { line, px, rect, words } from "../drawing/shapes";
import { fitText, textWidthPx, wrapText } from "../drawing/textWidth";
import { groundAt } from "./monitorLanes";
import { AXIS_TO_S, xOf } from "./raceAxis";
import type { PlannedLane, RacePlan } from "./racePlan";
import type { DamageLane, RacePoint, RaceView } from "./raceView";

function curve(
  plan: RacePlan,
  points: readonly RacePoint[],
  floorY: number,
  heightPx: number,
  closed: boolean,
): string {
  if (points.length === 0) return "";
  let d = "";
  let firstX = 0;
  let lastX = 0;
  for (const [i, point] of points.entries()) {
    const x = xOf(plan.axis, point.atS);
    const y = floorY - Math.min(Math.max(point.fraction, 0), 1) * heightPx;
    if (i === 0) firstX = x;
    d += `${i === 0 ? "M" : "L"}${px(x)} ${px(y)}`;
    lastX = x;
  }
  return closed ? `${d}L${px(lastX)} ${px(floorY)}L${px(firstX)} ${px(floorY)}Z` : d;
}

function area(role: LineRole, d: string, shapes: Shape[]): void {
  if (d !== "") shapes.push({ kind: "path", role, d });
}

const STAGE_ROLES = { melt: "heatHatch", bead: "heatFill", bridged: "bridged" } as const;
const STAGE_TEXT = { melt: "onHeat", bead: "onHeat", bridged: "onBurnt" } as const;

export function drawDamageLanes(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  for (const planned of plan.damage) {
    if (planned.lane.tall) drawTall(view, plan, planned, shapes);
    else drawLow(view, plan, planned, shapes);
    shapes.push(
      line("hair", 0, planned.y + planned.height, plan.axis.rightPx, planned.y + planned.height),
    );
  }
}

function drawTall(
  view: RaceView,
  plan: RacePlan,
  { lane, y, height }: PlannedLane<DamageLane>,
  shapes: Shape[],
): void {
  const { axis, sizes } = plan;
  const floorY = y + height - 4;
  const lift = height - 10;
  const topY = floorY - lift;
  const nameLines = plan.narrow
    ? wrapText(lane.name, axis.leftPx - 4, sizes.bodyPx, 660)
    : [lane.name];
  nameLines.forEach((text, i) => {
    shapes.push(words("body", 0, y + sizes.bodyPx + 2 + i * (sizes.bodyPx + 1), text));
  });
  if (!plan.narrow) {
    lane.notes.slice(0, 2).forEach((note, i) => {
      const base = y + sizes.bodyPx + 2 + (i + 1) * (sizes.notePx + 2);
      if (base < floorY + 5)
        shapes.push(words("note", 0, base, fitText(note, axis.leftPx - 8, sizes.notePx)));
    });
  }
  const onsetX = lane.onsetS === null ? null : xOf(axis, lane.onsetS);
  area("heatHatch", curve(plan, lane.leftAlone, floorY, lift, true), shapes);
  for (const stage of lane.stages) {
    const from = xOf(axis, stage.fromS);
    const to = xOf(axis, stage.toS ?? AXIS_TO_S);
    if (to - from < 1) continue;
    const role =
      stage.word !== "bridged" && view.standing === "forecast"
        ? "heatHatch"
        : STAGE_ROLES[stage.word];
    shapes.push(
      rect(view.standing === "forecast" ? "heatHatch" : role, from, topY, to - from, lift),
    );
    const widthPx = textWidthPx(stage.word, sizes.notePx, 640);
    if (to - from > widthPx + 6) {
      const middle = (from + to) / 2;
      const burntTo = xOf(axis, lane.burning.at(-1)?.atS ?? 0);
      // half burnt it keeps its halo, which stands out from both grounds
      const isBurnt = lane.burning.length > 0 && burntTo >= middle + widthPx / 2;
      const hollow = view.standing === "forecast" || (stage.word === "melt" && !isBurnt);
      shapes.push(
        words(
          hollow ? "noteStrong" : STAGE_TEXT[stage.word],
          middle,
          (topY + floorY) / 2 + 4,
          stage.word,
          { anchor: "middle", ...(hollow ? { halo: groundAt(plan, view, from) } : {}) },
        ),
      );
    }
  }
  area("heatDash", curve(plan, lane.slowEdge, floorY, lift, false), shapes);
  area(
    view.standing === "forecast" ? "heatHatch" : "heatFill",
    curve(plan, lane.burning, floorY, lift, true),
    shapes,
  );
  area("heatCooling", curve(plan, lane.cooling, floorY, lift, true), shapes);
  shapes.push(line("thin", axis.leftPx, floorY, axis.rightPx, floorY));
  if (onsetX !== null) shapes.push(line("heatLimit", axis.leftPx, topY, onsetX, topY));
  drawOnsetBand(plan, lane, topY, shapes);
  if (!plan.narrow) {
    if (lane.limitWord !== "")
      shapes.push(
        words("noteHeat", axis.leftPx + 4, topY + sizes.notePx + 1, lane.limitWord, {
          halo: groundAt(plan, view, axis.leftPx),
        }),
      );
    if (lane.reachedWord !== "" && view.spine.clearingS !== null) {
      const x = xOf(axis, view.spine.clearingS) - 6;
      // past the onset the words would lie on molten metal, and its line go through them: the stages say it
      const { onsetS } = view.spine;
      const isBefore = [onsetX, onsetS === null ? null : xOf(axis, onsetS)].every(
        (at) => at === null || x < at,
      );
      if (isBefore && x - axis.leftPx > textWidthPx(lane.reachedWord, sizes.notePx) + 8)
        shapes.push(reachedWords(view, plan, lane, x, floorY, lift));
    }
    const x = axis.rightPx + 10;
    shapes.push(words("body", x, y + sizes.bodyPx + 3, lane.head));
    lane.headNotes.slice(0, sizes.notePx > 12 ? 1 : 2).forEach((note, i) => {
      shapes.push(
        words(
          "note",
          x,
          y + sizes.bodyPx + 3 + (i + 1) * (sizes.notePx + 2),
          fitText(note, plan.widthPx - x, sizes.notePx),
        ),
      );
    });
  }
}

/** How far it came: over the area while that is low, inside it where it is high. */
function reachedWords(
  view: RaceView,
  plan: RacePlan,
  lane: DamageLane,
  x: number,
  floorY: number,
  lift: number,
): Shape {
  const reached = lane.burning.at(-1)?.fraction ?? 0;
  if (reached > 0.6 && view.standing === "live")
    return words("onHeat", x, floorY - 4, lane.reachedWord, { anchor: "end" });
  return words("noteHeat", x, floorY - lift * 0.3 - 3, lane.reachedWord, {
    anchor: "end",
    halo: groundAt(plan, view, x),
  });
}

/** Early, nominal and late onset as a bracket on the line of fraction 1: a band, never one exact line. */
function drawOnsetBand(plan: RacePlan, lane: DamageLane, topY: number, shapes: Shape[]): void {
  if (lane.onsetEarlyS === null || lane.onsetS === null) return;
  const from = xOf(plan.axis, lane.onsetEarlyS);
  const to = xOf(plan.axis, lane.onsetLateS ?? AXIS_TO_S);
  shapes.push(rect("onsetBand", from, topY - 4, to - from, 5));
  shapes.push(
    line("onsetEdge", from, topY - 5, from, topY + 5),
    line("onsetEdge", from, topY - 2, to, topY - 2),
  );
  if (lane.onsetLateS !== null) shapes.push(line("onsetEdge", to, topY - 5, to, topY + 5));
}

/** Several parts in one lane are counted where their names have no room. */
function lowName(name: string, roomPx: number, sizePx: number): string {
  if (textWidthPx(name, sizePx) <= roomPx || !name.includes(", ")) return name;
  return `${name.split(", ").length} other parts`;
}

function drawLow(
  view: RaceView,
  plan: RacePlan,
  { lane, y, height }: PlannedLane<DamageLane>,
  shapes: Shape[],
): void {
  const { axis, sizes } = plan;
  const base = y + height - 3.6;
  shapes.push(words("label", 0, base, lowName(lane.name, axis.leftPx - 6, sizes.labelPx)));
  const lift = height - 4;
  area("heatHatch", curve(plan, lane.leftAlone, y + height - 1, lift, true), shapes);
  area("heatFill", curve(plan, lane.burning, y + height - 1, lift, true), shapes);
  shapes.push(
    words(
      "note",
      axis.leftPx + 8,
      base,
      fitText(lane.why, axis.rightPx - axis.leftPx - 20, sizes.notePx),
      { halo: groundAt(plan, view, axis.leftPx) },
    ),
  );
  shapes.push(
    words(
      lane.onsetS === null ? "labelSoft" : "labelStrong",
      axis.rightPx + 10,
      base,
      fitText(lane.head, plan.widthPx - axis.rightPx - 10, sizes.labelPx),
    ),
  );
}
