/** How long it takes from a keystroke to the working point it leads to, as a measure in the browser's own timeline. */
const TYPED = "quietarc-typed";
const POINT = "quietarc-working-point";

export function markTyped(): void {
  performance.clearMarks(TYPED);
  performance.clearMeasures(POINT); // what is measured is always of the last keystroke
  performance.mark(TYPED);
}

/** The working point of what was typed last stands on the page. */
export function measurePoint(): void {
  if (performance.getEntriesByName(TYPED).length === 0) return;
  performance.measure(POINT, TYPED);
  performance.clearMarks(TYPED);
}
