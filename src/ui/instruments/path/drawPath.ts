/** Moves the readings, bars and line weights of a path already on the page. Nothing is written that has not changed. */
import { formatPercent } from "../../../units/format";
import { flowRole } from "./pathLayout";
import type { PathView } from "./pathView";
import { barLengths } from "./stressBar";

const FLOW_WIDTH = { flow1: "1.25", flow2: "2.5", flow3: "5" } as const;

function setText(node: Element | null | undefined, text: string): void {
  if (node !== null && node !== undefined && node.textContent !== text) node.textContent = text;
}

function setWidth(node: Element | undefined, widthPx: number): void {
  const text = String(Math.round(widthPx * 10) / 10);
  if (node !== undefined && node.getAttribute("width") !== text) node.setAttribute("width", text);
}

/** Finds every part of the drawing that may move, by its key. */
export function indexPath(root: Element): ReadonlyMap<string, Element> {
  return new Map(
    [...root.querySelectorAll("[data-key]")].map((node) => [
      node.getAttribute("data-key") ?? "",
      node,
    ]),
  );
}

/** Writes a view into the nodes found by `indexPath`. */
export function drawPath(nodes: ReadonlyMap<string, Element>, view: PathView): void {
  for (const part of view.parts) {
    for (const reading of part.readings) {
      const node = nodes.get(`reading:${part.symbol}.${reading.key}`);
      setText(node?.children[0], reading.number);
      setText(node?.children[1], `\u00a0${reading.unit}`);
    }
    for (const bar of part.bars) {
      const frame = nodes.get(`fill:${bar.key}`);
      if (frame === undefined) continue;
      const { fillPx, overPx } = barLengths(
        bar,
        Number(frame.previousElementSibling?.getAttribute("width") ?? 0),
      );
      setWidth(frame, fillPx);
      setWidth(nodes.get(`over:${bar.key}`), overPx);
      setText(nodes.get(`percent:${bar.key}`), formatPercent(bar.fraction));
    }
    part.notes.forEach((note, i) => {
      setText(nodes.get(`note:${part.symbol}.${i}`), note);
    });
    part.arc?.lines.forEach((text, i) => {
      setText(nodes.get(`arc:${part.symbol}.${i}`), text);
    });
    const flow = nodes.get(`flow:${part.symbol}`);
    if (flow instanceof SVGElement) {
      const width = FLOW_WIDTH[flowRole(part.powerW)];
      if (flow.style.strokeWidth !== width) flow.style.strokeWidth = width;
    }
  }
}
