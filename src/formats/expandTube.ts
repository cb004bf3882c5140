/**
 * A tube that a file names by its registered type becomes the plain triode that a project holds.
 *
 * `{ "kind": "registered", "type": "3-500Z", "count": 2 }`; without a count it is one tube. What cannot be expanded
 * stays as it is, for the schema to refuse.
 */
import { registeredTriode } from "../project/tubes";

type Plain = { readonly [name: string]: unknown };

/** The names a tube of kind "registered" may have. */
const NAMES: readonly string[] = ["kind", "type", "count"];

/** The triode of a registered type, or the given value where no such type is named. */
export function expandTube(given: Plain): unknown {
  const { kind, type, count } = given;
  const plain = Object.keys(given).every((name) => NAMES.includes(name));
  if (kind !== "registered" || !plain || typeof type !== "string") return given;
  const triode = registeredTriode(type, 1);
  if (triode === null) return given;
  // The count is the schema's to judge, whatever it is.
  return Object.hasOwn(given, "count") ? { ...triode, count } : triode;
}
