/**
 * What the build adds to the page: the notices of everything bundled, and the removal of the content policy while
 * developing (the development server injects inline scripts and styles, which the policy rightly refuses).
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { marked } from "marked";
import type { Plugin } from "vite";

/** Development only: takes the Content-Security-Policy out of index.html; builds keep it. */
export function policyOnlyInBuild(): Plugin {
  return {
    name: "policy-only-in-build",
    apply: "serve",
    transformIndexHtml: {
      order: "pre",
      handler: (html) => html.replace(/<meta\s+http-equiv="Content-Security-Policy"[^>]*>/, ""),
    },
  };
}

/** Imports of `notes.md?notes` give the file as HTML, converted once, when the page is built. */
export function notesAsHtml(): Plugin {
  return {
    name: "notes-as-html",
    enforce: "pre",
    async load(id) {
      if (!id.endsWith(".md?notes")) return null;
      const file = id.slice(0, -"?notes".length);
      this.addWatchFile(file);
      const html = await marked.parse(readFileSync(file, "utf8"));
      return `export default ${JSON.stringify(html)};`;
    },
  };
}

/** Page and workers are bundled apart; both plugins fill one list, and the page's build writes it. */
export function thirdPartyNotices(): {
  readonly page: () => Plugin;
  readonly worker: () => Plugin;
} {
  // What the bundler itself writes into its output: module loading helpers.
  const folders = new Set([join("node_modules", "vite"), join("node_modules", "rolldown")]);
  const collect = (moduleIds: Iterable<string>): void => {
    for (const id of moduleIds) {
      const folder = packageFolder(id);
      if (folder !== null) folders.add(folder);
    }
  };
  return {
    worker: () => ({
      name: "third-party-notices-worker",
      apply: "build",
      generateBundle() {
        collect(this.getModuleIds());
      },
    }),
    page: () => ({
      name: "third-party-notices",
      apply: "build",
      generateBundle(_options, bundle) {
        collect(this.getModuleIds());
        // Fonts and pictures named inside style sheets are files, not modules.
        for (const file of Object.values(bundle)) {
          if (file.type === "asset") collect(file.originalFileNames);
        }
        this.emitFile({
          type: "asset",
          fileName: "third-party-notices.txt",
          source: noticesOf(folders),
        });
      },
    }),
  };
}

/** The package folder a bundled module lives in, or null for our own modules. */
export function packageFolder(moduleId: string): string | null {
  const path = moduleId.replace(/^\0/, "").replaceAll("\\", "/");
  return /^(.*\/)?node_modules\/(@[^/]+\/)?[^/]+(?=\/)/.exec(path)?.[0] ?? null;
}

/** One text: each licence once, under the names of the packages it covers. */
export function noticesOf(folders: Iterable<string>): string {
  const namesByText = new Map<string, string[]>();
  for (const folder of folders) {
    const manifest = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as {
      readonly name?: string;
      readonly version?: string;
      readonly license?: string;
    };
    if (manifest.name === undefined) continue; // an inner package.json that only sets the module kind
    const texts = readdirSync(folder)
      .filter((file) => /^(licen[cs]e|notice|copying|ofl)(\.|-|$)/i.test(file))
      .sort()
      .map((file) => readFileSync(join(folder, file), "utf8").trim());
    // A bundler's file goes on with what the bundler itself contains, none of which reaches the page.
    const own = texts.map((text) => text.split(/^# Licenses of bundled dependencies/m)[0]?.trim());
    const text = own.join("\n\n") || `Licence: ${manifest.license ?? "not stated"}`;
    const names = namesByText.get(text) ?? [];
    names.push(`${manifest.name} ${manifest.version ?? ""}`.trim());
    namesByText.set(text, names);
  }
  const parts = [...namesByText].map(([text, names]) => ({
    names: [...new Set(names)].sort(),
    text,
  }));
  parts.sort((a, b) => ((a.names[0] ?? "") < (b.names[0] ?? "") ? -1 : 1));
  const rule = "-".repeat(80);
  return [
    "Quietarc contains the following work of others, under the licences given.",
    ...parts.map(({ names, text }) => `${rule}\n${names.join("\n")}\n\n${text}`),
    "",
  ].join("\n\n");
}
