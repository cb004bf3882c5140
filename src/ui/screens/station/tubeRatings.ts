/** A registered tube's published ratings beside what the tube does now, and the standing of all of it in words. */
import type { Figure, RegisteredTube } from "../../../project/registeredTube";
import type { Ratings, Station, Triode } from "../../../project/station";
import { findRegisteredTube, registeredTriode } from "../../../project/tubes";
import { headroom, type StressedBy, type StressRow } from "../../../study/partStress";
import { formatNumber } from "../../../units/format";
import { BY_WORDS, shareWords } from "./words";

/** The type a station's tube is, law and all; null for values of one's own. */
export function registeredTypeOf(tube: Triode): RegisteredTube | null {
  const same = registeredTriode(tube.name, tube.count);
  if (same === null) return null;
  const isSame =
    same.mu === tube.mu &&
    same.perveanceAPerV1p5 === tube.perveanceAPerV1p5 &&
    same.divisionRatio === tube.divisionRatio &&
    same.offsetV === tube.offsetV;
  return isSame ? findRegisteredTube(tube.name) : null;
}

/** What the fitted law is worth: `law missed by 4.2 % rms`. */
export function lawWords({ fit }: RegisteredTube): string {
  if (fit === null) return "no law";
  return fit.rmsResidual === null
    ? "nothing left over to check the fit"
    : `missed by ${formatNumber(100 * fit.rmsResidual, 2)} % rms`;
}

/** What a type states, by the same name as the station's own rating. Tubes in parallel share currents and powers. */
export const RATING_KINDS = [
  { by: "plateVoltage", unit: "V", name: "plateV", isShared: false },
  { by: "plateCurrent", unit: "A", name: "plateCurrentA", isShared: true },
  { by: "plateDissipation", unit: "W", name: "plateDissipationW", isShared: true },
  { by: "gridCurrent", unit: "A", name: "gridCurrentA", isShared: true },
  { by: "gridDissipation", unit: "W", name: "gridDissipationW", isShared: true },
] as const satisfies readonly {
  readonly by: StressedBy;
  readonly unit: StressRow["unit"];
  readonly name: keyof Ratings & keyof RegisteredTube;
  readonly isShared: boolean;
}[];

export interface PublishedRow extends StressRow {
  /** Of one tube; null where the type states none. */
  readonly published: Figure | null;
  /** What the station itself is judged by, where that is another value. */
  readonly ownRating: number | null;
}

/** Every published rating times the tubes there are, against one working point. */
export function publishedRows(
  type: RegisteredTube,
  count: number,
  ratings: Ratings,
  stresses: readonly StressRow[],
): readonly PublishedRow[] {
  return RATING_KINDS.flatMap(({ by, isShared, name }) => {
    const now = stresses.find((s) => s.part === "tube" && s.by === by);
    if (now === undefined) return [];
    const published = type[name];
    const rating = published === null ? null : published.value * (isShared ? count : 1);
    const own = ratings[name];
    return [{ ...now, rating, published, ownRating: own === rating ? null : own }];
  });
}

/** The published ratings that a working point passes, whatever the station's own are: none for a tube of one's own. */
export function publishedPassed(
  { tube, ratings }: Pick<Station, "tube" | "ratings">,
  stresses: readonly StressRow[],
): readonly PublishedRow[] {
  const type = registeredTypeOf(tube);
  if (type === null) return [];
  return publishedRows(type, tube.count, ratings, stresses).filter((r) => (headroom(r) ?? 0) < 0);
}

/** `Passes what is published for 2 × 3-500Z: plate current, 112 % of rating.` with a space before it; empty where none is passed. */
export function publishedSentence(
  station: Pick<Station, "tube" | "ratings">,
  stresses: readonly StressRow[],
): string {
  const passed = publishedPassed(station, stresses);
  if (passed.length === 0) return "";
  const list = passed.map((r) => `${BY_WORDS[r.by]}, ${shareWords(r)}`).join("; ");
  return ` Passes what is published for ${tubesWords(station.tube)}: ${list}.`;
}

/** The same over all bands: `Passes what is published for 2 × 3-500Z on every band: plate current.` */
export function publishedBandsSentence(
  station: Pick<Station, "tube" | "ratings">,
  rows: readonly { readonly band: string; readonly stresses: readonly StressRow[] }[],
): string {
  const over = rows.flatMap(({ band, stresses }) => {
    const by = publishedPassed(station, stresses).map((r) => BY_WORDS[r.by]);
    return by.length === 0 ? [] : [{ band, words: by.join(", ") }];
  });
  const [first] = over;
  if (first === undefined) return "";
  const solved = rows.filter((r) => r.stresses.length > 0).length;
  const isAll = over.length === solved && over.every((o) => o.words === first.words);
  const list = isAll ? first.words : over.map((o) => `${o.band} (${o.words})`).join(", ");
  return ` Passes what is published for ${tubesWords(station.tube)}${isAll ? " on every band" : ""}: ${list}.`;
}

export function tubesWords({ name, count }: Triode): string {
  return count === 1 ? name : `${count} × ${name}`;
}
