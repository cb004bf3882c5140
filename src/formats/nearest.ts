/** The known name nearest to a mistyped one. Distance: insertions, deletions, substitutions, swaps of neighbours. */

/** Edit distance of two short words, upper and lower case taken as equal. */
export function editDistance(a: string, b: string): number {
  const s = a.toLowerCase();
  const t = b.toLowerCase();
  let before: number[] = [];
  let above: number[] = Array.from({ length: t.length + 1 }, (_, j) => j);
  for (let i = 1; i <= s.length; i += 1) {
    const row: number[] = [i];
    for (let j = 1; j <= t.length; j += 1) {
      const change = s[i - 1] === t[j - 1] ? 0 : 1;
      let least = Math.min(
        (above[j] as number) + 1,
        (row[j - 1] as number) + 1,
        (above[j - 1] as number) + change,
      );
      if (i > 1 && j > 1 && s[i - 1] === t[j - 2] && s[i - 2] === t[j - 1]) {
        least = Math.min(least, (before[j - 2] as number) + 1);
      }
      row.push(least);
    }
    before = above;
    above = row;
  }
  return above[t.length] as number;
}

/** The nearest of the known names, or null when none is near enough to be meant. */
export function nearestName(word: string, known: readonly string[]): string | null {
  if (word.length > 60) return null;
  let best: string | null = null;
  let least = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const name of known) {
    const distance = editDistance(word, name);
    if (distance < least) {
      least = distance;
      best = name;
    }
  }
  return best;
}
