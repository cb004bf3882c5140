/** A pickup against normal use: where the quantity lies on every band and at every drive, as points of a picture and as words. */
import type { Criterion, MonitorDef, Sensors } from "../../../project/protection";
import { formatReading, QUANTITY_WORDS } from "../../../protection/quantityWords";
import {
  type NormalBand,
  type NormalRange,
  type NormalReading,
  normalRange,
  normalReadings,
} from "../../../study/normalReadings";
import { formatPercent, formatQuantity, formatRatio } from "../../../units/format";
import { upperFirst } from "../bench/views/words";

export interface NormalViewModel {
  readonly criterion: Criterion;
  /** One a band, by rising drive. */
  readonly bands: readonly { readonly band: string; readonly readings: readonly NormalReading[] }[];
  readonly range: NormalRange | null;
  /** Ends of the scale of the quantity, pickup and alarm included. */
  readonly low: number;
  readonly high: number;
  readonly mostW: number;
  readonly alarm: number | null;
  readonly summary: string;
}

export function normalView(
  def: MonitorDef,
  criterion: Criterion,
  bands: readonly NormalBand[],
  sensors: Sensors,
): NormalViewModel {
  const { quantity, pickup, dropOff } = criterion;
  const readings = normalReadings(bands, quantity, sensors);
  const range = normalRange(readings);
  const alarm = def.alarm?.quantity === quantity ? def.alarm.level : null;
  const levels = [pickup, dropOff, ...(alarm === null ? [] : [alarm])];
  if (range !== null) levels.push(range.least.value, range.most.value);
  const least = Math.min(...levels);
  const most = Math.max(...levels);
  const room = 0.08 * (most - least || Math.abs(most) || 1);
  // what is never below nothing has its nothing on the scale where it is near
  const fromZero = least >= 0 && least < 0.5 * most;
  return {
    criterion,
    bands: bands.map(({ band }) => ({ band, readings: readings.filter((r) => r.band === band) })),
    range,
    low: fromZero ? 0 : least - room,
    high: most + room,
    mostW: Math.max(1, ...readings.map((r) => r.driveW)),
    alarm,
    summary: summaryOf(criterion, range),
  };
}

function summaryOf({ quantity, side, pickup }: Criterion, range: NormalRange | null): string {
  const name = upperFirst(QUANTITY_WORDS[quantity].words);
  if (range === null) return `${name} has no reading in normal use.`;
  const { least, most } = range;
  const read = (r: NormalReading): string => formatReading(quantity, r.value);
  const where = (r: NormalReading): string =>
    `on ${r.band} at ${formatQuantity(r.driveW, "W")} of drive`;
  const edge = side === "over" ? most : least;
  const past = side === "over" ? edge.value > pickup : edge.value < pickup;
  const span =
    read(least) === read(most) ? `at ${read(most)}` : `between ${read(least)} and ${read(most)}`;
  const normal = `In normal use ${QUANTITY_WORDS[quantity].words} lies ${span}`;
  const nearest = `nearest to the pickup ${where(edge)}`;
  if (past)
    return `${normal}: past the pickup at ${formatReading(quantity, pickup)} ${where(edge)}, so it would operate on ordinary use.`;
  return `${normal}, ${nearest}; the pickup at ${formatReading(quantity, pickup)} leaves ${roomWords(quantity, edge.value, pickup)}.`;
}

/** Room as a ratio, or as a difference where there is no true zero to count from. */
function roomWords(quantity: Criterion["quantity"], edge: number, pickup: number): string {
  const { unit } = QUANTITY_WORDS[quantity];
  const apart = Math.abs(pickup - edge);
  if (unit === "dB") return `${formatReading(quantity, apart)} of room`;
  if (unit === "K") return `${apart.toFixed(0)} kelvin of room`;
  if (!(edge > 0) || !(pickup > 0)) return `${formatReading(quantity, apart)} of room`;
  return pickup > edge
    ? `${formatRatio(pickup / edge)} of it as room`
    : `room down to ${formatPercent(pickup / edge)} of it`;
}

/** Drives of the table: a quarter of full power, half and all, or what is nearest. */
export function tableDrives(view: NormalViewModel): readonly number[] {
  const drives = [...new Set(view.bands.flatMap((b) => b.readings.map((r) => r.driveW)))].sort(
    (a, b) => a - b,
  );
  const near = (share: number): number =>
    drives.reduce((a, b) =>
      Math.abs(b - share * view.mostW) < Math.abs(a - share * view.mostW) ? b : a,
    );
  return drives.length === 0 ? [] : [...new Set([0.1, 0.25, 0.5, 1].map(near))];
}
