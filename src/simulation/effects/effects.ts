/** The faults that change the live circuit, by name; gaps, drive and failures of the protection are elsewhere. */
import type { FaultName } from "../../project/scenario";
import type { Effect } from "./effect";
import { feedPointBroken, gust, ice, sway, wrongAntenna } from "./feederEffects";
import { antennaChanged, driveAhead, openLoad, relayOpens, shortLoad } from "./loadEffects";
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
import {
  bandSwitchMoved,
  loadingOpen,
  offResonance,
  platesTouch,
  shortedTurn,
  wrongBand,
  wrongLoading,
} from "./tankEffects";
import { biasLost, gassyTube, gridTouch, selfOscillation, tubeAgeing } from "./tubeEffects";

/** These come first: what hangs on the line, before what happens at the connector. */
export const FEEDER_EFFECTS: Readonly<Partial<Record<FaultName, Effect>>> = {
  feedPointBroken,
  wrongAntenna,
  ice,
  sway,
  gust,
};

export const EFFECTS: Readonly<Partial<Record<FaultName, Effect>>> = {
  openLoad,
  shortLoad,
  antennaChanged,
  relayOpens,
  driveAhead,
  offResonance,
  lightLoading: wrongLoading,
  heavyLoading: wrongLoading,
  wrongBand,
  bandSwitchMoved,
  shortedTurn,
  platesTouch,
  loadingOpen,
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
  tubeAgeing,
  tubeOut: tubeAgeing,
  gassyTube,
  selfOscillation,
  gridTouch,
};
