/** From offsets and paths to places in a JSON text. */
import type { JsonNode } from "./jsonText";

/** Line and column of an offset, both from 1. Lines end with LF, CR LF or CR. */
export function lineColumn(text: string, offset: number): { line: number; column: number } {
  let line = 1;
  let lineStart = 0;
  const end = Math.min(offset, text.length);
  for (let at = 0; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 10 || (code === 13 && text.charCodeAt(at + 1) !== 10)) {
      line += 1;
      lineStart = at + 1;
    }
  }
  return { line, column: end - lineStart + 1 };
}

/** The span of a path, or of the nearest part of it that stands in the text. */
export function spanOf(
  root: JsonNode,
  path: readonly (string | number)[],
  at: "key" | "value",
): { start: number; end: number } {
  let node = root;
  let span = { start: root.start, end: root.end };
  for (const [index, step] of path.entries()) {
    const isLast = index === path.length - 1;
    if (typeof step === "number") {
      const item = node.items?.[step];
      if (item === undefined) return span;
      node = item;
      span = { start: item.start, end: item.end };
    } else {
      const member = node.members?.get(step);
      if (member === undefined) return span;
      node = member.value;
      span =
        isLast && at === "key"
          ? { start: member.keyStart, end: member.keyEnd }
          : { start: node.start, end: node.end };
    }
  }
  return span;
}
