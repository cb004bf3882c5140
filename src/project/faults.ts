/**
 * The faults a person can place: on which part, in what words, and what their severity means.
 *
 * `severity` is one number whose meaning and unit depend on the fault; the table gives its range and its
 * usual value. Ranges are what the model can stand, defaults are what the demonstrations use. "Never by
 * hand" marks what must not be tried on real equipment even by somebody who knows it well.
 */
import type { FaultName, PartName } from "./scenario";

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
  readonly what: string;
  readonly does: string;
  readonly gives: string;
  /** Empty where nobody is tempted. */
  readonly caution: string;
  readonly neverByHand: boolean;
  /** A latent fault shows only when the part is called upon; it starts no race of its own. */
  readonly latent: boolean;
  readonly severity: SeverityScale;
  /** Usual severity where it depends on the part. */
  readonly usualOn?: Readonly<Partial<Record<PartName, number>>>;
}

const PRESENT: SeverityScale = {
  meaning: "1: the fault is there",
  unit: "",
  usual: 1,
  min: 1,
  max: 1,
  adjustable: false,
};

const HIGH_VOLTAGE =
  "High voltage kills, and a filter capacitor holds its charge after switch-off. Discharge, verify, and leave this to the simulation.";

export const FAULTS: Readonly<Record<FaultName, FaultKind>> = {
  openLoad: {
    fault: "openLoad",
    parts: ["load"],
    name: "Antenna lost",
    what: "The antenna or its line comes off while transmitting.",
    does: "The tank is no longer loaded: its RF voltage overshoots and stays high, the plate swings below the cathode, and grid current and reflected power rise.",
    gives:
      "Reflected power, grid current and plate RF voltage; forward gain stays near normal, so low gain is silent.",
    caution:
      "Never pull a connector under power: it burns fingers and arcs at the relay and the loading capacitor.",
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "share of the load conductance that is lost; 1 leaves 20 uS",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  shortLoad: {
    fault: "shortLoad",
    parts: ["load"],
    name: "Shorted line",
    what: "The feed line or connector is shorted behind the coupler.",
    does: "The tank sees almost no resistance; power comes back, the plate load is wrong and the plate heats.",
    gives: "Reflected power and VSWR, within milliseconds.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "resistance of the short",
      unit: "ohm",
      usual: 0.5,
      min: 0.05,
      max: 25,
      adjustable: true,
    },
  },
  insect: {
    fault: "insect",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch"],
    name: "Insect in the gap",
    what: "An insect or a hair bridges most of the air gap.",
    does: "The gap strikes at an RF voltage it would withstand when clean, and the arc feeds on the tank while every current stays near normal.",
    gives:
      "A fall of the gain within microseconds; plate dissipation rises seconds later, grid current falls.",
    caution:
      "Opening the lid to look means working beside a charged supply: switch off, discharge, verify.",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the gap that is bridged",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  dust: {
    fault: "dust",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch", "outputContact"],
    name: "Dust and damp",
    what: "Dust, salt or moisture narrows the gap.",
    does: "The gap withstands less, so that it strikes at a mistuned moment or on a voltage peak rather than at once.",
    gives: "Nothing until the strike; then the gain, as with any RF arc.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the gap that is lost",
      unit: "",
      usual: 0.7,
      min: 0.05,
      max: 0.95,
      adjustable: true,
    },
  },
  arc: {
    fault: "arc",
    parts: ["tuningCapacitor", "loadingCapacitor", "bandSwitch", "outputContact"],
    name: "Arc struck",
    what: "An arc burns at this place from now on, however it was struck.",
    does: "It pins the RF peak at its place near the maintaining voltage and takes the power the circuit can feed it.",
    gives:
      "A fall of the gain, large at the tuning capacitor and small at the loading capacitor; beyond the coupler reflected power rises too.",
    caution:
      "An arc at the plate side throws molten metal and ultraviolet light; never strike one to see.",
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "maintaining voltage, peak of the fundamental",
      unit: "V",
      usual: 250,
      min: 50,
      max: 1000,
      adjustable: true,
    },
    usualOn: { tuningCapacitor: 250, bandSwitch: 250, loadingCapacitor: 160, outputContact: 200 },
  },
  overdrive: {
    fault: "overdrive",
    parts: ["exciter"],
    name: "Overdrive",
    what: "The exciter gives more than the full drive, as when its level control overshoots.",
    does: "Grid current rises steeply while the gain compresses.",
    gives: "Drive power and grid current; gain falls by a decibel or two at three times the drive.",
    caution:
      "Grid wires of a high-mu triode are lost within seconds at several times their rating.",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "multiple of the drive that was set",
      unit: "",
      usual: 3,
      min: 1,
      max: 5,
      adjustable: true,
    },
  },
  offResonance: {
    fault: "offResonance",
    parts: ["tank"],
    name: "Tank off resonance",
    what: "The tuning has been left, or has moved, off its dip.",
    does: "The plate sees a reactive load: less output, and the difference heats the plate.",
    gives: "Gain and plate dissipation; at small errors nothing but warmth.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "error of the adjustable part of the tuning capacitance, plus or minus",
      unit: "",
      usual: 0.1,
      min: -0.5,
      max: 0.5,
      adjustable: true,
    },
  },
  lightLoading: {
    fault: "lightLoading",
    parts: ["tank"],
    name: "Loaded too lightly",
    what: "The loading capacitor is meshed too far, and the tuning dipped again.",
    does: "The plate sees too high a load resistance: its RF voltage and the grid current rise.",
    gives: "Grid current, first by far; then plate RF voltage.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "multiple of the matched loading capacitance",
      unit: "",
      usual: 1.5,
      min: 1,
      max: 3,
      adjustable: true,
    },
  },
  heavyLoading: {
    fault: "heavyLoading",
    parts: ["tank"],
    name: "Loaded too heavily",
    what: "The loading capacitor is opened too far, and the tuning dipped again.",
    does: "The plate sees too low a load resistance: gain falls, grid current falls, the plate warms.",
    gives: "Gain, by a decibel or two, and plate dissipation.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "multiple of the matched loading capacitance",
      unit: "",
      usual: 0.7,
      min: 0.3,
      max: 1,
      adjustable: true,
    },
  },
  plateSupplyShort: {
    fault: "plateSupplyShort",
    parts: ["supply"],
    name: "Plate supply shorted",
    what: "The plate supply is shorted to ground behind the surge resistor, or a tube flashes over inside.",
    does: "The filter capacitor empties through the surge resistor in about a millisecond; then the mains feeds on.",
    gives:
      "The shunt in the high-voltage negative lead, in a fraction of a microsecond; the energy is gone before any scanned monitor can act.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "resistance of the short",
      unit: "ohm",
      usual: 5,
      min: 0.1,
      max: 1000,
      adjustable: true,
    },
  },
  biasLost: {
    fault: "biasLost",
    parts: ["tube"],
    name: "Cathode bias lost",
    what: "The bias element in the cathode return is shorted.",
    does: "The idle current rises to what the perveance allows, and the plate heats even without drive.",
    gives: "Plate current and plate dissipation between words; nothing sudden.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the bias that is gone",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  plateSupplyLost: {
    fault: "plateSupplyLost",
    parts: ["supply"],
    name: "Plate supply lost",
    what: "The plate supply drops out while drive goes on.",
    does: "The filter empties; then all the cathode current goes to the grid.",
    gives:
      "Plate voltage falls in tens of milliseconds, grid current climbs to several times its rating.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "share of the no-load voltage that is gone",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
  driveInhibitFailed: {
    fault: "driveInhibitFailed",
    parts: ["protection"],
    name: "Drive inhibit fails",
    what: "The command to stop the drive is given, and the drive goes on.",
    does: "Nothing until a trip; then the other actuators must end the fault alone.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  relayStuck: {
    fault: "relayStuck",
    parts: ["protection"],
    name: "T/R relay sticks",
    what: "The antenna relay stays closed when it is released.",
    does: "Nothing until a trip; then the antenna stays connected.",
    gives: "Only a test of the chain, or the next trip.",
    caution: "",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
  contactorOnly: {
    fault: "contactorOnly",
    parts: ["protection"],
    name: "Contactor acts alone",
    what: "Trips open the high-voltage contactor and nothing else.",
    does: "Nothing until a trip; then drive stays on, the arc burns on from the filter capacitor and grid current climbs.",
    gives: "Only a test of the chain, or the next trip.",
    caution:
      "Taking plate voltage away under drive is harmful by itself; no scheme should rely on it.",
    neverByHand: false,
    latent: true,
    severity: PRESENT,
  },
};

export const FAULT_NAMES = Object.keys(FAULTS) as readonly FaultName[];

/** Whether the fault can be placed on the part. */
export function faultFits(fault: FaultName, part: PartName): boolean {
  return FAULTS[fault].parts.includes(part);
}

/** Severity a fault has on a part when nobody says otherwise. */
export function usualSeverity(fault: FaultName, part: PartName): number {
  const kind = FAULTS[fault];
  return kind.usualOn?.[part] ?? kind.severity.usual;
}

/** The faults that can be placed on a part, in the order of the table. */
export function faultsOn(part: PartName): readonly FaultKind[] {
  return FAULT_NAMES.map((name) => FAULTS[name]).filter((kind) => kind.parts.includes(part));
}
