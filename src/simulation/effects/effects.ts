/** The faults that change the live circuit, by name; gaps, drive and failures of the protection are elsewhere. */
import type { FaultName } from "../../project/scenario";
import type { Effect } from "./effect";
import { openLoad, shortLoad } from "./loadEffects";
import {
  bleederOpen,
  blockingShorted,
  dcArc,
  mainsDip,
  mainsLevel,
  plateSupplyLost,
  plateSupplyShort,
  stepStartStuck,
} from "./supplyEffects";
import { offResonance, wrongLoading } from "./tankEffects";
import { biasLost } from "./tubeEffects";

export const EFFECTS: Readonly<Partial<Record<FaultName, Effect>>> = {
  openLoad,
  shortLoad,
  offResonance,
  lightLoading: wrongLoading,
  heavyLoading: wrongLoading,
  plateSupplyShort,
  plateSupplyLost,
  blockingShorted,
  plateDcArc: dcArc,
  tubeFlashover: dcArc,
  mainsDip,
  mainsLevel,
  stepStartStuck,
  bleederOpen,
  biasLost,
};
