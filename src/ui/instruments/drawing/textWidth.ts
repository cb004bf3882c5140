/**
 * How wide words will be, for layouts that must not let two of them meet. An estimate from classes of letters in the
 * label width of the sheet's face, on the wide side: [E], about 5 % over what Chromium measures.
 */

const NARROW = new Set("iljtfrI.,:;'|!()[] \u00a0\u202f");
const BROAD = new Set("mwMWOQ@%—→×µ");

/** Estimated width of a line of text in CSS pixels. */
export function textWidthPx(text: string, sizePx: number, weight = 400): number {
  let ems = 0;
  for (const letter of text) ems += NARROW.has(letter) ? 0.27 : BROAD.has(letter) ? 0.75 : 0.515;
  return ems * sizePx * (weight > 600 ? 1.07 : 1);
}

/** Lines of whole words, each no wider than the room where a word allows it. */
export function wrapText(
  text: string,
  roomPx: number,
  sizePx: number,
  weight = 400,
): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    const joined = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && textWidthPx(joined, sizePx, weight) <= roomPx)
      lines[lines.length - 1] = joined;
    else lines.push(word);
  }
  return lines;
}

/** A remark that gives up its last clauses first, then its last words, never part of a word; the table keeps it whole. */
export function fitText(text: string, roomPx: number, sizePx: number): string {
  const clauses = text.split(", ");
  while (clauses.length > 1 && textWidthPx(clauses.join(", "), sizePx) > roomPx) clauses.pop();
  return wrapText(clauses.join(", "), roomPx, sizePx)[0] ?? "";
}
