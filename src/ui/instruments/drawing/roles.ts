/**
 * What each role of line, area and word looks like, in names of tokens: the one table both writers of a drawing read.
 * Line weights follow drawing practice; hatches are patterns named in drawing/hatches.
 */

export type ColourToken =
  | "paper"
  | "sheet"
  | "ink"
  | "ink-2"
  | "ink-3"
  | "ahead"
  | "rule"
  | "edge"
  | "guard"
  | "guard-soft"
  | "heat"
  | "heat-soft"
  | "burnt"
  | "on-burnt"
  | "arc"
  | "arc-soft"
  | "iso-0"
  | "iso-1"
  | "iso-2"
  | "iso-3"
  | "iso-4"
  | "iso-5"
  | "st-danger"
  | "on-danger"
  | "st-caution"
  | "on-caution"
  | "st-normal"
  | "on-normal"
  | "st-must"
  | "on-must";
export type WeightToken = "lw-hair" | "lw-thin" | "lw-mid" | "lw-bold";
export type SizeToken =
  | "fs-note"
  | "fs-label"
  | "fs-body"
  | "fs-head"
  | "fs-value"
  | "fs-big"
  | "fs-margin";
export type HatchName = "hatch" | "hatchHeat" | "hatchBack";

export interface LineStyle {
  readonly fill?: ColourToken;
  readonly hatch?: HatchName;
  readonly stroke?: ColourToken;
  readonly width?: WeightToken | number;
  readonly dash?: string;
  readonly round?: boolean;
}
export interface TextStyle {
  readonly size: SizeToken;
  readonly fill: ColourToken;
  readonly weight?: number;
  readonly value?: boolean;
}

export const LINES = {
  hair: { stroke: "rule", width: "lw-thin" },
  thin: { stroke: "ink", width: "lw-thin" },
  axis: { stroke: "ink", width: "lw-mid" },
  symbol: { stroke: "ink", width: "lw-mid", round: true },
  symbolFilled: { stroke: "ink", width: "lw-mid", fill: "sheet" },
  symbolDash: { stroke: "ink", width: "lw-mid", dash: "4 3" },
  plate: { stroke: "ink", width: "lw-bold" },
  inkFill: { fill: "ink" },
  ground: { fill: "sheet" },
  flowGhost: { stroke: "rule", width: 7 },
  flow1: { stroke: "ink", width: 1.25 },
  flow2: { stroke: "ink", width: 2.5 },
  flow3: { stroke: "ink", width: 5 },
  arcLine: { stroke: "arc", width: 2.6, round: true },
  arcHalo: { stroke: "arc-soft", width: 12, round: true },
  arcGhost: { stroke: "arc", width: 1.4, dash: "3 2.5", round: true },
  arcThin: { stroke: "arc", width: "lw-thin" },
  arcFill: { fill: "arc" },
  arcWash: { fill: "arc-soft" },
  arrow: { fill: "ink" },
  now: { stroke: "ink", width: "lw-mid", dash: "1 3", round: true },
  // state shapes
  ring: { stroke: "ink-3", width: 1.4 },
  ringDash: { stroke: "ink-3", width: 1.4, dash: "2.2 1.6" },
  caution: { fill: "st-caution", stroke: "ink", width: 1.2, round: true },
  danger: { fill: "st-danger" },
  dangerHollow: { fill: "sheet", stroke: "st-danger", width: 1.6 },
  dangerTick: { stroke: "st-danger", width: 1.7 },
  dangerCut: { stroke: "on-danger", width: 2 },
  must: { fill: "st-must" },
  mustLine: { stroke: "st-must", width: 1.8 },
  mustCut: { stroke: "on-must", width: 2.2 },
  normal: { fill: "st-normal" },
  normalTick: { stroke: "on-normal", width: 1.7 },
  hollow: { fill: "sheet", stroke: "ink", width: 1.3, dash: "2.2 1.6" },
  tick: { stroke: "ink-2", width: 1.6 },
  tickDash: { stroke: "ink-2", width: 1.6, dash: "2 2" },
  // stress bars and gauges
  barFrame: { fill: "sheet", stroke: "edge", width: "lw-thin" },
  barFill: { fill: "ink-3" },
  barHot: { fill: "heat" },
  barOver: { hatch: "hatchHeat", stroke: "heat", width: 1 },
  limit: { stroke: "ink", width: "lw-bold" },
  limitZone: { hatch: "hatch" },
  needle: { stroke: "ink", width: 3 },
  needleDanger: { stroke: "st-danger", width: 4 },
  before: { stroke: "ink-2", width: 1 },
  pickupMark: { fill: "guard" },
  pickupLine: { stroke: "guard", width: 1.2, dash: "5 3" },
  trace: { stroke: "ink", width: "lw-mid", round: true },
  // race
  aheadGround: { fill: "ahead" },
  marginGround: { fill: "guard-soft" },
  thinGround: { fill: "sheet", stroke: "guard", width: 1.5, dash: "4 2.5" },
  lateGround: { hatch: "hatchHeat" },
  operatorBand: { hatch: "hatchBack" },
  filterLine: { stroke: "guard", width: 2, dash: "2 2.5" },
  guardFill: { fill: "guard" },
  guardHollow: { fill: "ahead", stroke: "guard", width: 1.5, dash: "4 2.5" },
  notch: { stroke: "sheet", width: 1.6 },
  shadowLine: { stroke: "ink-2", width: 1.2, dash: "5 3" },
  clearing: { stroke: "guard", width: 2 },
  clearingDue: { stroke: "guard", width: 2, dash: "5 4" },
  onset: { stroke: "heat", width: 2 },
  onsetDue: { stroke: "heat", width: 2, dash: "5 4" },
  onsetEdge: { stroke: "heat", width: 1.2 },
  dimension: { stroke: "ink", width: 1.25 },
  dimensionMinor: { stroke: "ink-2", width: 1 },
  heatFill: { fill: "heat" },
  heatCooling: { fill: "heat-soft", stroke: "heat", width: 1.2 },
  heatHatch: { hatch: "hatchHeat", stroke: "heat", width: 1 },
  heatDash: { stroke: "heat", width: 1.3, dash: "4 3" },
  heatLimit: { stroke: "heat", width: 1, dash: "1.5 3" },
  onsetBand: { fill: "heat-soft" },
  bridged: { fill: "burnt", stroke: "heat", width: 1.5 },
  // plate edge
  iso0: { fill: "iso-0" },
  iso1: { fill: "iso-1", stroke: "ink", width: 0.8 },
  iso2: { fill: "iso-2", stroke: "ink", width: 0.8 },
  iso3: { fill: "iso-3", stroke: "ink", width: 0.8 },
  iso4: { fill: "iso-4", stroke: "ink", width: 0.8 },
  iso5: { fill: "iso-5", stroke: "ink", width: 1.6 },
  edgeFrame: { stroke: "ink", width: "lw-mid" },
  otherPlate: { fill: "paper", stroke: "ink", width: 1 },
} as const satisfies Readonly<Record<string, LineStyle>>;

export const TEXTS = {
  note: { size: "fs-note", fill: "ink-2" },
  noteStrong: { size: "fs-note", fill: "ink", weight: 640 },
  noteInk: { size: "fs-note", fill: "ink", weight: 560 },
  noteHeat: { size: "fs-note", fill: "heat", weight: 560 },
  noteArc: { size: "fs-note", fill: "arc", weight: 640 },
  label: { size: "fs-label", fill: "ink" },
  labelSoft: { size: "fs-label", fill: "ink-2" },
  labelStrong: { size: "fs-label", fill: "ink", weight: 680 },
  labelArc: { size: "fs-label", fill: "arc" },
  body: { size: "fs-body", fill: "ink", weight: 660 },
  head: { size: "fs-head", fill: "ink", weight: 620 },
  headArc: { size: "fs-head", fill: "arc", weight: 720 },
  value: { size: "fs-value", fill: "ink", weight: 600, value: true },
  unit: { size: "fs-label", fill: "ink-2", weight: 420 },
  big: { size: "fs-big", fill: "ink", weight: 640, value: true },
  margin: { size: "fs-margin", fill: "ink", weight: 640, value: true },
  marginDanger: { size: "fs-big", fill: "st-danger", weight: 640, value: true },
  onHeat: { size: "fs-note", fill: "sheet", weight: 640 },
  onBurnt: { size: "fs-note", fill: "on-burnt", weight: 640 },
} as const satisfies Readonly<Record<string, TextStyle>>;

export type LineRole = keyof typeof LINES;
export type TextRole = keyof typeof TEXTS;

/** One look of a role, widened to the common shape. */
export function lineStyle(role: LineRole): LineStyle {
  return LINES[role];
}

export function textStyle(role: TextRole): TextStyle {
  return TEXTS[role];
}
