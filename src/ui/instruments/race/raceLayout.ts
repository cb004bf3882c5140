/** Lays the race out for a box: one drawing, made anew for every width. */
import { formatTime } from "../../../units/format";
import type { Drawing, Shape } from "../drawing/shapes";
import { line, px, rect, words } from "../drawing/shapes";
import { textWidthPx } from "../drawing/textWidth";
import { drawDamageLanes } from "./damageLanes";
import { drawMonitorLanes } from "./monitorLanes";
import { AXIS_DECADES, type RaceAxis } from "./raceAxis";
import { planRace, type RaceBox, type RacePlan } from "./racePlan";
import type { RaceView } from "./raceView";
import { drawClearing, drawOperatorBand, drawSpine } from "./spine";

/** Key of every shape that goes with now. */
export const NOW_KEY = "now";

export interface RaceDrawing {
  /** Where now was drawn, null without one, and the axis it moves along. */
  readonly nowX: number | null;
  readonly axis: RaceAxis;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly drawing: Drawing;
}

function drawGround(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  const { axis } = plan;
  const from = view.standing === "forecast" ? axis.leftPx : plan.nowX;
  if (from !== null) {
    shapes.push(rect("aheadGround", from, plan.topY, axis.rightPx - from, plan.spineY - plan.topY));
    shapes.push(
      rect(
        "aheadGround",
        from,
        plan.damageY,
        axis.rightPx - from,
        plan.heightPx - 2 - plan.damageY,
      ),
    );
  }
  for (let i = 0; i <= AXIS_DECADES; i += 1) {
    const x = axis.leftPx + ((axis.rightPx - axis.leftPx) * i) / AXIS_DECADES;
    shapes.push(
      line("hair", x, plan.topY, x, plan.spineY),
      line("hair", x, plan.damageY, x, plan.heightPx - 2),
    );
  }
  shapes.push(line("hair", 0, plan.spineY, axis.rightPx, plan.spineY));
}

function drawNow(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  const { axis, sizes, nowX } = plan;
  const base = plan.topY - 4;
  const start = plan.narrow ? "" : "strike at the left edge, then 1\u00a0µs";
  const ahead = plan.narrow
    ? ""
    : view.standing === "forecast"
      ? "forecast: nothing here has happened"
      : "ahead: the same fault left alone, and shadow";
  let freeFrom = axis.leftPx;
  let freeTo = axis.rightPx;
  if (nowX !== null && view.nowS !== null) {
    shapes.push({
      kind: "path",
      role: "inkFill",
      d: `M${px(nowX)} ${px(base)}l5 -7h-10z`,
      dataKey: NOW_KEY,
    });
    const word = nowWord(view.nowS);
    const wordPx = textWidthPx(word, sizes.labelPx, 680) + 12;
    const right = nowX + wordPx < plan.widthPx;
    shapes.push(
      words("labelStrong", nowX + (right ? 9 : -9), base, word, {
        dataKey: NOW_KEY,
        ...(right ? {} : { anchor: "end" }),
      }),
    );
    const leftEnd = right ? nowX - 8 : nowX - wordPx;
    const rightEnd = right ? nowX + wordPx : nowX + 8;
    if (leftEnd - axis.leftPx < textWidthPx(start, sizes.notePx)) freeFrom = rightEnd;
    freeTo = Math.min(freeTo, axis.rightPx);
    if (axis.rightPx - rightEnd < textWidthPx(ahead, sizes.notePx)) freeTo = leftEnd;
  }
  if (freeFrom === axis.leftPx) shapes.push(words("note", axis.leftPx, base, start));
  if (freeTo === axis.rightPx)
    shapes.push(words("note", axis.rightPx, base, ahead, { anchor: "end" }));
}

function drawNowLine({ nowX }: RacePlan, fromY: number, toY: number, shapes: Shape[]): void {
  if (nowX !== null) shapes.push({ ...line("now", nowX, fromY, nowX, toY), dataKey: NOW_KEY });
}

/** What stands at the mark of now. */
export function nowWord(nowS: number): string {
  return nowS <= 0 ? `now, ${formatTime(-nowS)} before the strike` : `now ${formatTime(nowS)}`;
}

/** The whole race as shapes. */
export function layoutRace(view: RaceView, box: RaceBox): RaceDrawing {
  const plan = planRace(view, box);
  const shapes: Shape[] = [];
  drawGround(view, plan, shapes);
  drawOperatorBand(view, plan, shapes);
  // marks that go down the sheet lie under all words, and over the areas of the damage
  drawNowLine(plan, plan.topY - 4, plan.spineY, shapes);
  drawClearing(view, plan, shapes);
  drawMonitorLanes(view, plan, shapes);
  const damage: Shape[] = [];
  drawDamageLanes(view, plan, damage);
  shapes.push(...damage.filter(({ kind }) => kind !== "text"));
  drawNowLine(plan, plan.damageY, plan.heightPx - 2, shapes);
  shapes.push(...damage.filter(({ kind }) => kind === "text"));
  drawSpine(view, plan, shapes);
  drawNow(view, plan, shapes);
  const { widthPx, heightPx, nowX, axis } = plan;
  return { widthPx, heightPx, drawing: shapes, nowX, axis };
}
