/** The README's table of all faults, from what `quietarc faults` prints. */
import type { FaultRow } from "../../src/study/faultTable";
import { DAMAGE_WORDS, lowerFirst, PART_WORDS } from "../../src/ui/screens/bench/views/words";
import { time, twoFigures } from "./tableFigures";

const HEADER = [
  "| fault | on | trips first | after | cleared | damaged first, nobody acting | margin |",
  "|---|---|---|---:|---:|---|---:|",
];

const FOOT =
  "Key down at 0, the fault at its usual severity 0.30037 s later, times from the fault, its strike, or the next drive where it begins with that. *Nothing* trips means: nothing was picked up after 1.1 s (0.6 s for a latent fault), and no part on its way to damage. Damage is melting of an edge, early to nominal, or the end of a part's clock; *about*: reckoned on from the stress half a second after the fault. All of them are estimates; – where nothing is damaged within 2.6 s of an arc and no clock would ever come to its end. A latent fault shows nothing until it is called upon, and where a fault of the sensing itself trips, it is a false trip with nothing to clear. *By itself*: the output is gone with the fault. Margin counts from the fault to its clearing, or to the first actuator where that acts later; *heats on*: a part would come to its end although the fault has been cleared, if nobody opened the key.";

const MOST = 1000;

function cells(row: FaultRow): readonly string[] {
  const { trip, alarm, clearingS } = row;
  const alarms = alarm === null ? "" : `; alarm ${alarm.name} after ${time(alarm.atS)}`;
  const first =
    trip === null
      ? `nothing${row.began || row.latent ? "" : "; it does not strike"}${alarms}`
      : trip.name;
  const isByItself = clearingS !== null && trip !== null && clearingS < trip.atS;
  return [
    first,
    trip === null ? "–" : time(trip.atS),
    clearingS === null ? "–" : isByItself ? "by itself" : time(clearingS),
    damageWords(row),
    heatsOn(row) ?? (row.margin === null ? "–" : marginWords(row.margin, row.marginEarly)),
  ];
}

function damageWords({ weakest }: FaultRow): string {
  if (weakest === null) return "–";
  const { part, damageS, damageEarlyS, isReckoned } = weakest;
  const nominal = isReckoned ? `about ${twoFigures(damageS)} s` : time(damageS);
  const band = damageEarlyS < damageS ? `${time(damageEarlyS)} to ${nominal}` : nominal;
  return `${DAMAGE_WORDS[part]}, ${band}`;
}

function heatsOn({ heatsOn: on }: FaultRow): string | null {
  return on === null
    ? null
    : `heats on: ${DAMAGE_WORDS[on.part]}, about ${twoFigures(on.damageS)} s`;
}

function marginWords(margin: number, early: number | null): string {
  const ratio = (x: number): string => (x > MOST ? `over ${MOST} x` : `${twoFigures(x)} x`);
  return early !== null && early < margin ? `${ratio(early)} to ${ratio(margin)}` : ratio(margin);
}

function line(row: FaultRow, parts: readonly string[]): string {
  const name = row.latent ? `${row.name} (latent)` : row.name;
  return `| ${[name, parts.join(", "), ...cells(row)].join(" | ")} |`;
}

/** The line of one fault on one part. */
export function faultLine(row: FaultRow): string {
  return line(row, [PART_WORDS[row.part]]);
}

/** The table as Markdown: what trips something, then what nothing catches, said again in a sentence. */
export function faultTableText(rows: readonly FaultRow[]): string {
  const caught = rows.filter((r) => r.trip !== null);
  const missed = rows.filter((r) => r.trip === null);
  const lines = [...groups(caught), ...groups(missed)];
  const silent = missed.filter((r) => r.alarm === null && r.began && !r.latent);
  const alarmed = missed.filter((r) => r.alarm !== null);
  const said = [
    `**Caught by nothing at all**, not even an alarm: ${names(silent)}.`,
    `By an alarm alone: ${names(alarmed)}.`,
    `Latent, and on the parts named above seen by nothing until it matters: ${names(missed.filter((r) => r.latent))}.`,
  ];
  return [...HEADER, ...lines, "", said.join(" "), "", FOOT].join("\n");
}

/** One line for all parts on which a fault does the same. */
function groups(rows: readonly FaultRow[]): readonly string[] {
  const bySame = new Map<string, FaultRow[]>();
  for (const row of rows) {
    const key = [row.fault, ...cells(row)].join();
    bySame.set(key, [...(bySame.get(key) ?? []), row]);
  }
  return [...bySame.values()].map((same) =>
    line(
      same[0] as FaultRow,
      same.map((r) => PART_WORDS[r.part]),
    ),
  );
}

function names(rows: readonly FaultRow[]): string {
  return [...new Set(rows.map((r) => lowerFirst(r.name)))].join(", ");
}
