/** Draws plain shapes with the page's tokens. */
import { type CSSProperties, memo } from "react";
import { ARROW_ID, hatchId } from "./hatches";
import { LINES, type LineRole, lineStyle, TEXTS, type TextRole, textStyle } from "./roles";
import { sameShape } from "./sameShape";
import { type Drawing, px, type Shape, type TextShape } from "./shapes";

function lineCss(role: LineRole): CSSProperties {
  const { fill, hatch, stroke, width, dash, round } = lineStyle(role);
  return {
    fill:
      hatch !== undefined
        ? `url(#${hatchId(hatch)})`
        : fill !== undefined
          ? `var(--${fill})`
          : "none",
    ...(stroke === undefined
      ? {}
      : {
          stroke: `var(--${stroke})`,
          strokeWidth: typeof width === "string" ? `var(--${width})` : width,
        }),
    ...(dash === undefined ? {} : { strokeDasharray: dash }),
    ...(round === true ? { strokeLinejoin: "round", strokeLinecap: "round" } : {}),
  };
}

function textCss(role: TextRole): CSSProperties {
  const { size, fill, weight, value } = textStyle(role);
  return {
    fontSize: `var(--${size})`,
    fill: `var(--${fill})`,
    fontWeight: weight ?? 400,
    fontStretch: value === true ? "var(--w-value)" : "var(--w-label)",
  };
}

// Built once: a style object that keeps its identity costs React nothing on the next drawing.
const LINE_CSS = Object.fromEntries(
  (Object.keys(LINES) as LineRole[]).map((role) => [role, lineCss(role)]),
) as Readonly<Record<LineRole, CSSProperties>>;
const TEXT_CSS = Object.fromEntries(
  (Object.keys(TEXTS) as TextRole[]).map((role) => [role, textCss(role)]),
) as Readonly<Record<TextRole, CSSProperties>>;
const HALO_CLASS = { sheet: "halo-sheet", ahead: "halo-ahead", guardSoft: "halo-guard" } as const;

/** Style of one role, for the few parts a component draws by hand. */
export function roleCss(role: LineRole): CSSProperties {
  return LINE_CSS[role];
}

export function textRoleCss(role: TextRole): CSSProperties {
  return TEXT_CSS[role];
}

function TextView({ shape }: { readonly shape: TextShape }) {
  const [first] = shape.runs;
  const plain =
    shape.runs.length === 1 &&
    first !== undefined &&
    first.strong !== true &&
    first.role === undefined;
  return (
    <text
      x={px(shape.x)}
      y={px(shape.y)}
      style={TEXT_CSS[shape.role]}
      textAnchor={shape.anchor}
      className={shape.halo === undefined ? undefined : HALO_CLASS[shape.halo]}
      data-key={shape.dataKey}
    >
      {plain
        ? first.text
        : shape.runs.map((run, i) => (
            <tspan
              // biome-ignore lint/suspicious/noArrayIndexKey: runs have no identity but their order
              key={i}
              style={
                run.role !== undefined
                  ? TEXT_CSS[run.role]
                  : run.strong === true
                    ? { fontWeight: 680 }
                    : undefined
              }
            >
              {run.text}
            </tspan>
          ))}
    </text>
  );
}

interface ShapeProps {
  readonly shape: Shape;
}

// A drawing is made whole, but few of its shapes change from one to the next: only those are gone through again.
const ShapeView = memo(PlainShape, (old, next) => sameShape(old.shape, next.shape));

function PlainShape({ shape }: ShapeProps) {
  switch (shape.kind) {
    case "path": {
      const arrow = `url(#${ARROW_ID})`;
      return (
        <path
          d={shape.d}
          style={LINE_CSS[shape.role]}
          data-key={shape.dataKey}
          markerStart={shape.arrows === "both" ? arrow : undefined}
          markerEnd={shape.arrows === undefined ? undefined : arrow}
        />
      );
    }
    case "rect":
      return (
        <rect
          x={px(shape.x)}
          y={px(shape.y)}
          width={px(shape.width)}
          height={px(shape.height)}
          style={LINE_CSS[shape.role]}
          data-key={shape.dataKey}
        />
      );
    case "circle":
      return (
        <circle
          cx={px(shape.x)}
          cy={px(shape.y)}
          r={px(shape.radius)}
          style={LINE_CSS[shape.role]}
        />
      );
    case "text":
      return <TextView shape={shape} />;
    case "group":
      return (
        <g
          transform={`translate(${px(shape.x)} ${px(shape.y)})${shape.scale === undefined ? "" : ` scale(${shape.scale})`}`}
        >
          <g className={shape.blink === true ? "blink" : undefined}>
            <DrawingView drawing={shape.shapes} />
          </g>
        </g>
      );
    case "clip":
      return (
        <>
          <clipPath id={shape.id}>
            <rect x={shape.x} y={shape.y} width={shape.width} height={shape.height} />
          </clipPath>
          <g clipPath={`url(#${shape.id})`}>
            <DrawingView drawing={shape.shapes} />
          </g>
        </>
      );
  }
}

/** The shapes of a drawing, to be put inside an svg element. */
export function DrawingView({ drawing }: { readonly drawing: Drawing }) {
  return drawing.map((shape, i) => <ShapeView key={identityOf(shape, i)} shape={shape} />);
}

/**
 * A drawing is made whole each time: order is its only identity. What is moved by hand between two drawings keeps what
 * the hand put on it, and so never turns into another shape.
 */
function identityOf(shape: Shape, i: number): string | number {
  return "dataKey" in shape && shape.dataKey !== undefined ? `${shape.dataKey}-${i}` : i;
}
