/** Faults of the tubes, their bias and their cooling. */
import { type FaultRows, HIGH_VOLTAGE } from "./kind";

type TubeFault =
  | "biasLost"
  | "tubeFlashover"
  | "tubeAgeing"
  | "tubeOut"
  | "gassyTube"
  | "gridTouch"
  | "selfOscillation"
  | "airflowLost";

export const TUBE_FAULTS: FaultRows<TubeFault> = {
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
  tubeFlashover: {
    fault: "tubeFlashover",
    parts: ["tube"],
    name: "Flashover in the tube",
    what: "Plate and grid flash over inside the tube, once, as a little gas or a whisker lets them.",
    does: "The filter empties through surge resistor and arc; a few joules stay in the tube, the rest in the resistor. Then the mains feed the arc until somebody takes them away.",
    gives:
      "The shunt in the high-voltage negative lead, in a fraction of a microsecond; gone before any scanned monitor can act.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    severity: {
      meaning: "voltage of the arc",
      unit: "V",
      usual: 50,
      min: 10,
      max: 300,
      adjustable: true,
    },
  },
  tubeAgeing: {
    fault: "tubeAgeing",
    parts: ["tube"],
    name: "Tube aged",
    what: "The cathode gives less than it did: the perveance has fallen.",
    does: "Less output for the same drive, and idle current falls with it; the input sees a higher resistance.",
    gives:
      "The gain, by a decibel or less for a third of the perveance: an alarm at most on a matched load. On a poor one it may add up to a trip.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the perveance that is gone",
      unit: "",
      usual: 0.3,
      min: 0.05,
      max: 0.9,
      adjustable: true,
    },
  },
  tubeOut: {
    fault: "tubeOut",
    parts: ["tube"],
    name: "One tube of a pair fails",
    what: "One of two tubes in parallel gives nothing: its heater has opened.",
    does: "Half the perveance is left, and the other tube carries what there is.",
    gives: "The gain, at once.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the perveance that is gone, a half for one of a pair",
      unit: "",
      usual: 0.5,
      min: 0.05,
      max: 0.99,
      adjustable: true,
    },
  },
  gassyTube: {
    fault: "gassyTube",
    parts: ["tube"],
    name: "Gassy tube",
    what: "Gas inside the tube is ionised, and leaks at high plate voltage. Behavioural, an estimate.",
    does: "Positive ions flow to the grid against its own current: plate current rises a little, grid current falls. From 0.1 A on it ends in a flashover once all of it is there.",
    gives:
      "A grid needle that reads low, or reverse while idling; no monitor looks for that. The flashover, at the shunt in the high-voltage negative lead.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    breaksDownFrom: 0.1,
    severity: {
      meaning: "ion current and leakage at 3 kV",
      unit: "A",
      usual: 0.03,
      min: 0.001,
      max: 0.2,
      adjustable: true,
    },
  },
  gridTouch: {
    fault: "gridTouch",
    parts: ["tube"],
    name: "Grid touches cathode",
    what: "Grid and cathode touch inside the tube, through little resistance.",
    does: "The drive is shorted and comes back, the bias is gone, and so is the cathode's cut-off: an idle current flows as long as the plate supply is there.",
    gives:
      "Gain, at once. After the trip nothing: the tube goes on drawing its idle current, and only taking the plate supply away ends that.",
    caution: HIGH_VOLTAGE,
    neverByHand: true,
    latent: false,
    onsets: ["sudden", "intermittent", "passing"],
    severity: {
      meaning: "resistance of the touch",
      unit: "ohm",
      usual: 0.5,
      min: 0.05,
      max: 5,
      adjustable: true,
    },
  },
  selfOscillation: {
    fault: "selfOscillation",
    parts: ["tube"],
    name: "Self-oscillation",
    what: "The stage oscillates beside its band through strays and leads, while its bias is on. Behavioural, an estimate.",
    does: "Plate and grid draw current with drive or without; nearly all of it heats the plate, and little reaches the coupler, on another frequency.",
    gives:
      "Without drive, output without drive, by its grid current. With drive, the grid's overcurrent. A gain without drive has no value, so low gain is blind to it.",
    caution: "",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "plate current it draws at 3 kV",
      unit: "A",
      usual: 0.6,
      min: 0.05,
      max: 1.5,
      adjustable: true,
    },
  },
  airflowLost: {
    fault: "airflowLost",
    parts: ["tube"],
    name: "Airflow lost",
    what: "The air filter is clogged, the exhaust is covered, or the blower has stopped, while the airflow switch stays closed.",
    does: "The anode's heat is carried away by less air, or hardly at all: anode and seals go on warming under a carrier that was harmless.",
    gives:
      "The exhaust air, some seconds later. Nothing electrical changes, so no other monitor sees it.",
    caution:
      "Seals crack within a minute or two without air. Test the airflow switch with the plate supply off, and let the fan run on after every use.",
    neverByHand: false,
    latent: false,
    severity: {
      meaning: "share of the airflow that is gone",
      unit: "",
      usual: 1,
      min: 0.05,
      max: 1,
      adjustable: true,
    },
  },
};
