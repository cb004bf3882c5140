/** Faults that move an antenna or break its feed point; they act before everything at the connector. */
import { gustRatio, icedRatio, swayRatio } from "../../physics/feeder/moving";
import type { Effect } from "./effect";

export const feedPointBroken: Effect = ({ feeder }) => {
  feeder.feedPointConnected = false;
};

export const wrongAntenna: Effect = ({ feeder }, f) => {
  feeder.resonanceRatio *= f.severity;
};

export const ice: Effect = ({ feeder }, f, share) => {
  feeder.resonanceRatio *= icedRatio(f.severity * share);
};

/** The pattern counts from the placing. */
export const sway: Effect = ({ feeder, ns }, f, share) => {
  feeder.resonanceRatio *= swayRatio(ns - f.placedNs, f.seed, f.severity * share);
};

export const gust: Effect = ({ feeder, ns }, f, share) => {
  feeder.resonanceRatio *= gustRatio(ns - f.placedNs, f.seed, f.severity * share);
};
