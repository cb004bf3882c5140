/** Bytes of a project file as text, or the place of the first byte that is none. */

export type Decoding =
  | { readonly ok: true; readonly text: string }
  | {
      readonly ok: false;
      readonly code: "notText" | "notUtf8";
      /** Both from 1, as far as the text before the byte can be read. */
      readonly line: number;
      readonly column: number;
      readonly message: string;
      readonly remedy: string;
    };

/** Strict UTF-8; a byte order mark is kept. Zero bytes are no text, even where they are valid UTF-8. */
export function decodeText(bytes: Uint8Array): Decoding {
  if (beginsWith(bytes, 0xff, 0xfe) || beginsWith(bytes, 0xfe, 0xff)) {
    return refuse(bytes, 0, "notUtf8", "the file is UTF-16 text", "Save it as UTF-8");
  }
  const zeroAt = bytes.indexOf(0);
  if (zeroAt >= 0) {
    const message = `byte ${zeroAt + 1} is zero, so this is no text`;
    return refuse(bytes, zeroAt, "notText", message, "Give a project file, which is JSON text");
  }
  try {
    const strict = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
    return { ok: true, text: strict.decode(bytes) };
  } catch {
    const at = firstBadByte(bytes);
    const shown = (bytes[at] ?? 0).toString(16).padStart(2, "0");
    const message = `byte ${at + 1} (${shown} hexadecimal) is no UTF-8`;
    return refuse(bytes, at, "notUtf8", message, "Save the file as UTF-8 text");
  }
}

function beginsWith(bytes: Uint8Array, first: number, second: number): boolean {
  return bytes[0] === first && bytes[1] === second;
}

/** First byte of the first sequence that is none, found by halving: the decoder may still wait for the end of a sequence. */
function firstBadByte(bytes: Uint8Array): number {
  let good = 0;
  let bad = bytes.length;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (isBeginning(bytes.subarray(0, middle))) good = middle;
    else bad = middle;
  }
  while (good > 0 && !isBeginning(bytes.subarray(0, good), false)) good--;
  return good;
}

function isBeginning(bytes: Uint8Array, stream = true): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream });
    return true;
  } catch {
    return false;
  }
}

function refuse(
  bytes: Uint8Array,
  at: number,
  code: "notText" | "notUtf8",
  message: string,
  remedy: string,
): Decoding {
  const before = new TextDecoder().decode(bytes.subarray(0, at));
  const lines = before.split(/\r\n|\n|\r/);
  const column = (lines.at(-1) ?? "").length + 1;
  return { ok: false, code, line: lines.length, column, message, remedy };
}
