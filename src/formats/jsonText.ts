/**
 * Where everything stands in a JSON text (RFC 8259), and what is wrong with it.
 *
 * `JSON.parse` gives values, in words and positions that differ between engines, and keeps the last of two
 * equal keys in silence. This reader gives positions, repeated keys and nesting, in the same words
 * everywhere. It makes no values; those still come from `JSON.parse`.
 */

import { MAX_FOUND } from "./problem";

/** Nesting beyond this is refused; a project needs eight. */
export const MAX_DEPTH = 32;

export interface JsonNode {
  readonly start: number;
  readonly end: number;
  /** Members of an object by name, the last of equal names. */
  readonly members?: ReadonlyMap<string, JsonMember>;
  readonly items?: readonly JsonNode[];
}

export interface JsonMember {
  readonly keyStart: number;
  readonly keyEnd: number;
  readonly value: JsonNode;
}

export interface RepeatedKey {
  readonly path: readonly (string | number)[];
  readonly firstAt: number;
  readonly offset: number;
  readonly end: number;
}

export interface JsonFault {
  readonly kind: "syntax" | "depth";
  readonly offset: number;
  readonly message: string;
  readonly remedy: string;
}

export type JsonReading =
  | { readonly ok: true; readonly root: JsonNode; readonly repeated: readonly RepeatedKey[] }
  | { readonly ok: false; readonly fault: JsonFault };

class FaultFound extends Error {
  constructor(readonly fault: JsonFault) {
    super(fault.message);
  }
}

/** Positions of all values and keys, or the first place where the text is no JSON. */
export function readJsonText(text: string): JsonReading {
  try {
    const reader = new Reader(text);
    return { ok: true, root: reader.document(), repeated: reader.repeated };
  } catch (problem) {
    if (problem instanceof FaultFound) return { ok: false, fault: problem.fault };
    throw problem;
  }
}

const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;
const WORD = /[A-Za-z_$][A-Za-z0-9_$]*/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const STRING_BODY = /[^"\\\u0000-\u001f]*/y;

class Reader {
  readonly repeated: RepeatedKey[] = [];
  private at = 0;
  private readonly path: (string | number)[] = [];

  constructor(private readonly text: string) {}

  document(): JsonNode {
    this.space();
    const root = this.value("a value");
    this.space();
    if (this.at < this.text.length) {
      this.fail(`${this.found()} after the end of the project`, "remove what follows the last }");
    }
    return root;
  }

  private value(expected: string): JsonNode {
    const { text } = this;
    const start = this.at;
    const first = text[start];
    if (first === "{") return this.object();
    if (first === "[") return this.array();
    if (first === '"') {
      this.string();
      return { start, end: this.at };
    }
    if (first !== undefined && (first === "-" || (first >= "0" && first <= "9"))) {
      this.number();
      return { start, end: this.at };
    }
    const word = this.word();
    if (word === "true" || word === "false" || word === "null") {
      this.at += word.length;
      return { start, end: this.at };
    }
    return this.failValue(expected);
  }

  private object(): JsonNode {
    const start = this.at;
    this.enter();
    const members = new Map<string, JsonMember>();
    this.space();
    if (this.text[this.at] !== "}") {
      for (;;) {
        const keyStart = this.at;
        if (this.text[keyStart] !== '"') this.failKey();
        this.string();
        const keyEnd = this.at;
        const quoted = this.text.slice(keyStart, keyEnd);
        const name = quoted.includes("\\") ? (JSON.parse(quoted) as string) : quoted.slice(1, -1);
        this.path.push(name);
        const earlier = members.get(name);
        if (earlier !== undefined && this.repeated.length < MAX_FOUND) {
          this.repeated.push({
            path: [...this.path],
            firstAt: earlier.keyStart,
            offset: keyStart,
            end: keyEnd,
          });
        }
        this.space();
        if (this.text[this.at] !== ":") {
          this.fail(
            `${this.found()} where a colon was expected after ${this.text.slice(keyStart, keyEnd)}`,
            "write the name, a colon, the value",
          );
        }
        this.at += 1;
        this.space();
        members.set(name, { keyStart, keyEnd, value: this.value("a value") });
        this.path.pop();
        if (this.closes("}")) break;
      }
    }
    this.at += 1;
    this.depth -= 1;
    return { start, end: this.at, members };
  }

  private array(): JsonNode {
    const start = this.at;
    this.enter();
    const items: JsonNode[] = [];
    this.space();
    if (this.text[this.at] !== "]") {
      for (;;) {
        this.path.push(items.length);
        items.push(this.value("a value"));
        this.path.pop();
        if (this.closes("]")) break;
      }
    }
    this.at += 1;
    this.depth -= 1;
    return { start, end: this.at, items };
  }

  private depth = 0;

  private enter(): void {
    this.depth += 1;
    if (this.depth > MAX_DEPTH) {
      throw new FaultFound({
        kind: "depth",
        offset: this.at,
        message: `brackets are nested more than ${MAX_DEPTH} deep`,
        remedy: "a project needs eight levels; check for a bracket that is never closed",
      });
    }
    this.at += 1;
  }

  /** After a value: true at the closing bracket, false past a comma with another value to come. */
  private closes(bracket: "}" | "]"): boolean {
    this.space();
    const next = this.text[this.at];
    if (next === bracket) return true;
    if (next !== ",") {
      this.fail(
        `${this.found()} where a comma or ${bracket} was expected`,
        next === undefined
          ? `close every bracket: the file ends inside ${bracket === "}" ? "an object" : "a list"}`
          : "put a comma between values, and nothing else",
      );
    }
    const comma = this.at;
    this.at += 1;
    this.space();
    const after = this.text[this.at];
    if (after === "}" || after === "]") {
      this.at = comma;
      this.fail(
        `a comma stands before the closing ${after}`,
        "remove the comma after the last value",
      );
    }
    return false;
  }

  private string(): void {
    const { text } = this;
    const start = this.at;
    this.at += 1;
    for (;;) {
      STRING_BODY.lastIndex = this.at;
      STRING_BODY.test(text);
      this.at = STRING_BODY.lastIndex;
      const next = text[this.at];
      if (next === '"') {
        this.at += 1;
        return;
      }
      if (next === undefined || next === "\n" || next === "\r") {
        this.at = start;
        this.fail("this text has no closing quotation mark", 'end it with " on the same line');
      }
      if (next !== "\\") {
        this.fail("a control character stands inside a text", "write it as an escape such as \\t");
      }
      ESCAPE.lastIndex = this.at;
      if (!ESCAPE.test(text)) {
        this.fail(
          `${JSON.stringify(text.slice(this.at, this.at + 2))} is no escape`,
          "write a backslash itself as two",
        );
      }
      this.at = ESCAPE.lastIndex;
    }
  }

  private number(): void {
    NUMBER.lastIndex = this.at;
    const matches = NUMBER.test(this.text);
    const end = matches ? NUMBER.lastIndex : this.at + 1;
    if (!matches || /[0-9A-Za-z_.+-]/.test(this.text[end] ?? "")) {
      this.fail(
        `${JSON.stringify(this.lump())} is no number`,
        "write digits, a point and an exponent only, such as 14.2e6, without unit, prefix or leading zero",
      );
    }
    this.at = end;
  }

  private word(): string {
    WORD.lastIndex = this.at;
    return WORD.exec(this.text)?.[0] ?? "";
  }

  /** Everything up to the next separator, for quoting. */
  private lump(): string {
    return /^[^\s,:{}[\]"]*/.exec(this.text.slice(this.at, this.at + 24))?.[0] ?? "";
  }

  private space(): void {
    const { text } = this;
    for (;;) {
      const code = text.charCodeAt(this.at);
      if (code !== 32 && code !== 10 && code !== 13 && code !== 9) return;
      this.at += 1;
    }
  }

  private found(): string {
    const next = this.text[this.at];
    if (next === undefined) return "the file ends";
    const word = this.lump();
    return `${JSON.stringify(word.length > 1 ? word : next)} stands`;
  }

  private failKey(): never {
    const next = this.text[this.at];
    if (next === undefined) this.fail("the file ends inside an object", "close every bracket");
    if (next === "/" || next === "#") return this.failComment();
    return this.fail(
      `${this.found()} where a name in quotation marks was expected`,
      'write names as "name"',
    );
  }

  private failValue(expected: string): never {
    const next = this.text[this.at];
    if (next === undefined)
      this.fail(`the file ends where ${expected} was expected`, "complete it");
    if (next === "/" || next === "#") return this.failComment();
    if (next === "'") return this.fail("text stands in single quotation marks", 'use " instead');
    if (/^[+.]$/.test(next) || /^(?:NaN|Infinity|undefined)$/.test(this.word())) {
      this.fail(
        `${JSON.stringify(this.lump())} is no number`,
        "write a finite number, beginning with a digit or a minus sign",
      );
    }
    return this.fail(
      `${this.found()} where ${expected} was expected`,
      "write a number, a text in quotation marks, true, false, null, a list or an object",
    );
  }

  private failComment(): never {
    return this.fail("a comment stands here, which JSON has not", 'move it to "notes"');
  }

  private fail(message: string, remedy: string): never {
    throw new FaultFound({ kind: "syntax", offset: this.at, message, remedy });
  }
}
