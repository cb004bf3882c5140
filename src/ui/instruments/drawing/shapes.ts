/**
 * A drawing as plain data: what a layout function returns. React draws it on the sheet, another writer turns it into
 * a picture file that stands alone. Positions are CSS pixels; every shape names a role, and roles carry the look.
 */
import type { LineRole, TextRole } from "./roles";

/** Words with parts set bold. */
export interface TextRun {
  readonly text: string;
  readonly strong?: boolean;
  readonly role?: TextRole;
}
export type RichText = readonly TextRun[];

export interface PathShape {
  readonly kind: "path";
  readonly d: string;
  readonly role: LineRole;
  readonly arrows?: "both" | "end";
  readonly dataKey?: string;
}
export interface RectShape {
  readonly kind: "rect";
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly role: LineRole;
  readonly dataKey?: string;
}
export interface CircleShape {
  readonly kind: "circle";
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly role: LineRole;
}
export interface TextShape {
  readonly kind: "text";
  readonly x: number;
  readonly y: number;
  readonly role: TextRole;
  readonly runs: RichText;
  readonly anchor?: "middle" | "end";
  /** A ring of ground colour round the letters, so that lines behind do not run through them. */
  readonly halo?: "sheet" | "ahead" | "guardSoft";
  /** Names the text for updates without a redraw. */
  readonly dataKey?: string;
}
export interface GroupShape {
  readonly kind: "group";
  readonly x: number;
  readonly y: number;
  readonly scale?: number;
  readonly shapes: Drawing;
  /** Blinks until acknowledged; still under reduced motion. */
  readonly blink?: boolean;
}
export interface ClipShape {
  readonly kind: "clip";
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly id: string;
  readonly shapes: Drawing;
}
export type Shape = PathShape | RectShape | CircleShape | TextShape | GroupShape | ClipShape;
export type Drawing = readonly Shape[];

/** One tenth of a pixel is finer than any screen shows and keeps files short. */
export function px(value: number): string {
  return String(Math.round(value * 10) / 10);
}

/** A straight or broken line through points given as x, y, x, y ... */
export function line(role: LineRole, ...xy: readonly number[]): PathShape {
  let d = "";
  for (let i = 0; i + 1 < xy.length; i += 2)
    d += `${i === 0 ? "M" : "L"}${px(xy[i] as number)} ${px(xy[i + 1] as number)}`;
  return { kind: "path", d, role };
}

export function rect(
  role: LineRole,
  x: number,
  y: number,
  width: number,
  height: number,
): RectShape {
  return { kind: "rect", x, y, width: Math.max(width, 0), height: Math.max(height, 0), role };
}

/** Plain words at a place. */
export function words(
  role: TextRole,
  x: number,
  y: number,
  text: string | RichText,
  extra: Partial<Pick<TextShape, "anchor" | "halo" | "dataKey">> = {},
): TextShape {
  return { kind: "text", x, y, role, runs: typeof text === "string" ? [{ text }] : text, ...extra };
}
