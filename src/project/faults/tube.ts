/** Faults of the tubes, their bias and their cooling. */
import type { FaultRows } from "./kind";

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
