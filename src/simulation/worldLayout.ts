/** Where everything numeric of a world stands in its one buffer; a snapshot is a copy of it. */
import { CLOCK_STATE_LENGTH } from "../physics/heat/clocks";
import { PLATE_EDGE_STATE_LENGTH } from "../physics/heat/plateEdge";
import { ARC_COUNT, STATE_LENGTH } from "../physics/stage/layout";
import { READING_COUNT } from "../physics/stage/readings";
import { SENSOR_NAMES } from "../protection/sensing/sensing";
import { CHANNEL_COUNT } from "./channels";

/** Edges of the melt band, in this order. */
export const EDGE_VARIANTS = ["nominal", "early", "late"] as const;
export type EdgeVariant = (typeof EDGE_VARIANTS)[number];

export const STAGE_AT = 0;
/** Inner step the transient solver would take next, seconds. */
export const STEP_AT = STAGE_AT + STATE_LENGTH;
/** 1 while the transient solver has the stage, 0 while it is settled. */
export const MODE_AT = STEP_AT + 1;
export const HASH_AT = MODE_AT + 1;
/** Instant since which arc and output are gone, ns; -1 while they are not. */
export const CLEAR_AT = HASH_AT + 2;
/** Energy each burning arc has taken so far, joules. */
export const ARC_ENERGY_AT = CLEAR_AT + 1;
/** What the exciter's level control remembers, three words; see `exciterDrive`. */
export const EXCITER_AT = ARC_ENERGY_AT + ARC_COUNT;
/** Sums of a fault of the plate supply, nine words; see `supplyWatch`. */
export const SUPPLY_AT = EXCITER_AT + 3;
/** Readings at the current instant. */
export const ROW_AT = SUPPLY_AT + 9;
export const CLOCKS_AT = ROW_AT + READING_COUNT;
export const EDGES_AT = CLOCKS_AT + CLOCK_STATE_LENGTH;
/** Row of the last recorded sample. */
export const RECORD_AT = EDGES_AT + ARC_COUNT * EDGE_VARIANTS.length * PLATE_EDGE_STATE_LENGTH;
/** How long the key has been down so far, ns. */
export const KEY_DOWN_TIME_AT = RECORD_AT + CHANNEL_COUNT;
/** Readings of the sensors 20 ms apart, a ring of a little more than a second; see `tripMemory`. */
export const HISTORY_AT = KEY_DOWN_TIME_AT + 1;
export const HISTORY_SLOTS = 53;
export const SENSING_AT = HISTORY_AT + HISTORY_SLOTS * SENSOR_NAMES.length;

/** Offset of one edge's state. */
export function edgeAt(place: number, variant: number): number {
  return EDGES_AT + (place * EDGE_VARIANTS.length + variant) * PLATE_EDGE_STATE_LENGTH;
}

/** Where the readings of the last sample's end stand, behind the sensing's own state. */
export function sensedRowAt(sensingLength: number): number {
  return SENSING_AT + sensingLength;
}

/** Length of the buffer for a sensing of this size. */
export function worldLength(sensingLength: number, rowLength: number): number {
  return sensedRowAt(sensingLength) + rowLength;
}
