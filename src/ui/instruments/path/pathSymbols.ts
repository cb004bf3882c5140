/** Symbols of the parts, after common circuit-diagram practice, drawn about a point of the signal line. */
import type { Shape } from "../drawing/shapes";
import { line, px, rect, words } from "../drawing/shapes";
import type { PathPart, PathSymbol } from "./pathView";

export interface PlacedSymbol {
  readonly shapes: readonly Shape[];
  /** Where a leader to words about this part may start. */
  readonly leaderX: number;
  readonly leaderY: number;
}

/** How far right of its column's left edge the line meets a symbol. */
export const ANCHOR_PX: Readonly<Record<PathSymbol, number>> = {
  exciter: 20,
  input: 22,
  tube: 30,
  supply: 0,
  tuning: 26,
  coil: 34,
  loading: 20,
  relay: 24,
  line: 34,
  antenna: 20,
};

function path(
  role: "symbol" | "symbolFilled" | "symbolDash" | "plate" | "inkFill",
  d: string,
): Shape {
  return { kind: "path", role, d };
}

function node(x: number, y: number): Shape {
  return { kind: "circle", role: "inkFill", x, y, radius: 3.4 };
}

/** Two plates from the line to ground; `gapPx` between them. */
function capacitor(
  x: number,
  y: number,
  halfPx: number,
  topPx: number,
  gapPx: number,
): readonly Shape[] {
  const bottom = y + topPx + gapPx;
  return [
    line("symbol", x, y, x, y + topPx),
    line("plate", x - halfPx, y + topPx, x + halfPx, y + topPx),
    line("plate", x - halfPx, bottom, x + halfPx, bottom),
    line("symbol", x, bottom, x, y + 50),
    line("plate", x - 9, y + 50, x + 9, y + 50),
    node(x, y),
  ];
}

/** The thread of an arc in a gap that starts at x, y; drawn with a halo while it burns, thin and dashed once it is out. */
export function arcThread(x: number, y: number, burning: boolean): readonly Shape[] {
  const d = `M${px(x)} ${px(y)}l-3.9 4.7l6.2 3.9l-5.5 4.7l4.7 3.9l-2.3 6.2`;
  return [
    { kind: "path", role: "arcHalo", d },
    { kind: "path", role: burning ? "arcLine" : "arcGhost", d },
  ];
}

function antenna(x: number, y: number): Shape {
  return path(
    "symbol",
    `M${px(x)} ${px(y)}V${px(y - 34)}M${px(x)} ${px(y - 12)}L${px(x - 13)} ${px(y - 34)}M${px(x)} ${px(y - 12)}L${px(x + 13)} ${px(y - 34)}`,
  );
}

/** The symbol of a part with its anchor at x, y. The arc thread is added where the part was struck. */
export function placeSymbol(part: PathPart, x: number, y: number): PlacedSymbol {
  const burning = part.arc?.standing === "burning";
  const thread = (tx: number, ty: number) => (part.arc === null ? [] : arcThread(tx, ty, burning));
  switch (part.symbol) {
    case "exciter":
      return {
        shapes: [
          { kind: "circle", role: "symbolFilled", x, y, radius: 19 },
          path("symbol", `M${px(x - 11)} ${px(y)}c4 -14 8 -14 11 0s7 14 11 0`),
        ],
        leaderX: x + 22,
        leaderY: y,
      };
    case "input":
      return {
        shapes: [
          path("symbol", `M${px(x - 14)} ${px(y)}v10c9 0 9 8 0 8c9 0 9 8 0 8c9 0 9 8 0 8v6`),
          path(
            "symbol",
            `M${px(x + 8)} ${px(y)}v19M${px(x + 1)} ${px(y + 19)}h14M${px(x + 1)} ${px(y + 25)}h14M${px(x + 8)} ${px(y + 25)}v15`,
          ),
          line("plate", x - 21, y + 40, x + 15, y + 40),
        ],
        leaderX: x + 18,
        leaderY: y + 22,
      };
    case "tube":
      return {
        shapes: [
          { kind: "circle", role: "symbolFilled", x, y, radius: 29 },
          path("symbol", `M${px(x - 29)} ${px(y)}h14M${px(x - 15)} ${px(y - 12)}q-5 12 0 24`),
          path("symbolDash", `M${px(x)} ${px(y - 22)}V${px(y + 44)}`),
          line("plate", x - 7, y + 44, x + 7, y + 44),
          line("plate", x + 15, y - 15, x + 15, y + 15),
          line("symbol", x + 15, y, x + 29, y),
          ...thread(x + 7, y - 11),
        ],
        leaderX: x + 32,
        leaderY: y + 24,
      };
    case "supply":
      return {
        shapes: [
          path("symbol", `M${px(x)} ${px(y)}v9c10 0 10 7 0 7c10 0 10 7 0 7c10 0 10 7 0 7v6`),
          node(x, y),
          line("plate", x - 14, y + 36, x + 14, y + 36),
          line("plate", x - 7, y + 41, x + 7, y + 41),
        ],
        leaderX: x + 16,
        leaderY: y + 30,
      };
    case "tuning":
      return {
        shapes: [...capacitor(x, y, 24, 12, 29), ...thread(x, y + 15)],
        leaderX: x + 18,
        leaderY: y + 26,
      };
    case "coil": {
      const start = x - 33;
      return {
        shapes: [
          rect("ground", start, y - 4, 66, 8),
          path(
            "symbol",
            `M${px(start)} ${px(y)}c0 -16 16.5 -16 16.5 0c0 -16 16.5 -16 16.5 0c0 -16 16.5 -16 16.5 0c0 -16 16.5 -16 16.5 0`,
          ),
          ...thread(x + 6, y + 6),
        ],
        leaderX: x + 18,
        leaderY: y + 20,
      };
    }
    case "loading":
      return {
        shapes: [
          ...capacitor(x, y, 17, part.arc === null ? 21 : 14, part.arc === null ? 7 : 27),
          ...thread(x, y + 16),
        ],
        leaderX: x + 16,
        leaderY: y + 26,
      };
    case "relay": {
      const open = part.open;
      return {
        shapes: [
          rect("ground", x - 20, y - 4, 44, 8),
          { kind: "circle", role: "symbolFilled", x: x - 20, y, radius: 3.2 },
          { kind: "circle", role: "symbolFilled", x: x + 22, y, radius: 3.2 },
          { kind: "circle", role: "symbolFilled", x: x + 16, y: y - 20, radius: 3.2 },
          line("plate", x - 17, y - 1, open ? x + 14 : x + 19, open ? y - 17 : y - 1),
          words("note", x + 23, y - 16, "bypass"),
          ...thread(x + 2, y + 5),
        ],
        leaderX: x + 14,
        leaderY: y + 20,
      };
    }
    case "line":
      return {
        shapes: [
          rect("ground", x - 31, y - 8, 62, 16),
          path(
            "symbol",
            `M${px(x - 30)} ${px(y - 8)}H${px(x + 30)}M${px(x - 30)} ${px(y + 8)}H${px(x + 30)}`,
          ),
          path(
            "symbolFilled",
            `M${px(x - 30)} ${px(y - 8)}a4 8 0 1 0 .1 0zM${px(x + 30)} ${px(y - 8)}a4 8 0 1 0 .1 0z`,
          ),
          line("flow1", x - 30, y, x + 30, y),
          ...thread(x, y + 10),
        ],
        leaderX: x + 14,
        leaderY: y + 22,
      };
    case "antenna":
      return { shapes: [antenna(x, y)], leaderX: x + 16, leaderY: y - 10 };
  }
}
