/**
 * What the layers below the shells, and the packages they compute with, may not touch: whatever depends on the engine,
 * the clock, the locale or the surroundings. Read from the syntax tree, so comments and texts do not count.
 */
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import ts from "typescript";
import { ROOT } from "./root";
import { importsOf, parse, type SourceTexts, walk } from "./sourceTree";

/** Fixed to the last bit by ECMAScript; every other function of Math is the engine's choice or random. */
const EXACT_MATH = new Set(
  "abs ceil clz32 floor fround imul max min round sign sqrt trunc E LN10 LN2 LOG10E LOG2E PI SQRT1_2 SQRT2".split(
    " ",
  ),
);

/** Names of the language and its surroundings that no result may depend on. */
const FORBIDDEN_NAMES = new Set(
  (
    "Atomics Date EventSource FinalizationRegistry Function Intl MessageChannel Promise SharedArrayBuffer " +
    "WeakRef WebSocket Worker XMLHttpRequest alert cancelAnimationFrame clearInterval clearTimeout console crypto " +
    "document eval fetch global globalThis history indexedDB localStorage navigator performance postMessage " +
    "process queueMicrotask requestAnimationFrame requestIdleCallback require self sessionStorage setImmediate " +
    "setInterval setTimeout structuredClone window"
  ).split(" "),
);

const FORBIDDEN_MEMBER = /^(toLocale\w*|localeCompare|getTimezoneOffset)$/;

/** Layers that must give the same record everywhere. */
export const PURE_LAYERS = [
  "units",
  "math",
  "project",
  "physics",
  "protection",
  "simulation",
  "study",
  "formats",
] as const;

/** Each use of something forbidden in one of our files, as "file:line: what". */
export function impurities(path: string, text: string): readonly string[] {
  const tree = parse(path, text);
  const problems: string[] = [];
  const report = (node: ts.Node, what: string): void => {
    problems.push(`${path}:${lineOf(tree, node)}: ${what}`);
  };
  walk(tree, (node) => {
    reportNumerics(node, report);
    if (ts.isIdentifier(node) && FORBIDDEN_NAMES.has(node.text) && refersToName(node)) {
      report(node, node.text);
    }
    if (ts.isPropertyAccessExpression(node) && FORBIDDEN_MEMBER.test(node.name.text)) {
      report(node, node.name.text);
    }
    if (ts.isStringLiteralLike(node) && FORBIDDEN_MEMBER.test(node.text)) report(node, node.text);
    if (node.kind === ts.SyntaxKind.AsyncKeyword || ts.isAwaitExpression(node)) {
      report(node, "async code");
    }
    if (ts.isMetaProperty(node)) report(node, node.getText());
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      report(node, "import()");
    }
  });
  return problems;
}

/** The part of the rule that holds for packages too: only exact functions of Math, no power operator, no clock. */
export function inexactNumerics(path: string, text: string): readonly string[] {
  const tree = parse(path, text);
  const problems: string[] = [];
  walk(tree, (node) => {
    reportNumerics(node, (at, what) => problems.push(`${path}:${lineOf(tree, at)}: ${what}`));
    if (
      ts.isIdentifier(node) &&
      /^(Date|performance|Intl)$/.test(node.text) &&
      refersToName(node)
    ) {
      problems.push(`${path}:${lineOf(tree, node)}: ${node.text}`);
    }
  });
  return problems;
}

function reportNumerics(node: ts.Node, report: (node: ts.Node, what: string) => void): void {
  if (
    node.kind === ts.SyntaxKind.AsteriskAsteriskToken ||
    node.kind === ts.SyntaxKind.AsteriskAsteriskEqualsToken
  ) {
    report(node, "the power operator");
  }
  if (!ts.isIdentifier(node) || node.text !== "Math" || !refersToName(node)) return;
  const { parent } = node;
  if (!ts.isPropertyAccessExpression(parent)) report(node, "Math passed on under another name");
  else if (!EXACT_MATH.has(parent.name.text)) report(node, `Math.${parent.name.text}`);
}

/** True where an identifier stands for a variable or type, false where it is a member's or a property's own name. */
function refersToName(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node;
  if (ts.isQualifiedName(parent)) return parent.left === node;
  if (ts.isPropertyAssignment(parent)) return parent.initializer === node;
  if (ts.isBindingElement(parent)) return parent.propertyName !== node;
  return !(
    ts.isPropertySignature(parent) ||
    ts.isPropertyDeclaration(parent) ||
    ts.isMethodDeclaration(parent) ||
    ts.isMethodSignature(parent) ||
    ts.isGetAccessorDeclaration(parent) ||
    ts.isEnumMember(parent)
  );
}

function lineOf(tree: ts.SourceFile, node: ts.Node): number {
  return tree.getLineAndCharacterOfPosition(node.getStart(tree)).line + 1;
}

/**
 * The files of installed packages that `texts` reach through imports and requires, by path. Only packages for which
 * `follows` holds are entered.
 */
export function reachedPackageFiles(
  texts: SourceTexts,
  follows: (packageSpecifier: string) => boolean,
): SourceTexts {
  const reached = new Map<string, string>();
  const waiting: string[] = [];
  const enter = (importer: string, specifier: string): void => {
    if (!specifier.startsWith(".") && !follows(specifier)) return;
    const file = resolveInPackage(importer, specifier);
    if (reached.has(file) || !/\.[cm]?js$/.test(file)) return;
    reached.set(file, readFileSync(file, "utf8"));
    waiting.push(file);
  };
  for (const [path, text] of texts) {
    for (const specifier of importsOf(path, text)) {
      if (!specifier.startsWith(".")) enter(resolve(ROOT, path), specifier);
    }
  }
  for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
    for (const specifier of importsOf(file, reached.get(file) ?? "")) enter(file, specifier);
  }
  return reached;
}

/** The file Node or the bundler takes; of a package with two forms the module form, which is what gets bundled. */
function resolveInPackage(importer: string, specifier: string): string {
  const require = createRequire(importer);
  const name = /^(@[^/]+\/)?[^/.][^/]*/.exec(specifier)?.[0];
  if (name !== undefined) {
    const folder = (require.resolve.paths(specifier) ?? [])
      .map((path) => join(path, name))
      .find((path) => existsSync(join(path, "package.json")));
    if (folder !== undefined) {
      const manifest = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
      const moduleForm = manifest.exports?.[`.${specifier.slice(name.length)}`]?.import;
      if (typeof moduleForm === "string") return join(folder, moduleForm);
    }
  }
  return require.resolve(specifier);
}
