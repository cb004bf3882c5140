/**
 * Fingerprint of a record: two 32-bit lanes, mixed value by value as samples are made. Doubles go in as
 * their eight little-endian bytes, -0 as 0. Not for secrets; two different records share it with a
 * probability of about 2^-64.
 */
const scratch = new Float64Array(1);
const words = new Uint32Array(scratch.buffer);
/** Where the low word of a double lies on this machine; the hash itself is little-endian everywhere. */
scratch[0] = 1;
const LOW = words[0] === 0 ? 0 : 1;
const HIGH = 1 - LOW;

/** Mixes `count` values from `values[offset]` into the two lanes at `lanes[at]`, `lanes[at + 1]`. */
export function mixValues(
  lanes: Float64Array,
  at: number,
  values: Float64Array,
  offset: number,
  count: number,
): void {
  let a = (lanes[at] as number) | 0;
  let b = (lanes[at + 1] as number) | 0;
  for (let i = 0; i < count; i++) {
    scratch[0] = (values[offset + i] as number) + 0; // -0 + 0 = 0
    const low = words[LOW] as number;
    const high = words[HIGH] as number;
    a = Math.imul(a ^ low, 0x85ebca6b);
    a = (a << 13) | (a >>> 19);
    a = Math.imul(a ^ high, 0x9e3779b1);
    b = Math.imul(b ^ high ^ (a >>> 15), 0xc2b2ae35);
    b = (b << 17) | (b >>> 15);
    b = (Math.imul(b, 5) + low) | 0;
  }
  lanes[at] = a >>> 0;
  lanes[at + 1] = b >>> 0;
}

/** Mixes a text, code unit by code unit. */
export function mixText(lanes: Float64Array, at: number, text: string): void {
  let a = (lanes[at] as number) | 0;
  let b = (lanes[at + 1] as number) | 0;
  for (let i = 0; i < text.length; i++) {
    a = Math.imul(a ^ text.charCodeAt(i), 0x01000193);
    b = Math.imul(b ^ a, 0x85ebca6b);
    b = (b << 11) | (b >>> 21);
  }
  lanes[at] = a >>> 0;
  lanes[at + 1] = b >>> 0;
}

/** Sixteen hexadecimal digits. */
export function hashText(lanes: Float64Array, at: number): string {
  const hex = (x: number): string => (x >>> 0).toString(16).padStart(8, "0");
  return hex(lanes[at] as number) + hex(lanes[at + 1] as number);
}
