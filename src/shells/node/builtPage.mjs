/** The built page, made anew when anything it is made from has changed since. */
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { isStale } from "./freshness.mjs";

const root = resolve(fileURLToPath(new URL("../../..", import.meta.url)));
const SOURCES = ["src", "public", "index.html", "vite.config.ts", "package-lock.json"];

/**
 * The folder of the page, built first where it is missing or older than a source.
 * @returns {Promise<string>}
 */
export async function builtPage() {
  const folder = resolve(root, "dist");
  const sources = SOURCES.map((name) => resolve(root, name));
  if (isStale(resolve(folder, "index.html"), sources)) {
    console.log("Building the page ...");
    const { build } = await import("vite");
    await build({ root, logLevel: "warn" });
  }
  return folder;
}
