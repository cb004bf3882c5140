/**
 * Another kind of supply, tank, load: what a part becomes when its kind changes, worked out from what stands there, so
 * that the station works on. A designed tank made explicit keeps the components of its band.
 */
import { fillDefaults, isPlain } from "../formats/fillDefaults";
import { loadAdmittance, resolveStation, type StationParts } from "../physics/stage/stationCircuit";
import { DEFAULT_LINE, DEFAULT_TANK } from "../project/defaults";
import { dipoleNear } from "../project/feeders";
import type { Station } from "../project/station";
import { intendedPlateOhm } from "../study/tuneUp";

/** A transmitting triode's plate load: from some hundred ohm to some ten kilohm. */
const LEAST_PLATE_OHM = 300;
const MOST_PLATE_OHM = 20e3;

export type FieldPath = readonly (string | number)[];

/** The value at a path of plain data; undefined where the path leaves it. */
export function valueAt(root: unknown, path: FieldPath): unknown {
  let value = root;
  for (const step of path) {
    if (Array.isArray(value)) value = value[Number(step)];
    else value = isPlain(value) ? value[step] : undefined;
  }
  return value;
}

/** A copy with another value at a path, undefined to leave it out; nothing on the way is changed. */
export function withValue<T>(root: T, path: FieldPath, value: unknown): T {
  const [step, ...rest] = path;
  if (step === undefined) return value as T;
  if (Array.isArray(root)) {
    return root.map((item, k) => (k === step ? withValue(item, rest, value) : item)) as T;
  }
  const own = root as Readonly<Record<string, unknown>>;
  if (rest.length === 0 && value === undefined) {
    const { [step]: _, ...kept } = own;
    return kept as T;
  }
  return { ...own, [step]: withValue(own[step], rest, value) } as T;
}

/** What stood under a kind before, by path and kind: choosing it again brings it back. */
export type Remembered = ReadonlyMap<string, unknown>;

export function kindKey(path: FieldPath, kind: string): string {
  return `${path.join(".")}|${kind}`;
}

/**
 * What stood under the kind before is taken back as it was, on the way through other kinds too; only from a design
 * explicit values are always worked out anew.
 */
export function withKind(
  station: Station,
  path: FieldPath,
  kind: string,
  remembered: Remembered,
): Station {
  const before = remembered.get(kindKey(path, kind));
  const isDesigned = String(valueAt(station, [...path, "kind"])).startsWith("designed");
  const isAnew = kind.startsWith("explicit") && isDesigned;
  if (before !== undefined && !isAnew) return withValue(station, path, before);
  const made = partOf(station, path.join("."), kind) ?? usual(station, path, kind);
  return withValue(station, path, made);
}

function partOf(station: Station, place: string, kind: string): unknown {
  const resolved = resolveStation(station);
  const parts = resolved.ok ? resolved.parts : null;
  switch (place) {
    case "tank":
      return parts === null ? null : tankOf(station, kind, parts);
    case "inputCircuit":
      if (parts === null) return null;
      return inputOf(station, kind, parts);
    case "supply":
      if (kind !== "stiff" || station.supply.kind === "stiff") return null;
      return { kind, plateV: station.supply.noLoadV };
    case "load":
      return loadOf(station, kind);
    case "load.antenna":
      return kind === "reflection"
        ? { kind, magnitude: 0, phaseRad: 0 }
        : dipoleNear(station.freqHz);
    default:
      return null;
  }
}

function tankOf(station: Station, kind: string, p: StationParts): unknown {
  const components = {
    tuningF: p.tuningF,
    coilH: p.coilH,
    coilSeriesOhm: p.coilOhm,
    loadingF: p.loadingF,
    chokeH: p.chokeH,
    strayF: p.strayF,
  };
  if (kind === "explicitPi" && p.outputCoilH > 0) {
    return designedFirst(station, "designedPi", kind);
  }
  if (kind === "explicitPi") return { kind, ...components };
  if (kind === "explicitPiL") {
    const { outputCoilH, outputCoilOhm } = p;
    if (outputCoilH > 0) {
      return { kind, ...components, outputCoilH, outputCoilSeriesOhm: outputCoilOhm };
    }
    return designedFirst(station, "designedPiL", kind);
  }
  const { tank } = station;
  const bands = "bands" in tank ? { bands: tank.bands } : {};
  const given = {
    station: { tank: { kind, plateLoadOhm: plateLoadOf(p), ...bands } },
  };
  return valueAt(fillDefaults(given), ["station", "tank"]);
}

/** Load a tank shows its plate, ohm; off its frequency it shows none that anybody designs for. */
function plateLoadOf(p: StationParts): number {
  const ohm = intendedPlateOhm(p);
  return ohm > LEAST_PLATE_OHM && ohm < MOST_PLATE_OHM ? round3(ohm) : DEFAULT_TANK.plateLoadOhm;
}

/** Between pi and pi-L the components differ: those of the other network's design at this frequency. */
function designedFirst(station: Station, design: string, kind: string): unknown {
  const designed = withKind(station, ["tank"], design, new Map());
  const resolved = resolveStation(designed);
  return resolved.ok ? tankOf(designed, kind, resolved.parts) : null;
}

function inputOf(station: Station, kind: string, p: StationParts): unknown {
  const { shuntOhm } = station.inputCircuit;
  if (kind === "explicit") {
    return {
      kind,
      turnsRatio: p.turnsRatio,
      capacitanceF: p.cathodeF,
      inductanceH: p.cathodeH,
      shuntOhm,
    };
  }
  const cathodeOhm = p.turnsRatio * p.turnsRatio * station.exciter.sourceOhm;
  const loadedQ = p.omega * p.cathodeF * cathodeOhm;
  return { kind, cathodeOhm: round3(cathodeOhm), loadedQ: round3(loadedQ), shuntOhm };
}

function loadOf(station: Station, kind: string): unknown {
  if (kind === "antenna") return { kind, line: DEFAULT_LINE, antenna: dipoleNear(station.freqHz) };
  const { conductanceSiemens: g, susceptanceSiemens: b } = loadAdmittance(
    station.load,
    station.freqHz,
  );
  if (kind === "admittance") return { kind, conductanceSiemens: g, susceptanceSiemens: b };
  // gamma = (1 - y)/(1 + y), y on 50 ohm
  const y = { re: 50 * g, im: 50 * b };
  const d = (1 + y.re) * (1 + y.re) + y.im * y.im;
  const re = ((1 - y.re) * (1 + y.re) - y.im * y.im) / d;
  const im = (-2 * y.im) / d;
  return {
    kind,
    magnitude: Math.min(Math.sqrt(re * re + im * im), 0.9999),
    phaseRad: Math.atan2(im, re),
  };
}

/** Whatever a file would get that says the kind and no more. */
function usual(station: Station, path: FieldPath, kind: string): unknown {
  const given = path.reduceRight<unknown>((inner, step) => ({ [step]: inner }), { kind });
  const filled = fillDefaults({ station: { freqHz: station.freqHz, ...(given as object) } });
  return valueAt(filled, ["station", ...path]);
}

function round3(value: number): number {
  return Number(value.toPrecision(3));
}
