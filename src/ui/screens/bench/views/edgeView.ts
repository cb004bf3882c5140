/**
 * The magnified plate edge of the struck part, or of the tuning capacitor while nothing is struck: this run at the play
 * head, and the same fault as the operator would find it. Isotherms are read between the cells' centres.
 */
import { beadDiameterM } from "../../../../physics/heat/bead";
import { METALS } from "../../../../physics/heat/metals";
import { plateEdgeRadiiM } from "../../../../physics/heat/plateEdge";
import { ARC_PLACES } from "../../../../physics/stage/layout";
import type { ArcPlace, Station } from "../../../../project/station";
import type { ForecastReport, RaceReport } from "../../../../shells/bench/protocol";
import { formatCelsius, formatQuantity, formatTime } from "../../../../units/format";
import type { EdgeHalf, EdgeView, Isotherm } from "../../../instruments/edge/edgeView";
import { electrodeOf, PLACE_WORDS } from "./words";

const ICE_POINT_K = 273.15;
const ISOTHERMS_C = [100, 200, 400, 600] as const;
/** Used instead where the edge stays below 150 degC. */
const COOL_ISOTHERMS_C = [50, 75, 100] as const;
const COOL_BELOW_C = 150;

export interface EdgeViewInput {
  readonly station: Station;
  /** The race under way or last run; null to show the forecast beside the cold edge. */
  readonly report: RaceReport | null;
  readonly forecast: ForecastReport | null;
  readonly playNs: number;
  /** Why the bench is off the air, in words; empty on the air. */
  readonly offAir: string;
  /** Arc place whose cells follow, in the order of ARC_PLACES; -1 for none. */
  readonly place: number;
  /** Cells at the play head, from the root outwards; null before there is a frame. */
  readonly cellsK: Float64Array | null;
  /** Metal lies across the gap of `place`. */
  readonly bridged: boolean;
  /** Greatest molten mass so far of `place`. */
  readonly moltenKg: number;
}

const RADII_M = plateEdgeRadiiM();

/** Both halves of the picture. */
export function edgeViewOf(input: EdgeViewInput): EdgeView {
  const { station, report, forecast } = input;
  const ahead = report ?? forecast?.report ?? null;
  const place = ahead?.zero.struck ?? ARC_PLACES[Math.max(input.place, 0)] ?? "tuningCapacitor";
  const { gapM } = electrodeOf(station, place);
  const thisRun = thisHalf(input, place);
  const leftAlone = aloneHalf(input, place);
  return {
    gapM,
    thisRun,
    leftAlone,
    summary: `Magnified edge, ${PLACE_WORDS[place]}, gap ${formatQuantity(gapM, "m")}: ${halfWords(thisRun)}; ${halfWords(leftAlone)}.`,
  };
}

function thisHalf(input: EdgeViewInput, place: ArcPlace): EdgeHalf {
  const { report, station, playNs } = input;
  const isHere = ARC_PLACES[input.place] === place;
  const nowS = report === null ? -1 : (playNs - report.zero.atNs) / 1e9;
  const outS = report?.race.arcOutS ?? null;
  const struck = report !== null && report.zero.struck === place && nowS >= 0;
  const isOut = outS !== null && outS <= nowS;
  const bridged = isHere && input.bridged;
  const heat = heatOf(station, place, isHere ? input.cellsK : null, isHere ? input.moltenKg : 0);
  const caption = !struck
    ? "now"
    : bridged
      ? "this run, gap bridged, a dead short"
      : isOut
        ? `this run, arc out at ${formatTime(outS)}`
        : "this run, arc burning";
  return {
    caption,
    ...heat,
    bridged,
    arc: !struck || bridged ? "none" : isOut ? "out" : "burning",
  };
}

function aloneHalf(input: EdgeViewInput, place: ArcPlace): EdgeHalf {
  const { report, forecast, station } = input;
  const ahead = report ?? forecast?.report ?? null;
  const isForecast = report === null;
  const lead = isForecast ? "if struck, left to the operator" : "left to the operator";
  const cold = heatOf(station, place, null, 0);
  if (ahead === null) {
    const caption =
      input.offAir !== "" && forecast?.standing !== "latent"
        ? "off the air, nothing strikes"
        : forecast === null
          ? "no fault chosen, left to the operator"
          : forecast.standing === "noStrike"
            ? "the gap holds, nothing strikes"
            : forecast.standing === "latent"
              ? "no arc of its own, left to the operator"
              : `being worked out, ${lead}`;
    return { caption, ...cold, arc: "none" };
  }
  if (ahead.zero.struck === null) return { caption: `no arc, ${lead}`, ...cold, arc: "none" };
  const { found } = ahead;
  if (found === null) {
    // The run left alone ends at the scenario's next fault, or is not there yet.
    const why = ahead.aloneDone ? "not followed so far" : "being worked out";
    return { caption: `${why}, ${lead}`, ...cold, arc: "none" };
  }
  const index = ARC_PLACES.indexOf(place);
  const heat = heatOf(
    station,
    place,
    found.place === index ? found.cellsK : null,
    found.moltenKg[index] ?? 0,
  );
  return {
    caption: `${lead}, ${formatTime((found.atNs - ahead.zero.atNs) / 1e9)}`,
    ...heat,
    arc: heat.bridged ? "none" : "burning",
  };
}

function heatOf(
  station: Station,
  place: ArcPlace,
  cellsK: Float64Array | null,
  moltenKg: number,
): Omit<EdgeHalf, "caption" | "arc"> {
  const { metal, gapM } = electrodeOf(station, place);
  const peakK = cellsK === null ? station.erosion.startK : (cellsK[0] ?? station.erosion.startK);
  const beadM = moltenKg > 0 ? beadDiameterM(METALS[metal], moltenKg) : 0;
  return {
    peakK,
    isotherms: cellsK === null ? [] : isothermsOf(cellsK),
    beadRadiusM: beadM / 2,
    bridged: beadM >= gapM,
  };
}

/** Isotherms that the cells reach, outermost first; cooler ones where the whole edge is cool. */
export function isothermsOf(cellsK: Float64Array): readonly Isotherm[] {
  const peakC = (cellsK[0] ?? 0) - ICE_POINT_K;
  const levels = peakC < COOL_BELOW_C ? COOL_ISOTHERMS_C : ISOTHERMS_C;
  return levels.flatMap((celsius) => {
    const temperatureK = celsius + ICE_POINT_K;
    const radiusM = radiusAt(cellsK, temperatureK);
    return radiusM === null ? [] : [{ temperatureK, radiusM }];
  });
}

/** Radius at which the edge is so hot, outermost crossing; null where it is nowhere. */
function radiusAt(cellsK: Float64Array, temperatureK: number): number | null {
  for (let i = Math.min(cellsK.length, RADII_M.length) - 1; i >= 0; i--) {
    const here = cellsK[i] as number;
    if (here < temperatureK) continue;
    const next = cellsK[i + 1];
    if (next === undefined) return RADII_M[i] as number;
    const part = (here - temperatureK) / (here - next);
    return centreM(i) + part * (centreM(i + 1) - centreM(i));
  }
  return null;
}

function centreM(cell: number): number {
  return 0.5 * ((RADII_M[cell] as number) + (cell === 0 ? 0 : (RADII_M[cell - 1] as number)));
}

function halfWords(half: EdgeHalf): string {
  const state = half.bridged
    ? "molten metal bridges the gap"
    : half.beadRadiusM > 0
      ? `a molten bead of ${formatQuantity(2 * half.beadRadiusM, "m")}`
      : "not molten";
  return `${half.caption}: ${formatCelsius(half.peakK)}, ${state}`;
}
