/** The magnified plate edge as plain data: temperatures in kelvin, lengths in metres, words finished. */

export interface Isotherm {
  readonly temperatureK: number;
  /** Distance from the arc's spot at the edge. */
  readonly radiusM: number;
}

export interface EdgeHalf {
  /** `this run, arc out at 4.30 ms`, `left to the operator, 2.50 s`. */
  readonly caption: string;
  readonly peakK: number;
  /** Outermost first or last, as they come. */
  readonly isotherms: readonly Isotherm[];
  readonly arc: "none" | "burning" | "out";
  /** Molten metal drawn together to a bead at the edge; 0 without one. */
  readonly beadRadiusM: number;
  readonly bridged: boolean;
}

export interface EdgeView {
  readonly gapM: number;
  readonly thisRun: EdgeHalf;
  readonly leftAlone: EdgeHalf;
  /** One sentence. */
  readonly summary: string;
}
