import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { ROOT } from "./support/root";
import { listFiles, parse, readSources, walk } from "./support/sourceTree";

/** Words a reader must not meet, and what is said instead. */
const WORDS: readonly (readonly [RegExp, string])[] = [
  [/\bvalves?\b/i, "tube"],
  [/\banode[- ](current|voltage|supply|dissipation|choke)\b/i, "plate ..."],
  [/\blamps?\b/i, "mark or signal"],
  [/\b(HT|B\+)(?![\w+])/, "plate supply (HV)"],
  [/\bgraph(s|ed)? paper\b|\bwiggl/i, "trace"],
  [/\b(antenna|aerial) (switch|changeover)\b/i, "T/R relay"],
  [/\btune capacitor|plate tuning cap\b/i, "tuning capacitor"],
  [/\bload capacitor\b/i, "loading capacitor"],
  [/\b(TODO|FIXME|XXX)\b/, "a note in DEVELOPERS.md, or nothing"],
  [/\blorem ipsum\b/i, "real text"],
  [/\bdegC\b/, "°C"],
  [/\b[AW]\/[cm]m2\b/, "per mm²"],
];

/** Every wrong word in a text, with the right one. */
function wrongWords(where: string, text: string): readonly string[] {
  return WORDS.flatMap(([pattern, instead]) => {
    const hit = pattern.exec(text);
    return hit === null ? [] : [`${where}: "${hit[0]}", say: ${instead}`];
  });
}

/** What a person can read of a program file: string literals, templates and the text of elements. */
function visibleTexts(path: string, source: string): readonly string[] {
  const found: string[] = [];
  walk(parse(path, source), (node) => {
    if (ts.isStringLiteralLike(node) || ts.isJsxText(node)) found.push(node.text);
    else if (ts.isTemplateHead(node) || ts.isTemplateMiddle(node) || ts.isTemplateTail(node)) {
      found.push(node.text);
    }
  });
  return found;
}

describe("the words of the trade", () => {
  it("are the ones a reader meets in the program", () => {
    const sources = readSources("src");
    const problems = [...sources].flatMap(([path, text]) =>
      visibleTexts(path, text).flatMap((visible) => wrongWords(path, visible)),
    );
    expect(problems).toEqual([]);
    expect(sources.size).toBeGreaterThan(0);
  });

  it("are the ones a reader meets in documents and sample projects", () => {
    const files = [
      "README.md",
      "DEVELOPERS.md",
      "CHANGELOG.md",
      "index.html",
      ...listFiles("public", /\.(json|md|txt|html)$/),
      ...listFiles("src", /\.(md|css|html)$/),
    ];
    const problems = files.flatMap((file) =>
      wrongWords(file, readFileSync(resolve(ROOT, file), "utf8")),
    );
    expect(problems).toEqual([]);
  });
});

describe("the check of words", () => {
  it("catches a wrong word in a text, an element and a template, but not in a name", () => {
    const texts = visibleTexts(
      "a.tsx",
      "const valve = `the valve $" +
        "{1} glows`; const b = 'Anode current'; const c = <p>red lamp</p>;",
    );
    expect(texts.flatMap((text) => wrongWords("a.tsx", text))).toEqual([
      'a.tsx: "valve", say: tube',
      'a.tsx: "Anode current", say: plate ...',
      'a.tsx: "lamp", say: mark or signal',
    ]);
  });

  it("lets longer words and the tube's anode as a part pass", () => {
    expect(
      wrongWords("a", "clamp diodes, valved, the anode block, bivalve, loading capacitor"),
    ).toEqual([]);
  });
});
