/**
 * The shape of a registered tube type: figures with their standing, columns of typical operation, a fitted law.
 */

export type FigureStanding = "source confirmed" | "from memory";

/** A published figure and how well it is known. */
export interface Figure {
  readonly value: number;
  readonly standing: FigureStanding;
  /** Where it was met, when it is confirmed. */
  readonly source: string;
}

/** One column of typical operation: cathode-driven, class AB2 or B, single tone, below 30 MHz. */
export interface TypicalColumn {
  /** Tubes the currents and powers belong to. */
  readonly tubes: number;
  /** Plate to cathode. */
  readonly plateV: Figure;
  readonly cathodeV: Figure;
  readonly idleA: Figure | null;
  readonly plateCurrentA: Figure;
  readonly gridCurrentA: Figure | null;
  readonly driveW: Figure | null;
  readonly plateLoadOhm: Figure | null;
  readonly outputW: Figure | null;
  readonly inputOhm: Figure | null;
}

/** A law of one tube that was fitted to columns. */
export interface TubeFitRecord {
  readonly perveanceAPerV1p5: number;
  readonly mu: number;
  readonly offsetV: number;
  readonly divisionRatio: number;
  /** Root mean square of the logarithmic residuals, idle at half weight; null when nothing was left over to check. */
  readonly rmsResidual: number | null;
}

export interface RegisteredTube {
  /** Registered type designation. */
  readonly type: string;
  /** Other designations of the same tube. */
  readonly otherTypes: readonly string[];
  readonly standing: "typical, unverified";
  readonly mu: Figure;
  readonly plateV: Figure;
  readonly plateCurrentA: Figure | null;
  readonly plateDissipationW: Figure;
  readonly gridDissipationW: Figure | null;
  readonly gridCurrentA: Figure | null;
  readonly heaterV: Figure;
  readonly heaterA: Figure;
  readonly warmUpS: Figure | null;
  readonly gridCathodeF: Figure | null;
  readonly gridPlateF: Figure | null;
  readonly plateCathodeF: Figure | null;
  readonly columns: readonly TypicalColumn[];
  /** Null where no typical operation is known to us that a law could be fitted to. */
  readonly fit: TubeFitRecord | null;
  /** What the fit is worth, or why there is none. */
  readonly fitRemark: string;
}
