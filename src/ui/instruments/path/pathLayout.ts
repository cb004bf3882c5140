/** Lays the signal path out as one line, for the full sheet and for the projector's six parts. */
import { metricsOf, type SheetVariant } from "../../theme/metrics";
import type { Drawing, Shape } from "../drawing/shapes";
import { line, words } from "../drawing/shapes";
import { textWidthPx } from "../drawing/textWidth";
import { ANCHOR_PX, placeSymbol } from "./pathSymbols";
import type { FaultChoice, PathPart, PathSymbol, PathView } from "./pathView";
import { stressBarShapes } from "./stressBar";

const BAR_GAP_PX = 9;

/** Relative widths of the columns; the supply hangs below the line inside the tube's. */
const SHARES: Readonly<Record<PathSymbol, number>> = {
  exciter: 132,
  input: 124,
  tube: 276,
  supply: 0,
  tuning: 240,
  coil: 122,
  loading: 138,
  relay: 128,
  line: 132,
  antenna: 112,
};
/** Under 1180 px the tube's three bars and the long names need a larger part. */
const SHARES_TIGHT: Readonly<Record<PathSymbol, number>> = {
  ...SHARES,
  input: 126,
  tube: 338,
  tuning: 198,
  coil: 110,
  loading: 150,
  relay: 138,
  line: 128,
  antenna: 108,
};
/** The projector's six parts, in larger type. */
const SHARES_PROJECTOR: Readonly<Record<PathSymbol, number>> = {
  ...SHARES,
  exciter: 136,
  tube: 282,
  tuning: 210,
  coil: 136,
  loading: 124,
  antenna: 112,
};
/** Names short enough for narrow columns. */
const SHORT_NAMES: Partial<Record<PathSymbol, string>> = {
  coil: "Coil",
  loading: "Loading",
};
const SIX: readonly PathSymbol[] = [
  "exciter",
  "tube",
  "supply",
  "tuning",
  "coil",
  "loading",
  "antenna",
];

export interface PlacedChips {
  readonly symbol: PathSymbol;
  readonly xPx: number;
  readonly faults: readonly FaultChoice[];
}

export interface PathLayout {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly drawing: Drawing;
  readonly chips: readonly PlacedChips[];
}

/** Three line weights: under 20 W, under 300 W, above. */
export function flowRole(powerW: number): "flow1" | "flow2" | "flow3" {
  return powerW < 20 || !Number.isFinite(powerW) ? "flow1" : powerW < 300 ? "flow2" : "flow3";
}

/** Parts shown: all, or for the projector six, the struck one always among them. */
export function shownParts(view: PathView, variant: SheetVariant): readonly PathPart[] {
  if (variant !== "projector") return view.parts;
  const struck = view.parts.find((part) => part.arc !== null);
  const wanted = new Set(SIX);
  if (struck !== undefined && !wanted.has(struck.symbol)) {
    wanted.delete("coil");
    wanted.add(struck.symbol);
  }
  return view.parts.filter((part) => wanted.has(part.symbol));
}

/** Width a chip takes: mark, word, padding. */
export function chipWidthPx(fault: FaultChoice, labelPx: number): number {
  return Math.ceil(textWidthPx(fault.word, labelPx, 680)) + 33;
}

function fittingChips(part: PathPart, roomPx: number, labelPx: number): readonly FaultChoice[] {
  // A placed or struck fault is never the one left out.
  const ordered = part.faults.toSorted(
    (a, b) => Number(a.standing === "free") - Number(b.standing === "free"),
  );
  const taken: FaultChoice[] = [];
  let used = 0;
  for (const fault of ordered) {
    used += chipWidthPx(fault, labelPx) + (taken.length > 0 ? 6 : 0);
    if (used > roomPx) break;
    taken.push(fault);
  }
  return part.faults.filter((fault) => taken.includes(fault));
}

/** The path as shapes, and where the fault chips go under it. */
export function layoutPath(view: PathView, widthPx: number, variant: SheetVariant): PathLayout {
  const sizes = metricsOf(variant);
  const projector = variant === "projector";
  const parts = shownParts(view, variant);
  const columns = parts.filter((part) => part.symbol !== "supply");
  const tight = widthPx < 1180 && !projector;
  const shares = projector ? SHARES_PROJECTOR : tight ? SHARES_TIGHT : SHARES;
  const share = columns.reduce((sum, part) => sum + shares[part.symbol], 0);
  const scale = widthPx / share;
  const valueRole = tight ? "head" : "value";
  const nameY = sizes.bodyPx;
  const valueY = nameY + (tight ? 20 : sizes.valuePx + 2);
  const beforeY = valueY + sizes.notePx + 5;
  const lineY = beforeY + (projector ? 41 : 46);
  const barsY = lineY + 54;
  const shapes: Shape[] = [];
  const chips: PlacedChips[] = [];

  const lefts = new Map<PathSymbol, number>();
  let left = 0;
  for (const part of columns) {
    lefts.set(part.symbol, left);
    left += shares[part.symbol] * scale;
  }
  const anchorOf = (symbol: PathSymbol) => (lefts.get(symbol) ?? 0) + ANCHOR_PX[symbol];
  drawFlow(columns, anchorOf, lineY, shapes);

  columns.forEach((part, i) => {
    const x = lefts.get(part.symbol) ?? 0;
    const next = columns[i + 1];
    const roomPx = (next === undefined ? widthPx : (lefts.get(next.symbol) ?? widthPx)) - x - 14;
    const name = projector || tight ? (SHORT_NAMES[part.symbol] ?? part.name) : part.name;
    shapes.push(words(tight ? "labelStrong" : "body", x, nameY, name));
    const step = part.readings.length > 1 ? Math.max(roomPx / part.readings.length, 92) : 0;
    part.readings.forEach((reading, k) => {
      const at = x + k * step;
      shapes.push({
        ...words(valueRole, at, valueY, [
          { text: reading.number },
          { text: `\u00a0${reading.unit}`, role: "unit" },
        ]),
        dataKey: `reading:${part.symbol}.${reading.key}`,
      });
      if (reading.before !== "") shapes.push(words("note", at, beforeY, reading.before));
    });
    const placed = placeSymbol(part, anchorOf(part.symbol), lineY);
    shapes.push(...placed.shapes);
    drawNotes(part, x, lineY, sizes, shapes);
    drawArcLabel(part, placed.leaderX, placed.leaderY, sizes, projector, shapes);
    if (!projector) drawBars(part, x, barsY, roomPx, sizes, shapes);
    const faults = variant === "wide" ? fittingChips(part, roomPx + 12, sizes.labelPx) : [];
    if (faults.length > 0) chips.push({ symbol: part.symbol, xPx: x, faults });
  });
  const supply = parts.find((part) => part.symbol === "supply");
  if (supply !== undefined)
    drawSupply(
      supply,
      anchorOf("tube") + (tight ? 78 : projector ? 74 : 96) * Math.max(Math.min(scale, 1), 0.75),
      lineY,
      projector,
      shapes,
    );
  return {
    widthPx,
    heightPx: projector ? lineY + 58 : barsY + sizes.notePx + 16,
    drawing: shapes,
    chips,
  };
}

function drawFlow(
  columns: readonly PathPart[],
  anchorOf: (symbol: PathSymbol) => number,
  lineY: number,
  shapes: Shape[],
): void {
  const first = columns[0];
  const last = columns.at(-1);
  if (first === undefined || last === undefined) return;
  for (let i = 0; i + 1 < columns.length; i += 1) {
    const part = columns[i] as PathPart;
    const next = columns[i + 1] as PathPart;
    if (flowRole(part.powerBeforeW) !== flowRole(part.powerW) && part.powerBeforeW > part.powerW) {
      shapes.push(line("flowGhost", anchorOf(part.symbol), lineY, anchorOf(next.symbol), lineY));
    }
  }
  for (let i = 0; i + 1 < columns.length; i += 1) {
    const part = columns[i] as PathPart;
    const next = columns[i + 1] as PathPart;
    shapes.push({
      ...line(flowRole(part.powerW), anchorOf(part.symbol), lineY, anchorOf(next.symbol), lineY),
      dataKey: `flow:${part.symbol}`,
    });
  }
}

type Sizes = ReturnType<typeof metricsOf>;

function drawNotes(part: PathPart, x: number, lineY: number, sizes: Sizes, shapes: Shape[]): void {
  if (part.arc !== null) return;
  part.notes.slice(0, 2).forEach((note, i) => {
    shapes.push({
      ...words("note", x, lineY + 30 + i * (sizes.notePx + 2), note, { halo: "sheet" }),
      dataKey: `note:${part.symbol}.${i}`,
    });
  });
}

function drawArcLabel(
  part: PathPart,
  x: number,
  y: number,
  sizes: Sizes,
  projector: boolean,
  shapes: Shape[],
): void {
  if (part.arc === null) return;
  shapes.push(line("arcThin", x, y, x + 22, y));
  shapes.push(
    words("headArc", x + 28, y - 5, part.arc.standing === "burning" ? "Arc" : "Arc, out", {
      halo: "sheet",
    }),
  );
  part.arc.lines.slice(0, projector ? 1 : 2).forEach((text, i) => {
    shapes.push({
      ...words("labelArc", x + 28, y + sizes.labelPx - 1 + i * (sizes.labelPx + 2), text, {
        halo: "sheet",
      }),
      dataKey: `arc:${part.symbol}.${i}`,
    });
  });
}

function drawBars(
  part: PathPart,
  x: number,
  y: number,
  roomPx: number,
  sizes: Sizes,
  shapes: Shape[],
): void {
  const count = part.bars.length;
  if (count === 0) return;
  const each = Math.min((roomPx - (count - 1) * BAR_GAP_PX) / count, count === 1 ? 210 : 96);
  part.bars.forEach((bar, i) => {
    shapes.push(...stressBarShapes(bar, x + i * (each + BAR_GAP_PX), y, each, sizes));
  });
}

function drawSupply(
  part: PathPart,
  x: number,
  lineY: number,
  projector: boolean,
  shapes: Shape[],
): void {
  const placed = placeSymbol(part, x, lineY);
  shapes.push(...placed.shapes);
  const reading = part.readings[0];
  if (!projector) shapes.push(words("body", x + 20, lineY + 26, part.name, { halo: "sheet" }));
  if (reading !== undefined) {
    shapes.push({
      ...words(
        projector ? "label" : "head",
        x + 20,
        lineY + 43,
        [{ text: reading.number }, { text: `\u00a0${reading.unit}` }],
        { halo: "sheet" },
      ),
      dataKey: `reading:${part.symbol}.${reading.key}`,
    });
  }
}
