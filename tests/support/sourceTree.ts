/** Reading our own sources: which files there are and what each imports, by the TypeScript syntax tree. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import ts from "typescript";
import { ROOT } from "./root";

/** Source texts by path relative to the project, with forward slashes. */
export type SourceTexts = ReadonlyMap<string, string>;

/** Paths below `folder`, relative to the project, of all files whose name matches. */
export function listFiles(folder: string, name: RegExp): readonly string[] {
  return readdirSync(resolve(ROOT, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && name.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .sort();
}

/** The texts of all program files below `folder`. */
export function readSources(folder: string): SourceTexts {
  const paths = listFiles(folder, /\.(ts|tsx|mts|mjs|js)$/);
  return new Map(paths.map((path) => [path, readFileSync(resolve(ROOT, path), "utf8")]));
}

/** The syntax tree of one file. */
export function parse(path: string, text: string): ts.SourceFile {
  return ts.createSourceFile(path, text, ts.ScriptTarget.ESNext, true);
}

/** Calls `visit` for every node of the tree, parents first. */
export function walk(node: ts.Node, visit: (node: ts.Node) => void): void {
  visit(node);
  ts.forEachChild(node, (child) => walk(child, visit));
}

/**
 * What a file imports, as written: import and export lines (types too), dynamic imports, `require` calls and workers
 * named as `new URL("./x", import.meta.url)`.
 */
export function importsOf(path: string, text: string): readonly string[] {
  const found: string[] = [];
  const take = (node: ts.Node | undefined): void => {
    if (node !== undefined && ts.isStringLiteralLike(node)) found.push(node.text);
  };
  walk(parse(path, text), (node) => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) take(node.moduleSpecifier);
    else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
      take(node.argument.literal);
    } else if (ts.isCallExpression(node)) {
      const isImport = node.expression.kind === ts.SyntaxKind.ImportKeyword;
      const isRequire = ts.isIdentifier(node.expression) && node.expression.text === "require";
      if (isImport || isRequire) take(node.arguments[0]);
    } else if (ts.isNewExpression(node) && node.expression.getText() === "URL") {
      if (node.arguments?.[1]?.getText() === "import.meta.url") take(node.arguments[0]);
    }
  });
  return found;
}

/** The file among `texts` a relative import names, or null. */
export function resolveRelative(
  texts: SourceTexts,
  importer: string,
  specifier: string,
): string | null {
  const base = join(dirname(importer), specifier.replace(/\?.*$/, "")).replaceAll("\\", "/");
  const candidates = [base, `${base}.ts`, `${base}.tsx`, `${base}.mjs`, `${base}/index.ts`];
  return candidates.find((path) => texts.has(path)) ?? null;
}
