/**
 * What stands where in a frame: one Float64Array that carries everything of an instant that is a number.
 * Two such buffers are handed back and forth between page and engine, so a frame allocates nothing.
 */
import { CLOCK_COUNT } from "../../physics/heat/clocks";
import { PLATE_EDGE_CELLS } from "../../physics/heat/plateEdge";
import { ARC_COUNT } from "../../physics/stage/layout";
import type { ControlName } from "../../project/scenario";
import { SENSOR_NAMES } from "../../protection/sensing/sensing";
import { CH, CHANNEL_COUNT } from "../../simulation/channels";
import { EDGE_VARIANTS } from "../../simulation/worldLayout";

/** Knobs in the order in which a frame carries where they stand, ramps included. */
export const CONTROL_NAMES: readonly ControlName[] = [
  "driveW",
  "tuningRatio",
  "loadingRatio",
  "loadSwr",
  "loadPhaseRad",
];

/** Channels with a panel meter; its needle lags by the meter's own ballistics. */
export const METER_CHANNELS: readonly number[] = [
  CH.driveW,
  CH.driveReflectedW,
  CH.forwardW,
  CH.reflectedW,
  CH.plateCurrentA,
  CH.gridCurrentA,
  CH.plateV,
  CH.plateRfPeakV,
];

const ROW_AT = 24;
const SENSED_AT = ROW_AT + CHANNEL_COUNT;
const METERS_AT = SENSED_AT + SENSOR_NAMES.length;
const PEP_AT = METERS_AT + METER_CHANNELS.length;
const STRESS_AT = PEP_AT + 1;
const CLOCK_FRACTIONS_AT = STRESS_AT + CLOCK_COUNT;
const TIME_LEFT_AT = CLOCK_FRACTIONS_AT + CLOCK_COUNT;
const EDGE_FRACTIONS_AT = TIME_LEFT_AT + CLOCK_COUNT;
const EDGE_K_AT = EDGE_FRACTIONS_AT + ARC_COUNT * EDGE_VARIANTS.length;
const MOLTEN_AT = EDGE_K_AT + ARC_COUNT;
const GAP_STRAIN_AT = MOLTEN_AT + ARC_COUNT;
const CELLS_AT = GAP_STRAIN_AT + ARC_COUNT;

/** Offsets into a frame. Times in ns, flags 0 or 1, everything else SI. */
export const FRAME = {
  /** Counts frames of this engine. */
  sequence: 0,
  /** The play head: the instant everything else is about. */
  playNs: 1,
  /** End of the last sample made. */
  reachedNs: 2,
  /** Where live stands: end of the record for a person. */
  headNs: 3,
  live: 4,
  /** The engine could not make all samples that were asked for. */
  behind: 5,
  /** Instant of the recorded point that is shown, at or before the play head. */
  pointNs: 6,
  /** Readings, meters, stresses and edges belong to the play head; 0 while they are still worked out. */
  exact: 7,
  /** The record is being made again up to where this branch had come. */
  replaying: 8,
  /** Arc place whose cells follow, -1 for none. */
  place: 9,
  /** Time zero of the fault under way, -1 for none. */
  zeroNs: 10,
  /** Next fault the scenario has in store, -1 for none. */
  nextFaultNs: 11,
  branch: 12,
  controls: 13,
  /** The recorded row at the play head, in the order of CHANNEL_NAMES. */
  row: ROW_AT,
  /** What the sensors read at the last sample's end, in the order of SENSOR_NAMES. */
  sensed: SENSED_AT,
  /** Needles of the panel meters, in the order of METER_CHANNELS. */
  meters: METERS_AT,
  /** Peak meter of forward power: holds for 2 s. */
  pep: PEP_AT,
  /** Heat over what the part carries for good, in the order of CLOCK_PARTS; its way to damage; seconds left. */
  stress: STRESS_AT,
  clockFractions: CLOCK_FRACTIONS_AT,
  /** Seconds to damage if the stress stays, Infinity for never. */
  timeLeft: TIME_LEFT_AT,
  /** Way to the onset of melting: nominal, early and late for each place. */
  edgeFractions: EDGE_FRACTIONS_AT,
  /** Hottest cell of each place, nominal estimate. */
  edgeK: EDGE_K_AT,
  /** Greatest molten mass so far of each place, nominal estimate. */
  moltenKg: MOLTEN_AT,
  /** RF peak over what the gap of each place withstands now; it strikes at 1. */
  gapStrain: GAP_STRAIN_AT,
  /** Temperatures of the cells of `place`, from the root outwards. */
  cells: CELLS_AT,
  /** How long the key has been down in this run, s. */
  keyDownS: CELLS_AT + PLATE_EDGE_CELLS,
} as const;

export const FRAME_LENGTH = FRAME.keyDownS + 1;

/** Offset of one edge's fraction; `variant` in the order of EDGE_VARIANTS. */
export function edgeFractionAt(place: number, variant: number): number {
  return EDGE_FRACTIONS_AT + place * EDGE_VARIANTS.length + variant;
}
