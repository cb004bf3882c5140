/**
 * One unit of a station: the project with what was drawn for it laid over. Everything that deviates is part of the unit's own
 * station, sensors and actuators; its monitors are those of the project, firmware table of the expected gain included.
 *
 * Every unit is tuned up: coil and Q as drawn, then both capacitors where the plate sees what it sees in the station as
 * designed, and the errors of tuning and loading on top.
 */
import type { StationParts } from "../../physics/stage/stationCircuit";
import { matchPlate, plateAdmittance } from "../../physics/tank/plateNetwork";
import type { Actuators, SensorDef, SensorName, Sensors } from "../../project/protection";
import type { AirCapacitor, ContactPart, Station, Supply } from "../../project/station";
import type { Project } from "../../project/types";
import { networkOf } from "../tuneUp";
import { DRAWN_SENSORS } from "./toleranceInputs";

export interface Unit {
  readonly project: Project;
  readonly parts: StationParts;
}

type Drawn = (name: string) => number;

/** The unit of these draws; `nominal` are the parts of the project's station as designed. */
export function unitOf(project: Project, nominal: StationParts, v: Drawn): Unit {
  const tuned = tunedParts(nominal, v);
  const station: Station = {
    ...project.station,
    tube: {
      ...project.station.tube,
      mu: project.station.tube.mu * (1 + v("mu")),
      perveanceAPerV1p5:
        project.station.tube.perveanceAPerV1p5 * (1 + v("perveance")) * (1 - v("ageing")),
      divisionRatio: project.station.tube.divisionRatio * (1 + v("divisionRatio")),
    },
    supply: suppliedAt(project.station.supply, 1 + v("mains")),
    tank: explicitTank(tuned),
    site: { ...project.station.site, altitudeM: v("altitude"), airK: v("air") },
    tuningCapacitor: capacitor(project.station.tuningCapacitor, v),
    loadingCapacitor: capacitor(project.station.loadingCapacitor, v),
    bandSwitch: contact(project.station.bandSwitch, v),
    outputContact: contact(project.station.outputContact, v),
    erosion: {
      ...project.station.erosion,
      nominal: { spotAPerM2: v("spotDensity"), electrodeShare: v("electrodeShare") },
      startK: v("air") + v("cabinetRise"),
    },
  };
  return {
    project: {
      ...project,
      seed: Math.floor(v("noise") * 0x7fffffff),
      station,
      sensors: sensorsOf(project.sensors, v),
      actuators: actuatorsOf(project.actuators, v),
    },
    parts: { ...tuned, station },
  };
}

function tunedParts(nominal: StationParts, v: Drawn): StationParts {
  const load = {
    conductanceSiemens: nominal.conductanceSiemens,
    susceptanceSiemens: nominal.susceptanceSiemens,
  };
  const turns = 1 + v("coilInductance");
  // loss is reactance over Q
  const coilOhm = (nominal.coilOhm * turns) / (1 + v("coilQ"));
  const wound = { ...nominal, coilH: nominal.coilH * turns, coilOhm };
  const { tuningF, loadingF, strayF, omega } = nominal;
  const meant = plateAdmittance(networkOf(nominal), tuningF, loadingF, load);
  const found = matchPlate(networkOf(wound), 1 / meant.conductanceSiemens, load);
  // as far off the dip as the design itself
  const tunedF = found === null ? tuningF : found.tuningF + meant.susceptanceSiemens / omega;
  return {
    ...wound,
    tuningF: strayF + Math.max(tunedF - strayF, 0) * (1 + v("tuningError")),
    loadingF: (found?.loadingF ?? loadingF) * (1 + v("loadingError")),
  };
}

function explicitTank(p: StationParts): Station["tank"] {
  const common = {
    tuningF: p.tuningF,
    coilH: p.coilH,
    coilSeriesOhm: p.coilOhm,
    loadingF: p.loadingF,
    chokeH: p.chokeH,
    strayF: p.strayF,
  };
  return p.outputCoilH > 0
    ? {
        kind: "explicitPiL",
        ...common,
        outputCoilH: p.outputCoilH,
        outputCoilSeriesOhm: p.outputCoilOhm,
      }
    : { kind: "explicitPi", ...common };
}

function suppliedAt(supply: Supply, ratio: number): Supply {
  return supply.kind === "stiff"
    ? { ...supply, plateV: supply.plateV * ratio }
    : { ...supply, mains: { ratio: supply.mains.ratio * ratio } };
}

function capacitor(part: AirCapacitor, v: Drawn): AirCapacitor {
  return {
    ...part,
    plateThicknessM: part.plateThicknessM * (1 + v("plateThickness")),
    maintainingV: part.maintainingV * v("maintaining"),
  };
}

function contact(part: ContactPart, v: Drawn): ContactPart {
  return { ...part, maintainingV: part.maintainingV * v("maintaining") };
}

function sensorsOf(sensors: Sensors, v: Drawn): Sensors {
  const changed: Partial<Record<SensorName, SensorDef>> = {};
  for (const [name] of DRAWN_SENSORS) {
    const def = sensors[name];
    changed[name] = {
      ...def,
      gainError: (1 + def.gainError) * (1 + v(`gain.${name}`)) - 1,
      offset: def.offset + v(`offset.${name}`) * def.fullScale,
    };
  }
  return { ...sensors, ...changed };
}

function actuatorsOf(a: Actuators, v: Drawn): Actuators {
  return {
    ...a,
    driveInhibit: { ...a.driveInhibit, delayS: a.driveInhibit.delayS * v("delay.driveInhibit") },
    cathodeCutoff: {
      ...a.cathodeCutoff,
      delayS: a.cathodeCutoff.delayS * v("delay.cathodeCutoff"),
    },
    transmitReceive: {
      ...a.transmitReceive,
      releaseS: a.transmitReceive.releaseS * v("delay.transmitReceive"),
    },
    contactor: { ...a.contactor, delayS: a.contactor.delayS * v("delay.contactor") },
  };
}
