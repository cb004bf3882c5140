/**
 * The faults a person can place: on which part, under what name, and what their severity means. What there is to say of
 * each stands in `faultWords`.
 *
 * `severity` is one number whose meaning and unit depend on the fault; the table gives its range and its
 * usual value. Ranges are what the model can stand, defaults are what the demonstrations use. "Never by
 * hand" marks what must not be tried on real equipment even by somebody who knows it well.
 */
import type { FaultName, Onset, PartName } from "../scenario";

export interface SeverityScale {
  /** What the number says, in a few words that complete "severity is ...". */
  readonly meaning: string;
  /** SI unit, "" for a plain ratio. */
  readonly unit: string;
  readonly usual: number;
  readonly min: number;
  readonly max: number;
  /** False where the fault is either there or not: severity is then always 1. */
  readonly adjustable: boolean;
}

export interface FaultKind {
  readonly fault: FaultName;
  /** Parts it can be placed on; the first is the usual one. */
  readonly parts: readonly PartName[];
  readonly name: string;
  readonly neverByHand: boolean;
  /** A latent fault shows only when the part is called upon; it starts no race of its own. */
  readonly latent: boolean;
  readonly severity: SeverityScale;
  /** Ways it can come where not all make sense; a latent fault is there or not in any case. */
  readonly onsets?: readonly Onset["kind"][];
  /**
   * When its race begins, where neither a strike nor the placing says so: with the placing though its part has a gap, or
   * with the next drive.
   */
  readonly begins?: "atOnce" | "withDrive";
  /** Time a switch is on its way before the fault has come to its second half. */
  readonly travelS?: number;
  /** Severity from which it ends in a flashover once all of it is there. */
  readonly breaksDownFrom?: number;
  /** Usual severity where it depends on the part. */
  readonly usualOn?: Readonly<Partial<Record<PartName, number>>>;
  /** How it comes when nobody says; at once where this is left out. */
  readonly usualOnset?: Onset;
}

/** A fault that is there or not. */
export const PRESENT: SeverityScale = {
  meaning: "1: the fault is there",
  unit: "",
  usual: 1,
  min: 1,
  max: 1,
  adjustable: false,
};

/** Rows of one area, each under its own name. */
export type FaultRows<Name extends FaultName> = Readonly<Record<Name, FaultKind>>;
