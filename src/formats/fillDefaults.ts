/**
 * Lays a file, as parsed, over the defaults: what it leaves out is taken from the demonstration station.
 *
 * Only what is missing is filled in; whatever the file says stays, right or wrong, for the schema to judge.
 * A choice with a `kind` is filled from the defaults of that kind, never from those of another one.
 */

import {
  DEFAULT_BANDS,
  DEFAULT_FUSES,
  DEFAULT_INPUT_CIRCUIT,
  DEFAULT_LEVEL_CONTROLS,
  DEFAULT_LINE,
  DEFAULT_SIGNALS,
  DEFAULT_STRAY_F,
  DEFAULT_SUPPLY,
  DEFAULT_TANK,
  defaultProject,
  USUAL_INTERMEDIATE_OHM,
} from "../project/defaults";
import { FAULTS, usualSeverity } from "../project/faults";
import { dipoleNear } from "../project/feeders";
import { ALWAYS, BY_HAND } from "../project/presets/rules";
import type { FaultName, PartName } from "../project/scenario";
import { expandTube } from "./expandTube";
import { LONGEST_S } from "./problem";

type Plain = { [name: string]: unknown };

/** Whether a value read from a file is an object with named members, neither list nor null. */
export function isPlain(value: unknown): value is Plain {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** `given` with the missing members of `model`, at every depth where both are objects. */
function fill(given: unknown, model: unknown): unknown {
  if (!isPlain(given) || !isPlain(model)) return given;
  const result: Plain = { ...given };
  for (const [name, usual] of Object.entries(model)) {
    result[name] = Object.hasOwn(given, name) ? fill(given[name], usual) : usual;
  }
  return result;
}

/** The file's project with everything it may leave out. Problems of shape are left as they are. */
export function fillDefaults(given: Plain): Plain {
  const usual = defaultProject();
  const { station, monitors, scenario, format, schemaVersion, ...rest } = usual;
  const result = fill(given, rest) as Plain;
  result.station = Object.hasOwn(given, "station") ? fillStation(given.station) : station;
  result.monitors = Object.hasOwn(given, "monitors") ? fillMonitors(given.monitors) : monitors;
  result.scenario = Object.hasOwn(given, "scenario") ? fillScenario(given.scenario) : scenario;
  if (!Object.hasOwn(given, "endS")) result.endS = usualEndS(result.scenario, usual.endS);
  return result;
}

/** A file that does not say when it ends runs its usual time, or to the second after its last entry. */
function usualEndS(scenario: unknown, usualS: number): number {
  let endS = usualS;
  for (const entry of Array.isArray(scenario) ? scenario : []) {
    const atS = isPlain(entry) ? entry.atS : undefined;
    if (typeof atS === "number" && atS >= 0 && atS < LONGEST_S - 1) {
      endS = Math.max(endS, Math.ceil(atS + 1));
    }
  }
  return endS;
}

function fillStation(given: unknown): unknown {
  if (!isPlain(given)) return given;
  const { inputCircuit, supply, tank, load, arc, ...plain } = defaultProject().station;
  const result = fill(given, plain) as Plain;
  const choose = (name: string, usual: unknown, byKind: (kind: unknown, own: Plain) => unknown) => {
    const own = given[name];
    if (!Object.hasOwn(given, name)) result[name] = usual;
    else if (isPlain(own)) result[name] = fill(own, byKind(own.kind, own));
  };
  choose("inputCircuit", inputCircuit, (kind) => {
    if (kind === "explicit") return { shuntOhm: DEFAULT_INPUT_CIRCUIT.shuntOhm };
    return usualKind(kind, DEFAULT_INPUT_CIRCUIT);
  });
  if (isPlain(given.exciter) && isPlain(given.exciter.alc)) {
    const { alc } = given.exciter;
    const usual = isMember(DEFAULT_LEVEL_CONTROLS, alc.kind)
      ? DEFAULT_LEVEL_CONTROLS[alc.kind]
      : {};
    result.exciter = { ...(result.exciter as Plain), alc: fill(alc, usual) };
  }
  if (isPlain(given.tube) && given.tube.kind === "registered") result.tube = expandTube(given.tube);
  choose("supply", supply, (kind) => usualKind(kind, DEFAULT_SUPPLY));
  if (isPlain(given.supply) && isPlain(given.supply.fuse)) {
    const { fuse } = given.supply;
    const usual = isMember(DEFAULT_FUSES, fuse.kind) ? DEFAULT_FUSES[fuse.kind] : {};
    result.supply = { ...(result.supply as Plain), fuse: fill(fuse, usual) };
  }
  choose("tank", tank, (kind, own) => {
    if (kind === "explicitPi") return { coilSeriesOhm: 0, strayF: usualStrayF(own.tuningF) };
    if (kind === "explicitPiL") {
      return { coilSeriesOhm: 0, outputCoilSeriesOhm: 0, strayF: usualStrayF(own.tuningF) };
    }
    if (kind === "designedPiL") {
      return { ...DEFAULT_TANK, kind, intermediateOhm: USUAL_INTERMEDIATE_OHM };
    }
    return usualKind(kind, DEFAULT_TANK);
  });
  choose("load", load, (kind, own) => {
    if (kind === "reflection") return { phaseRad: 0 };
    if (kind === "antenna") {
      return { line: DEFAULT_LINE, antenna: usualAntenna(own.antenna, result.freqHz) };
    }
    return { ...(kind === undefined ? { kind: "admittance" } : {}), susceptanceSiemens: 0 };
  });
  if (isPlain(result.tank) && Array.isArray(result.tank.bands)) {
    result.tank.bands = result.tank.bands.map((own: unknown) => {
      const name = isPlain(own) ? own.name : undefined;
      return fill(own, DEFAULT_BANDS.find((band) => band.name === name) ?? {});
    });
  }
  if (isPlain(given.arc)) {
    const atTap = given.arc.place === "coilTap" && isPlain(result.bandSwitch);
    const tap = atTap ? { tapFraction: (result.bandSwitch as Plain).tapFraction } : {};
    result.arc = fill(given.arc, { ...tap, ...usualArc(given.arc.place) });
  }
  return result;
}

/** Whether a file's word is one of a record's own names. */
function isMember<Names extends object>(names: Names, word: unknown): word is keyof Names {
  return typeof word === "string" && Object.hasOwn(names, word);
}

/** The model of the usual kind, for a choice that names it or names none. */
function usualKind(kind: unknown, usual: { readonly kind: string }): unknown {
  return kind === undefined || kind === usual.kind ? usual : {};
}

/** A resonant antenna is laid over the dipole of the band; of a fixed one only the phase may be left out. */
function usualAntenna(given: unknown, freqHz: unknown): unknown {
  const kind = isPlain(given) ? given.kind : undefined;
  if (kind === "reflection") return { phaseRad: 0 };
  const known = typeof freqHz === "number" && freqHz > 0;
  return usualKind(kind, dipoleNear(known ? freqHz : defaultProject().station.freqHz));
}

/** An explicit tank that does not say what part of its plate-node capacitance is fixed. */
function usualStrayF(tuningF: unknown): number {
  return typeof tuningF === "number" && tuningF > 0
    ? Math.min(DEFAULT_STRAY_F, tuningF / 2)
    : DEFAULT_STRAY_F;
}

function usualArc(place: unknown): Plain {
  const parts: Readonly<Record<string, PartName>> = {
    tuningCapacitor: "tuningCapacitor",
    loadingCapacitor: "loadingCapacitor",
    coilTap: "bandSwitch",
    beyondCoupler: "outputContact",
  };
  // An unknown place is the schema's to refuse; it need not complain about the voltage as well.
  const known = typeof place === "string" && Object.hasOwn(parts, place) ? parts[place] : undefined;
  return { maintainingV: usualSeverity("arc", known ?? "tuningCapacitor") };
}

/** Everything of a monitor that is neither its name nor its criteria nor its actions. */
const PLAIN_MONITOR = {
  deviceNumber: "",
  role: "acting",
  path: "scanned",
  scanS: 1e-3,
  smoothingS: 0,
  arming: ALWAYS,
  blankingS: 0,
  alarm: null,
  reset: BY_HAND,
} as const;

/** A monitor with the id of a preset is laid over that preset, any other over a plain one. */
function fillMonitors(given: unknown): unknown {
  if (!Array.isArray(given)) return given;
  const presets = defaultProject().monitors;
  return given.map((own: unknown) => {
    if (!isPlain(own)) return own;
    const preset = presets.find((entry) => entry.id === own.id);
    const named = typeof own.id === "string" ? { name: own.id } : {};
    const role = typeof own.role === "string" ? { tuneRole: own.role } : { tuneRole: "acting" };
    const result = fill(own, preset ?? { ...PLAIN_MONITOR, ...named, ...role }) as Plain;
    if (Array.isArray(result.criteria)) result.criteria = result.criteria.map(fillCriterion);
    return result;
  });
}

/** Reset ratio 0.95 for over-, 1.05 for under-functions; the other way round for a negative pickup. */
function fillCriterion(given: unknown): unknown {
  if (!isPlain(given)) return given;
  const { pickup, side } = given;
  const usual: Plain = { when: [] };
  if (typeof pickup === "number" && (side === "over" || side === "under")) {
    const away = (pickup < 0 ? -0.05 : 0.05) * pickup;
    usual.dropOff = side === "over" ? pickup - away : pickup + away;
  }
  return fill(given, usual);
}

/** A fault that says no severity has its usual one on that part, a signal what its name alone stands for. */
function fillScenario(given: unknown): unknown {
  if (!Array.isArray(given)) return given;
  return given.map((own: unknown) => {
    if (isPlain(own) && own.do === "signal")
      return isMember(DEFAULT_SIGNALS, own.signal) ? fill(own, DEFAULT_SIGNALS[own.signal]) : own;
    if (!isPlain(own) || own.do !== "placeFault" || Object.hasOwn(own, "severity")) return own;
    const { fault, part } = own;
    // An unknown fault is the schema's to refuse; it need not complain about the severity as well.
    if (typeof fault !== "string" || !Object.hasOwn(FAULTS, fault)) return { ...own, severity: 1 };
    const kind = FAULTS[fault as FaultName];
    const known = kind.parts.find((name) => name === part) ?? (kind.parts[0] as PartName);
    return { ...own, severity: usualSeverity(kind.fault, known) };
  });
}
