/**
 * From a station to the numbers the stage solver reads: designed parts become components, the band gives
 * its own values, and what a person or a fault changes (tuning, loading, load, short, bias) is laid over.
 */

import { cos, sin } from "../../math/elementary";
import type { BandTank, Load, Station } from "../../project/station";
import { FEEDER_AT_REST, feederAdmittance } from "../feeder/connector";
import {
  type Designed,
  designPi,
  designPiL,
  type PiComponents,
  type PiLComponents,
} from "../tank/pi";
import { admittanceFromGamma } from "../tank/reflection";
import { copyStray, noStray, type StrayCurrents } from "../tube/strayCurrents";
import { STIFF_SIEMENS, type StageCircuit, sourceCurrentA } from "./circuit";
import { ARC_COUNT } from "./layout";

/** Reference impedance of coupler and line. */
export const LINE_OHM = 50;

/** Load conductances of a broken and of a shorted connector. */
export const OPEN_SIEMENS = 2e-5;
export const SHORT_SIEMENS = 1e3;

/** Across a fuse that has melted: its porcelain leaks, 1 Gohm. */
const OPEN_FUSE_SIEMENS = 1e-9;

/** The station's fixed numbers, worked out once. */
export interface StationParts {
  readonly station: Station;
  readonly omega: number;
  readonly turnsRatio: number;
  readonly cathodeF: number;
  readonly cathodeH: number;
  readonly cathodeLossSiemens: number;
  /** Whole plate-node capacitance and its part that the knob does not turn. */
  readonly tuningF: number;
  readonly strayF: number;
  readonly coilH: number;
  readonly coilOhm: number;
  readonly loadingF: number;
  readonly chokeH: number;
  /** Output coil of a pi-L; 0 for a pi. */
  readonly outputCoilH: number;
  readonly outputCoilOhm: number;
  readonly conductanceSiemens: number;
  readonly susceptanceSiemens: number;
}

export type ResolvedStation =
  | { readonly ok: true; readonly parts: StationParts }
  | { readonly ok: false; readonly problem: string };

/** What is laid over the parts at one moment. */
export interface LiveStation {
  /** Of the adjustable part of each capacitor, 1 = as designed. */
  tuningRatio: number;
  loadingRatio: number;
  /** Inductance of each coil over the one designed. */
  coilShare: number;
  outputCoilShare: number;
  /** In series with the tank coil beside its own loss; below zero where a smaller coil is in. */
  extraCoilOhm: number;
  loadSiemens: number;
  loadSusceptanceSiemens: number;
  /** False while the T/R relay does not carry the load. */
  loadConnected: boolean;
  contactorClosed: boolean;
  /** Rectifier works; false when the plate supply is lost. */
  supplyAlive: boolean;
  /** Of the no-load voltage that is left; above 1 the mains are high. */
  supplyShare: number;
  /** In series with the rectifier while the step-start resistor is in, referred to the direct side. */
  stepOhm: number;
  bleederOpen: boolean;
  fuseOpen: boolean;
  crowbarSiemens: number;
  shortSiemens: number;
  /** An arc fed with direct current: its voltage, and the conductance of its path. */
  dcArcV: number;
  dcArcSiemens: number;
  /** Metal across the gap of each arc place. */
  readonly bridgedSiemens: Float64Array;
  biasV: number;
  /** Cathode return through the cut-off resistor only. */
  cutoff: boolean;
  /** Of all tubes' perveance as designed. */
  perveanceShare: number;
  touchSiemens: number;
  readonly stray: StrayCurrents;
}

/** The band a frequency falls in, or the nearest one. */
export function bandAt(bands: readonly BandTank[], freqHz: number): BandTank | null {
  let best: BandTank | null = null;
  let bestMiss = Infinity;
  for (const band of bands) {
    const miss =
      freqHz < band.fromHz ? band.fromHz - freqHz : freqHz > band.toHz ? freqHz - band.toHz : 0;
    if (miss < bestMiss) {
      best = band;
      bestMiss = miss;
    }
  }
  return best;
}

/** Admittance of a station's load at the carrier. */
export function loadAdmittance(
  load: Load,
  freqHz: number,
): {
  conductanceSiemens: number;
  susceptanceSiemens: number;
} {
  if (load.kind === "admittance") {
    return {
      conductanceSiemens: Math.min(load.conductanceSiemens, SHORT_SIEMENS),
      susceptanceSiemens: load.susceptanceSiemens,
    };
  }
  const out = { conductanceSiemens: 0, susceptanceSiemens: 0 };
  if (load.kind === "antenna") {
    feederAdmittance(load.line, load.antenna, freqHz, FEEDER_AT_REST, out);
    return out;
  }
  admittanceFromGamma(
    load.magnitude * cos(load.phaseRad),
    load.magnitude * sin(load.phaseRad),
    LINE_OHM,
    out,
  );
  return out;
}

/** Works out the components of a station; a design that is impossible is a problem in words. */
export function resolveStation(station: Station): ResolvedStation {
  const omega = 2 * Math.PI * station.freqHz;
  const input = station.inputCircuit;
  let turnsRatio: number;
  let cathodeF: number;
  let cathodeH: number;
  if (input.kind === "explicit") {
    turnsRatio = input.turnsRatio;
    cathodeF = input.capacitanceF;
    cathodeH = input.inductanceH;
  } else {
    turnsRatio = Math.sqrt(input.cathodeOhm / station.exciter.sourceOhm);
    cathodeF = input.loadedQ / (omega * input.cathodeOhm);
    cathodeH = 1 / (omega * omega * cathodeF);
  }
  const tank = station.tank;
  const load = loadAdmittance(station.load, station.freqHz);
  const common = {
    station,
    omega,
    turnsRatio,
    cathodeF,
    cathodeH,
    cathodeLossSiemens: 1 / input.shuntOhm,
    ...load,
  };
  if (tank.kind === "explicitPi" || tank.kind === "explicitPiL") {
    return {
      ok: true,
      parts: {
        ...common,
        outputCoilH: tank.kind === "explicitPiL" ? tank.outputCoilH : 0,
        outputCoilOhm: tank.kind === "explicitPiL" ? tank.outputCoilSeriesOhm : 0,
        tuningF: tank.tuningF,
        strayF: Math.min(tank.strayF, tank.tuningF),
        coilH: tank.coilH,
        coilOhm: tank.coilSeriesOhm,
        loadingF: tank.loadingF,
        chokeH: tank.chokeH,
      },
    };
  }
  const band = bandAt(tank.bands, station.freqHz);
  if (band === null) return { ok: false, problem: "the tank has no bands" };
  const request = {
    plateLoadOhm: tank.plateLoadOhm,
    loadOhm: LINE_OHM,
    loadedQ: band.loadedQ,
    coilQ: band.coilQ,
    freqHz: station.freqHz,
    chokeH: band.chokeH,
  };
  const design: Designed<PiComponents & Partial<PiLComponents>> =
    tank.kind === "designedPiL"
      ? designPiL({ ...request, intermediateOhm: tank.intermediateOhm })
      : designPi(request);
  if (!design.ok) return { ok: false, problem: design.problem };
  return {
    ok: true,
    parts: {
      ...common,
      tuningF: design.value.tuningF,
      strayF: Math.min(band.strayF, design.value.tuningF),
      coilH: design.value.coilH,
      coilOhm: design.value.coilSeriesOhm,
      loadingF: design.value.loadingF,
      outputCoilH: design.value.outputCoilH ?? 0,
      outputCoilOhm: design.value.outputCoilSeriesOhm ?? 0,
      chokeH: band.chokeH,
    },
  };
}

/** A station as it stands before anybody touches it. */
export function liveAtRest(parts: StationParts): LiveStation {
  return {
    tuningRatio: 1,
    loadingRatio: 1,
    coilShare: 1,
    outputCoilShare: 1,
    extraCoilOhm: 0,
    loadSiemens: parts.conductanceSiemens,
    loadSusceptanceSiemens: parts.susceptanceSiemens,
    loadConnected: true,
    contactorClosed: true,
    supplyAlive: true,
    supplyShare: 1,
    stepOhm: 0,
    bleederOpen: false,
    fuseOpen: false,
    crowbarSiemens: 0,
    shortSiemens: 0,
    dcArcV: 0,
    dcArcSiemens: 0,
    bridgedSiemens: new Float64Array(ARC_COUNT),
    biasV: parts.station.bias.cathodeV,
    cutoff: false,
    perveanceShare: 1,
    touchSiemens: 0,
    stray: noStray(),
  };
}

/** Fills the solver's circuit; the drive phasor and the burning arcs are left to the caller. */
export function applyStation(parts: StationParts, live: LiveStation, c: StageCircuit): void {
  const s = parts.station;
  c.omega = parts.omega;
  c.tube.perveance = s.tube.count * s.tube.perveanceAPerV1p5 * live.perveanceShare;
  c.tube.mu = s.tube.mu;
  c.tube.divisionRatio = s.tube.divisionRatio;
  c.tube.offsetV = s.tube.offsetV;
  c.driveOhm = s.exciter.sourceOhm;
  c.turnsRatio = parts.turnsRatio;
  c.cathodeLossSiemens = parts.cathodeLossSiemens;
  c.cathodeF = parts.cathodeF;
  c.cathodeH = parts.cathodeH;
  c.plateF = parts.strayF + (parts.tuningF - parts.strayF) * live.tuningRatio;
  c.chokeH = parts.chokeH;
  c.coilH = parts.coilH * live.coilShare;
  c.coilOhm = parts.coilOhm + live.extraCoilOhm;
  c.loadingF = parts.loadingF * live.loadingRatio;
  c.outputCoilH = parts.outputCoilH * live.outputCoilShare;
  c.outputCoilOhm = parts.outputCoilOhm * live.outputCoilShare;
  c.loadSiemens = live.loadConnected ? live.loadSiemens : OPEN_SIEMENS;
  c.loadSusceptanceSiemens = live.loadConnected ? live.loadSusceptanceSiemens : 0;
  c.referenceOhm = LINE_OHM;
  const supply = s.supply;
  const fed = live.contactorClosed && live.supplyAlive;
  if (supply.kind === "stiff") {
    c.stiffSupply = fed;
    c.noLoadV = supply.plateV * live.supplyShare;
    c.sourceSiemens = 0;
    c.filterF = 1e-9;
    c.bleederSiemens = fed ? 0 : 1e-3;
    c.surgeSiemens = STIFF_SIEMENS;
    c.bypassF = 1e-9;
    c.crowbarSiemens = fed ? 0 : live.crowbarSiemens;
  } else {
    c.stiffSupply = false;
    c.noLoadV = supply.noLoadV * supply.mains.ratio * live.supplyShare;
    c.sourceSiemens = fed ? 1 / (supply.sourceOhm + live.stepOhm) : 0;
    c.filterF = supply.filterF;
    c.bleederSiemens = live.bleederOpen ? 0 : 1 / supply.bleederOhm;
    c.surgeSiemens = live.fuseOpen ? OPEN_FUSE_SIEMENS : 1 / supply.surgeOhm;
    c.bypassF = supply.bypassF;
    c.crowbarSiemens = live.crowbarSiemens;
  }
  c.shortSiemens = live.shortSiemens;
  c.dcArcV = live.dcArcV;
  c.dcArcSiemens = live.dcArcSiemens;
  c.bridgedSiemens.set(live.bridgedSiemens);
  c.biasV = live.biasV;
  c.biasSiemens = live.cutoff ? 0 : STIFF_SIEMENS;
  c.touchSiemens = live.touchSiemens;
  copyStray(live.stray, c.stray);
}

/** Drive phasor of an available power through this station's input circuit. */
export function driveSourceA(parts: StationParts, availableW: number): number {
  return sourceCurrentA(availableW, parts.station.exciter.sourceOhm, parts.turnsRatio);
}
