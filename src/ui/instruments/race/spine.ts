/**
 * The axis between protection and damage: clearing line, melt onset, and between them the margin as a dimension.
 * Beside it the operator's band and by what ratio a person is late.
 */
import { formatLate, formatRatio, formatTime } from "../../../units/format";
import type { Shape } from "../drawing/shapes";
import { line, rect, words } from "../drawing/shapes";
import { textWidthPx, wrapText } from "../drawing/textWidth";
import { AXIS_TICKS, AXIS_TO_S, DECADE_WORDS, xOf } from "./raceAxis";
import type { RacePlan } from "./racePlan";
import type { RaceSpine, RaceView } from "./raceView";

const TICK_PX = { decade: 8, five: 5, unit: 3 } as const;

function dimension(
  role: "dimension" | "dimensionMinor",
  fromX: number,
  toX: number,
  y: number,
): Shape {
  return { ...line(role, fromX, y, toX, y), arrows: "both" };
}

export function drawAxis(plan: RacePlan, shapes: Shape[]): void {
  const { axis, axisY, sizes } = plan;
  shapes.push(line("axis", axis.leftPx, axisY, axis.rightPx, axisY));
  for (const tick of AXIS_TICKS) {
    const x = xOf(axis, tick.atS);
    if (plan.narrow && tick.rank !== "decade") continue;
    shapes.push(line("thin", x, axisY, x, axisY - TICK_PX[tick.rank]));
  }
  const decadePx = (axis.rightPx - axis.leftPx) / 7;
  DECADE_WORDS.forEach((word, i) => {
    if (decadePx < textWidthPx("100 ms", sizes.labelPx) + 6 && i % 2 === 1 && i !== 7) return;
    if (decadePx < textWidthPx("100 ms", sizes.labelPx) + 6 && i === 6) return;
    const x = axis.leftPx + i * decadePx;
    shapes.push(
      words("label", x, axisY + sizes.labelPx + 3, word, {
        halo: "sheet",
        ...(i === 0 ? {} : { anchor: i === 7 ? "end" : "middle" }),
      }),
    );
  });
  if (plan.narrow) return;
  shapes.push(
    words("labelStrong", 0, axisY + 3, "Time from the strike"),
    words("note", 0, axisY + 4 + sizes.notePx, "equal ratios are equal lengths"),
  );
}

export function drawSpine(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  const { spine, operator } = view;
  const { axis, sizes, spineY, axisY } = plan;
  const clearX = spine.clearingS === null ? null : xOf(axis, spine.clearingS);
  const onsetX = spine.onsetS === null ? null : xOf(axis, spine.onsetS);
  const operatorX = xOf(axis, operator.nominalS);
  const bandX = xOf(axis, operator.earliestS);
  const bandEnd = xOf(axis, operator.latestS);
  const dimY = axisY - sizes.labelPx * 2 - 12;
  const late = spine.margin !== null && spine.margin < 1;
  const tall = plan.damage.find(({ lane }) => lane.tall);
  const lineEnd = tall === undefined ? axisY : tall.y + tall.height - 2;

  if (clearX !== null && onsetX !== null) {
    shapes.push(
      rect(
        late ? "lateGround" : isThin(spine) ? "thinGround" : "marginGround",
        Math.min(clearX, onsetX),
        spineY + 1,
        Math.abs(onsetX - clearX),
        axisY - spineY - 1,
      ),
    );
  }
  let takenTo = axis.leftPx;
  if (clearX !== null) {
    shapes.push(line(clearingRole(spine), clearX, spineY, clearX, lineEnd));
    takenTo = clearX;
  }
  if (onsetX !== null) {
    shapes.push(
      line(view.standing === "forecast" ? "onsetDue" : "onset", onsetX, dimY - 8, onsetX, lineEnd),
    );
    takenTo = Math.max(takenTo, onsetX);
  }
  drawAxis(plan, shapes);
  drawMargin(view, plan, clearX, onsetX, dimY, shapes);
  if (onsetX !== null && operator.margin !== null) {
    const from = Math.min(onsetX, operatorX);
    const to = Math.max(onsetX, operatorX);
    if (to - from > 26) shapes.push(dimension("dimensionMinor", from, to, dimY));
    drawOperatorWords(operator.margin, takenTo, bandX, dimY, plan, shapes);
  }
  if (!plan.narrow) {
    const seconds = `${operator.earliestS} to ${operator.latestS}\u00a0s`;
    shapes.push(
      words("label", bandEnd + 5, dimY - sizes.labelPx + 2, "operator"),
      words("labelStrong", bandEnd + 5, dimY + 4, seconds),
    );
  }
  shapes.push(line("hair", 0, plan.damageY, plan.axis.rightPx, plan.damageY));
}

function clearingRole({ clearingHappened }: RaceSpine): "clearing" | "clearingDue" {
  return clearingHappened ? "clearing" : "clearingDue";
}

/** The clearing line from the lane that cleared down to the spine: under the words of the lanes between. */
export function drawClearing(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  const leading = plan.monitors.find(({ lane }) => lane.leading);
  if (leading === undefined || view.spine.clearingS === null) return;
  const x = xOf(plan.axis, view.spine.clearingS);
  const top = leading.y + leading.height * 0.42 + 8;
  shapes.push(line(clearingRole(view.spine), x, top, x, plan.spineY));
}

/** By how much a person alone is late, as large as the room between onset and band allows. */
function drawOperatorWords(
  margin: number,
  fromX: number,
  toX: number,
  dimY: number,
  plan: RacePlan,
  shapes: Shape[],
): void {
  const { sizes } = plan;
  const whole = margin < 1 ? formatLate(margin) : `in time, ${formatRatio(margin)}`;
  const short = margin < 1 ? `${formatRatio(1 / margin)} late` : formatRatio(margin);
  const roomPx = toX - fromX - 6;
  const x = (fromX + toX) / 2;
  const choices = [
    { role: "head", text: whole, sizePx: sizes.headPx },
    { role: "labelStrong", text: whole, sizePx: sizes.labelPx },
    { role: "labelStrong", text: short, sizePx: sizes.labelPx },
  ] as const;
  const chosen = choices.find(({ text, sizePx }) => textWidthPx(text, sizePx, 640) <= roomPx);
  if (chosen === undefined) return;
  shapes.push(words(chosen.role, x, dimY - 7, chosen.text, { anchor: "middle" }));
  if (plan.narrow || textWidthPx("operator alone", sizes.labelPx) > roomPx) return;
  shapes.push(words("label", x, dimY - 9 - chosen.sizePx, "operator alone", { anchor: "middle" }));
}

/** In time, but by less than the margin that is asked for. */
function isThin(spine: RaceSpine): boolean {
  const { margin, marginRequired } = spine;
  return margin !== null && margin >= 1 && marginRequired !== null && margin < marginRequired;
}

function drawMargin(
  view: RaceView,
  plan: RacePlan,
  clearX: number | null,
  onsetX: number | null,
  dimY: number,
  shapes: Shape[],
): void {
  const { spine } = view;
  const { axis, sizes } = plan;
  if (
    spine.margin === null ||
    clearX === null ||
    onsetX === null ||
    spine.clearingS === null ||
    spine.onsetS === null
  ) {
    const x = clearX === null ? axis.leftPx + 10 : clearX - 10;
    const anchor = clearX === null ? {} : ({ anchor: "end" } as const);
    if (clearX !== null && spine.clearingS !== null) {
      shapes.push(
        words(
          "labelStrong",
          x,
          dimY + 6,
          `${spine.clearingWord} ${formatTime(spine.clearingS)}`,
          anchor,
        ),
      );
    }
    // the small sheet has these words over the drawing
    if (plan.narrow) return;
    const roomPx = clearX === null ? axis.rightPx - x : x - axis.leftPx;
    const lines = wrapText(spine.noMarginWord, roomPx, sizes.headPx, 640);
    lines.forEach((text, i) => {
      const base = dimY - 14 - (lines.length - 1 - i) * (sizes.headPx + 3);
      shapes.push(words("head", x, base, text, anchor));
    });
    return;
  }
  const late = spine.margin < 1;
  const figure = formatRatio(spine.margin);
  const left = Math.min(clearX, onsetX);
  const right = Math.max(clearX, onsetX);
  const figurePx = textWidthPx(figure, plan.narrow ? sizes.bigPx : sizes.marginPx, 640);
  const inside = right - left >= figurePx * 0.96;
  const figureX = inside ? (left + right) / 2 : left - 8;
  const anchor = inside ? ({ anchor: "middle" } as const) : ({ anchor: "end" } as const);
  const role = late ? "marginDanger" : plan.narrow ? "big" : "margin";
  if (right - left > 26) shapes.push(dimension("dimension", left, right, dimY));
  else shapes.push(line("dimension", left, dimY, right, dimY));
  shapes.push(words(role, figureX, dimY - 8, figure, anchor));
  const spare = `${formatTime(Math.abs(spine.onsetS - spine.clearingS))}`;
  const kind = isThin(spine) ? "thin margin" : "margin";
  const whole = late
    ? `${formatLate(spine.margin)}, ${spare}`
    : `${kind}${view.standing === "forecast" ? " if struck" : ""} ${spare}`;
  const fits = (text: string) => right - left >= textWidthPx(text, sizes.labelPx, 680) + 6;
  const name = late || fits(whole) ? whole : `${kind} ${spare}`;
  const nameInside = fits(name);
  const nameX = nameInside ? (left + right) / 2 : inside ? right - 4 : figureX;
  const nameAnchor = nameInside ? ({ anchor: "middle" } as const) : ({ anchor: "end" } as const);
  shapes.push(
    words(
      "labelStrong",
      nameX,
      dimY + sizes.labelPx + 2,
      plan.narrow && !nameInside ? spare : name,
      nameAnchor,
    ),
  );
  if (spine.marginEarly !== null && spine.onsetEarlyS !== null) {
    const early =
      spine.marginEarly < 1
        ? `early edge ${formatLate(spine.marginEarly)}`
        : `early edge ${formatRatio(spine.marginEarly)}`;
    const earlyInside = right - left >= textWidthPx(early, sizes.notePx);
    if (!plan.narrow || earlyInside) {
      shapes.push(
        words(
          "noteInk",
          earlyInside ? (left + right) / 2 : nameX,
          dimY + sizes.labelPx + sizes.notePx + 4,
          early,
          earlyInside ? { anchor: "middle" } : { anchor: "end" },
        ),
      );
    }
  }
  if (plan.narrow) return;
  if (late) {
    const y = Math.max(dimY - sizes.labelPx * 2 - 20, plan.spineY + sizes.labelPx);
    shapes.push(
      words("label", right + 8, y, spine.clearingWord),
      words("labelStrong", right + 8, y + sizes.labelPx + 2, formatTime(spine.clearingS)),
    );
    return;
  }
  const tagX = inside
    ? left - 8
    : figureX - Math.max(figurePx, nameInside ? 0 : textWidthPx(name, sizes.labelPx, 680)) - 18;
  shapes.push(
    words("label", tagX, dimY - sizes.labelPx + 2, spine.clearingWord, { anchor: "end" }),
  );
  shapes.push(words("labelStrong", tagX, dimY + 4, formatTime(spine.clearingS), { anchor: "end" }));
}

/** The operator's band over the damage lanes, and a label where it runs past the axis. */
export function drawOperatorBand(view: RaceView, plan: RacePlan, shapes: Shape[]): void {
  const from = xOf(plan.axis, Math.min(view.operator.earliestS, AXIS_TO_S));
  const to = xOf(plan.axis, Math.min(view.operator.latestS, AXIS_TO_S));
  shapes.push(
    rect(
      "operatorBand",
      from,
      plan.spineY + 8,
      Math.max(to - from, 3),
      plan.heightPx - plan.spineY - 10,
    ),
  );
}
