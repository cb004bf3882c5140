/**
 * Two plate edges side by side at one scale: this run, and the run left to the operator. The gap is to scale, so that
 * bridging is seen as touching. Isotherms are flat areas with outlines and figures: density is heat.
 */
import { formatCelsius } from "../../../units/format";
import { metricsOf, type SheetVariant } from "../../theme/metrics";
import type { LineRole } from "../drawing/roles";
import { type Drawing, line, px, rect, type Shape, words } from "../drawing/shapes";
import { fitText } from "../drawing/textWidth";
import type { EdgeHalf, EdgeView } from "./edgeView";

export interface EdgeLayout {
  readonly heightPx: number;
  readonly drawing: Drawing;
  /** How many times larger than life, at 96 CSS pixels to the inch. */
  readonly enlargement: number;
}

const GAP_PX = 28;
const METRE_PX = 96 / 0.0254;

/** Area role by temperature: five steps from warm to molten aluminium (933 K). */
export function isothermRole(temperatureK: number): LineRole {
  if (temperatureK >= 933) return "iso5";
  if (temperatureK >= 850) return "iso4";
  if (temperatureK >= 650) return "iso3";
  return temperatureK >= 450 ? "iso2" : "iso1";
}

export function layoutEdge(
  view: EdgeView,
  widthPx: number,
  variant: SheetVariant,
  idStem: string,
): EdgeLayout {
  const sizes = metricsOf(variant);
  const scale = GAP_PX / view.gapM;
  const panel = (widthPx - 14) / 2;
  const depth = variant === "phone" ? 84 : 70;
  const shapes: Shape[] = [];
  for (const [i, half] of [view.thisRun, view.leftAlone].entries()) {
    drawHalf(half, i * (panel + 14), panel, depth, scale, sizes.notePx, `${idStem}-${i}`, shapes);
  }
  return {
    heightPx: 14 + GAP_PX + depth + sizes.notePx + 6,
    drawing: shapes,
    enlargement: scale / METRE_PX,
  };
}

function drawHalf(
  half: EdgeHalf,
  left: number,
  panel: number,
  depth: number,
  scale: number,
  notePx: number,
  id: string,
  shapes: Shape[],
): void {
  const edgeY = 14 + GAP_PX;
  const middle = left + panel / 2;
  const bottom = edgeY + depth;
  const rings = half.isotherms.toSorted((a, b) => b.radiusM - a.radiusM);
  shapes.push(rect("iso0", left, edgeY, panel, depth));
  shapes.push({
    kind: "clip",
    id,
    x: left,
    y: edgeY,
    width: panel,
    height: depth,
    shapes: rings.map((ring) => ({
      kind: "circle",
      role: isothermRole(ring.temperatureK),
      x: middle,
      y: edgeY,
      radius: ring.radiusM * scale,
    })),
  });
  shapes.push({
    kind: "path",
    role: "edgeFrame",
    d: `M${px(left)} ${px(bottom)}V${px(edgeY)}H${px(left + panel)}V${px(bottom)}`,
  });
  shapes.push(rect("otherPlate", left, 6, panel, 8));
  drawFigures(half, rings, left, middle, edgeY, bottom, scale, notePx, shapes);
  if (half.arc !== "none" && !half.bridged) {
    shapes.push({
      kind: "path",
      role: half.arc === "burning" ? "arcLine" : "arcGhost",
      d: `M${px(middle)} 14l-3 7 5 5-4 6 2 ${px(GAP_PX - 18)}`,
    });
  }
  const bead = Math.min(half.beadRadiusM * scale, panel / 3);
  if (half.bridged) {
    const neck = Math.max(bead * 0.55, 6);
    const foot = Math.max(bead, 9);
    shapes.push({
      kind: "path",
      role: "iso5",
      d: `M${px(middle - foot)} ${px(edgeY + 2)}q${px(foot - neck)} -12 ${px(foot - neck)} ${px(-GAP_PX / 2)}t${px(-(foot - neck) * 0.6)} ${px(-GAP_PX / 2 - 2)}h${px(neck * 2 + (foot - neck) * 1.2)}q${px(-(foot - neck) * 0.6)} 8 ${px(-(foot - neck) * 0.6)} ${px(GAP_PX / 2 + 2)}t${px(foot - neck)} ${px(GAP_PX / 2)}z`,
    });
    shapes.push(
      line("thin", middle + foot, edgeY - 12, middle + foot + 12, edgeY - 18),
      words("noteStrong", middle + foot + 15, edgeY - 13, "bridged", { halo: "sheet" }),
    );
  } else if (bead >= 1.5) {
    shapes.push({ kind: "circle", role: "iso5", x: middle, y: edgeY - bead * 0.5, radius: bead });
    shapes.push(
      line("thin", middle + bead * 0.8, edgeY - bead, middle + bead + 10, edgeY - bead - 5),
      words("noteStrong", middle + bead + 13, edgeY - bead - 1, "bead", { halo: "sheet" }),
    );
  }
  shapes.push(words("note", left, bottom + notePx + 3, fitText(half.caption, panel, notePx)));
}

/** Peak in the gap, where nothing else is; figures on the pale rings only, where ink stands clear of its ground. */
function drawFigures(
  half: EdgeHalf,
  rings: EdgeHalf["isotherms"],
  left: number,
  middle: number,
  edgeY: number,
  bottom: number,
  scale: number,
  notePx: number,
  shapes: Shape[],
): void {
  shapes.push(words("noteStrong", left + 4, edgeY - GAP_PX / 2 + 4, formatCelsius(half.peakK)));
  let lastY = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    const role = isothermRole(ring.temperatureK);
    const radiusPx = ring.radiusM * scale;
    const y = Math.min(edgeY + radiusPx, bottom);
    const text = formatCelsius(ring.temperatureK);
    if (role !== "iso1" && role !== "iso2") continue;
    if (radiusPx >= notePx + 6 && lastY - y >= notePx + 2) {
      shapes.push(words("noteInk", middle, y - 3, text, { anchor: "middle" }));
      lastY = y;
    } else if (radiusPx > 2 && radiusPx < notePx + 6 && lastY === Number.POSITIVE_INFINITY) {
      const x = middle + Math.max(radiusPx, 4) + 12;
      shapes.push(line("thin", middle + radiusPx * 0.7, edgeY + radiusPx * 0.6, x - 3, edgeY + 20));
      shapes.push(words("noteInk", x, edgeY + 24, text));
      lastY = y;
    }
  }
}
