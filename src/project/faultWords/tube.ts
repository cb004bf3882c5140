/** Faults of the tubes in words. */
import { type FaultWordRows, HIGH_VOLTAGE } from "./kind";

export const TUBE_WORDS = {
  biasLost: {
    what: "The bias element in the cathode return is shorted.",
    does: "The idle current rises to what the perveance allows, and the plate heats even without drive.",
    gives: "Plate current and plate dissipation between words; nothing sudden.",
    caution: "",
  },
  tubeFlashover: {
    what: "Plate and grid flash over inside the tube, once, as a little gas or a whisker lets them.",
    does: "The filter empties through surge resistor and arc; a few joules stay in the tube, the rest in the resistor. Then the mains feed the arc until somebody takes them away.",
    gives:
      "The shunt in the high-voltage negative lead, in a fraction of a microsecond; gone before any scanned monitor can act.",
    caution: HIGH_VOLTAGE,
  },
  tubeAgeing: {
    what: "The cathode gives less than it did: the perveance has fallen.",
    does: "Less output for the same drive, and idle current falls with it; the input sees a higher resistance.",
    gives:
      "The gain, by a decibel or less for a third of the perveance: an alarm at most on a matched load. On a poor one it may add up to a trip.",
    caution: "",
  },
  tubeOut: {
    what: "One of two tubes in parallel gives nothing: its heater has opened.",
    does: "Half the perveance is left, and the other tube carries what there is.",
    gives: "The gain, at once.",
    caution: "",
  },
  gassyTube: {
    what: "Gas inside the tube is ionised, and leaks at high plate voltage. Behavioural, an estimate.",
    does: "Positive ions flow to the grid against its own current: plate current rises a little, grid current falls. From 0.1 A on it ends in a flashover once all of it is there.",
    gives:
      "A grid needle that reads low, or reverse while idling; no monitor looks for that. The flashover, at the shunt in the high-voltage negative lead.",
    caution: HIGH_VOLTAGE,
  },
  gridTouch: {
    what: "Grid and cathode touch inside the tube, through little resistance.",
    does: "The drive is shorted and comes back, the bias is gone, and so is the cathode's cut-off: an idle current flows as long as the plate supply is there.",
    gives:
      "Gain, at once. After the trip nothing: the tube goes on drawing its idle current, and only taking the plate supply away ends that.",
    caution: HIGH_VOLTAGE,
  },
  selfOscillation: {
    what: "The stage oscillates beside its band through strays and leads, while its bias is on. Behavioural, an estimate.",
    does: "Plate and grid draw current with drive or without; nearly all of it heats the plate, and little reaches the coupler, on another frequency.",
    gives:
      "Without drive, output without drive, by its grid current. With drive, the grid's overcurrent. A gain without drive has no value, so low gain is blind to it.",
    caution: "",
  },
  airflowLost: {
    what: "The air filter is clogged, the exhaust is covered, or the blower has stopped, while the airflow switch stays closed.",
    does: "The anode's heat is carried away by less air, or hardly at all: anode and seals go on warming under a carrier that was harmless.",
    gives:
      "The exhaust air, some seconds later. Nothing electrical changes, so no other monitor sees it.",
    caution:
      "Seals crack within a minute or two without air. Test the airflow switch with the plate supply off, and let the fan run on after every use.",
  },
} satisfies FaultWordRows;
