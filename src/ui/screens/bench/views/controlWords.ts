/** Names of the knobs and how their settings are written. */
import type { ControlName } from "../../../../project/scenario";
import { dressDigits, formatNumber, formatPercent, formatQuantity } from "../../../../units/format";

interface ControlWording {
  readonly words: string;
  readonly value: (value: number) => string;
}

export const CONTROL_WORDS: Readonly<Record<ControlName, ControlWording>> = {
  driveW: { words: "Drive", value: (v) => formatQuantity(v, "W") },
  tuningRatio: { words: "Tuning capacitor", value: formatPercent },
  loadingRatio: { words: "Loading capacitor", value: formatPercent },
  loadSwr: { words: "Load VSWR", value: (v) => formatNumber(Math.max(v, 1)) },
  loadPhaseRad: {
    words: "Load phase",
    value: (v) => `${dressDigits(((v * 180) / Math.PI).toFixed(0))}\u00a0°`,
  },
};
