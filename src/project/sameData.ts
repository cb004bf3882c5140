/** Whether two pieces of plain data say the same; the order of their members says nothing. */

/** Plain data, member by member; what is undefined is not there. */
export function isSameData(a: unknown, b: unknown): boolean {
  if (Object.is(a, b) || a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const own = a as Readonly<Record<string, unknown>>;
  const other = b as Readonly<Record<string, unknown>>;
  for (const name of Object.keys(own)) if (!isSameData(own[name], other[name])) return false;
  for (const name of Object.keys(other))
    if (other[name] !== undefined && own[name] === undefined) return false;
  return true;
}
