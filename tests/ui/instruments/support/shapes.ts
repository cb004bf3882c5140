import type { Drawing, Shape, TextShape } from "../../../../src/ui/instruments/drawing/shapes";

/** Every shape of a drawing, also those inside groups. */
export function flat(drawing: Drawing): readonly Shape[] {
  return drawing.flatMap((shape) =>
    shape.kind === "group" || shape.kind === "clip" ? [shape, ...flat(shape.shapes)] : [shape],
  );
}

export function texts(drawing: Drawing): readonly TextShape[] {
  return flat(drawing).filter((shape): shape is TextShape => shape.kind === "text");
}

export function wordsOf(text: TextShape): string {
  return text.runs
    .map((run) => run.text)
    .join("")
    .replaceAll("\u00a0", " ");
}

/** The text that reads so. */
export function textReading(drawing: Drawing, wanted: string): TextShape {
  const found = texts(drawing).find((text) => wordsOf(text) === wanted);
  if (found === undefined)
    throw new Error(`no text "${wanted}" among: ${texts(drawing).map(wordsOf).join(" | ")}`);
  return found;
}
