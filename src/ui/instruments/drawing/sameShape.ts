/** Whether two drawings are the same on the page: plain data compared by what it says. */
import type { Drawing, Shape, TextRun } from "./shapes";

/** Two lists of shapes, in order. */
export function sameDrawing(a: Drawing, b: Drawing): boolean {
  if (a === b) return true;
  return a.length === b.length && a.every((shape, i) => sameShape(shape, b[i] as Shape));
}

/** Two shapes, groups with everything in them. */
export function sameShape(a: Shape, b: Shape): boolean {
  if (a === b) return true;
  switch (a.kind) {
    case "path":
      return (
        b.kind === "path" &&
        a.d === b.d &&
        a.role === b.role &&
        a.arrows === b.arrows &&
        a.dataKey === b.dataKey
      );
    case "rect":
      return b.kind === "rect" && sameBox(a, b) && a.role === b.role && a.dataKey === b.dataKey;
    case "circle":
      return (
        b.kind === "circle" &&
        a.x === b.x &&
        a.y === b.y &&
        a.radius === b.radius &&
        a.role === b.role
      );
    case "text":
      return (
        b.kind === "text" &&
        a.x === b.x &&
        a.y === b.y &&
        a.role === b.role &&
        a.anchor === b.anchor &&
        a.halo === b.halo &&
        a.dataKey === b.dataKey &&
        sameRuns(a.runs, b.runs)
      );
    case "group":
      return (
        b.kind === "group" &&
        a.x === b.x &&
        a.y === b.y &&
        a.scale === b.scale &&
        a.blink === b.blink &&
        sameDrawing(a.shapes, b.shapes)
      );
    case "clip":
      return b.kind === "clip" && sameBox(a, b) && a.id === b.id && sameDrawing(a.shapes, b.shapes);
  }
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function sameBox(a: Box, b: Box): boolean {
  return a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;
}

/** Two lists of words, in order. */
export function sameRuns(a: readonly TextRun[], b: readonly TextRun[]): boolean {
  return (
    a.length === b.length &&
    a.every((run, i) => {
      const other = b[i] as TextRun;
      return run.text === other.text && run.strong === other.strong && run.role === other.role;
    })
  );
}
