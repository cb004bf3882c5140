/**
 * `npm start`: builds the page when it is missing or out of date, serves it and prints the address.
 * PORT chooses the port (default 4173; a taken one is replaced by a free one), HOST the interface (default this
 * machine only).
 */
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { isStale } from "./freshness.mjs";
import { serveFolder } from "./staticServer.mjs";

const root = resolve(fileURLToPath(new URL("../../..", import.meta.url)));
const folder = resolve(root, "dist");
const sources = ["src", "public", "index.html", "vite.config.ts", "package-lock.json"];

const wantedPort = Number(process.env.PORT ?? 4173);
if (!Number.isInteger(wantedPort) || wantedPort < 0 || wantedPort > 65535) {
  console.error(`PORT must be a whole number from 0 to 65535, not "${process.env.PORT}".`);
  process.exit(2);
}

if (
  isStale(
    resolve(folder, "index.html"),
    sources.map((name) => resolve(root, name)),
  )
) {
  console.log("Building the page ...");
  const { build } = await import("vite");
  await build({ root, logLevel: "warn" });
}

const { url } = await serveFolder({
  folder,
  port: wantedPort,
  host: process.env.HOST ?? "127.0.0.1",
});
console.log(`Quietarc is at ${url} (stop it with Ctrl+C)`);
