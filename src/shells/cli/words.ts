/** Words of a command as options and files; every option takes a value but those named as flags. */
import { parseArgs } from "node:util";
import type { Surroundings } from "./engine";
import { complaint } from "./projectInput";

export interface Wording {
  readonly command: string;
  readonly valued: readonly string[];
  readonly flags: readonly string[];
}

export interface Words {
  readonly values: ReadonlyMap<string, string>;
  readonly flags: ReadonlySet<string>;
  readonly files: readonly string[];
}

/** Null after a complaint. A dash alone is a file. */
export function readWords(
  words: readonly string[],
  { command, valued, flags }: Wording,
  around: Surroundings,
): Words | null {
  const refuse = (code: string, message: string, remedy: string): null => {
    around.error(complaint("quietarc", code, message, remedy));
    return null;
  };
  const { tokens } = parseArgs({
    args: [...words],
    strict: false,
    tokens: true,
    allowPositionals: true,
    options: Object.fromEntries([
      ...valued.map((name) => [name, { type: "string" as const }]),
      ...flags.map((name) => [name, { type: "boolean" as const }]),
    ]),
  });
  const values = new Map<string, string>();
  const raised = new Set<string>();
  const files: string[] = [];
  for (const token of tokens) {
    if (token.kind === "positional") files.push(token.value);
    if (token.kind !== "option") continue;
    const { name, rawName, value } = token;
    if (values.has(name) || raised.has(name)) {
      return refuse("repeatedOption", `${rawName} stands twice`, "Say it once");
    }
    if (flags.includes(name)) {
      if (value !== undefined) {
        return refuse("surplusValue", `${rawName} takes no value`, `Write ${rawName} alone`);
      }
      raised.add(name);
    } else if (valued.includes(name)) {
      // a value that begins with a dash is more likely the next option
      if (value === undefined || value === "" || (!token.inlineValue && value.startsWith("--"))) {
        return refuse("missingValue", `${rawName} needs a value`, `Write it after ${rawName}`);
      }
      values.set(name, value);
    } else {
      const known = [...valued, ...flags].map((one) => `--${one}`).join(", ");
      return refuse(
        "unknownOption",
        `"${rawName}" is no option of ${command}`,
        `It has ${known}; "quietarc help" explains them`,
      );
    }
  }
  return { values, flags: raised, files };
}
