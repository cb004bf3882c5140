/**
 * Writes a drawing as an SVG file that stands alone: styles inlined, text as text, no reference outside the file.
 * The same drawing and palette give the same bytes.
 */
import { ARROW_ID, ARROW_PATH, HATCH_STEP_PX, HATCHES, hatchId } from "./hatches";
import {
  type ColourToken,
  type LineRole,
  lineStyle,
  type SizeToken,
  type TextRole,
  textStyle,
  type WeightToken,
} from "./roles";
import { type Drawing, px, type Shape, type TextRun } from "./shapes";

/** Values of the tokens a picture is drawn with, as read from the page or from the style sheet. */
export interface Palette {
  colour(token: ColourToken): string;
  weightPx(token: WeightToken): number;
  sizePx(token: SizeToken): number;
}

export interface PictureFile {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly title: string;
  readonly description: string;
  readonly drawing: Drawing;
}

const FONT = "Archivo, 'Liberation Sans', 'Helvetica Neue', Arial, sans-serif";
const SPECIAL: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
};

function escapeText(text: string): string {
  return text.replace(/[&<>"]/g, (letter) => SPECIAL[letter] ?? letter);
}

function lineAttributes(role: LineRole, palette: Palette): string {
  const { fill, hatch, stroke, width, dash, round } = lineStyle(role);
  const fillValue =
    hatch !== undefined
      ? `url(#${hatchId(hatch)})`
      : fill !== undefined
        ? palette.colour(fill)
        : "none";
  let out = ` fill="${fillValue}"`;
  if (stroke !== undefined)
    out += ` stroke="${palette.colour(stroke)}" stroke-width="${typeof width === "string" ? palette.weightPx(width) : (width ?? 1)}"`;
  if (dash !== undefined) out += ` stroke-dasharray="${dash}"`;
  if (round === true) out += ' stroke-linejoin="round" stroke-linecap="round"';
  return out;
}

function textAttributes(role: TextRole, palette: Palette): string {
  const { size, fill, weight } = textStyle(role);
  return ` font-size="${palette.sizePx(size)}" fill="${palette.colour(fill)}" font-weight="${weight ?? 400}"`;
}

function runText(run: TextRun, palette: Palette): string {
  if (run.role !== undefined)
    return `<tspan${textAttributes(run.role, palette)}>${escapeText(run.text)}</tspan>`;
  return run.strong === true
    ? `<tspan font-weight="680">${escapeText(run.text)}</tspan>`
    : escapeText(run.text);
}

const HALO_COLOURS = { sheet: "sheet", ahead: "ahead", guardSoft: "guard-soft" } as const;

function shapeText(shape: Shape, palette: Palette): string {
  switch (shape.kind) {
    case "path": {
      const arrow = `url(#${ARROW_ID})`;
      const ends =
        shape.arrows === undefined
          ? ""
          : `${shape.arrows === "both" ? ` marker-start="${arrow}"` : ""} marker-end="${arrow}"`;
      return `<path d="${shape.d}"${lineAttributes(shape.role, palette)}${ends}/>`;
    }
    case "rect":
      return `<rect x="${px(shape.x)}" y="${px(shape.y)}" width="${px(shape.width)}" height="${px(shape.height)}"${lineAttributes(shape.role, palette)}/>`;
    case "circle":
      return `<circle cx="${px(shape.x)}" cy="${px(shape.y)}" r="${px(shape.radius)}"${lineAttributes(shape.role, palette)}/>`;
    case "text": {
      const halo =
        shape.halo === undefined
          ? ""
          : ` paint-order="stroke" stroke="${palette.colour(HALO_COLOURS[shape.halo])}" stroke-width="5" stroke-linejoin="round"`;
      const anchor = shape.anchor === undefined ? "" : ` text-anchor="${shape.anchor}"`;
      return `<text x="${px(shape.x)}" y="${px(shape.y)}"${anchor}${textAttributes(shape.role, palette)}${halo}>${shape.runs.map((run) => runText(run, palette)).join("")}</text>`;
    }
    case "group": {
      const scale = shape.scale === undefined ? "" : ` scale(${shape.scale})`;
      return `<g transform="translate(${px(shape.x)} ${px(shape.y)})${scale}">${shapesText(shape.shapes, palette)}</g>`;
    }
    case "clip":
      return `<clipPath id="${shape.id}"><rect x="${px(shape.x)}" y="${px(shape.y)}" width="${px(shape.width)}" height="${px(shape.height)}"/></clipPath><g clip-path="url(#${shape.id})">${shapesText(shape.shapes, palette)}</g>`;
  }
}

function shapesText(drawing: Drawing, palette: Palette): string {
  return drawing.map((shape) => shapeText(shape, palette)).join("\n");
}

/** The picture file as text. A border of 12 px of ground is added round the drawing. */
export function drawingToSvg(picture: PictureFile, palette: Palette): string {
  const { widthPx, heightPx } = picture;
  const border = 12;
  const hatches = HATCHES.map(
    (hatch) =>
      `<pattern id="${hatchId(hatch.name)}" width="${HATCH_STEP_PX}" height="${HATCH_STEP_PX}" patternUnits="userSpaceOnUse" patternTransform="rotate(${hatch.turnDeg})"><path d="M0 0V${HATCH_STEP_PX}" stroke="${palette.colour(hatch.stroke)}" stroke-width="${hatch.widthPx}"/></pattern>`,
  ).join("");
  const arrow = `<marker id="${ARROW_ID}" viewBox="0 0 12 8" refX="11.5" refY="4" markerWidth="12" markerHeight="8" markerUnits="userSpaceOnUse" orient="auto-start-reverse"><path d="${ARROW_PATH}" fill="${palette.colour("ink")}"/></marker>`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx + 2 * border}" height="${heightPx + 2 * border}" viewBox="${-border} ${-border} ${widthPx + 2 * border} ${heightPx + 2 * border}" font-family="${FONT}" role="img">`,
    `<title>${escapeText(picture.title)}</title><desc>${escapeText(picture.description)}</desc>`,
    `<defs>${hatches}${arrow}</defs>`,
    `<rect x="${-border}" y="${-border}" width="${widthPx + 2 * border}" height="${heightPx + 2 * border}" fill="${palette.colour("sheet")}"/>`,
    shapesText(picture.drawing, palette),
    "</svg>\n",
  ].join("\n");
}
