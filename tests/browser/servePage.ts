/** Serves the built page once for all browser tests, on a free port. */
import { existsSync } from "node:fs";
import { resolve } from "node:path";
import { serveFolder } from "../../src/shells/node/staticServer.mjs";

export default async function servePage(): Promise<() => Promise<void>> {
  const folder = resolve(import.meta.dirname, "../../dist");
  if (!existsSync(resolve(folder, "index.html"))) {
    throw new Error("There is no built page: run npm run build first.");
  }
  const server = await serveFolder({ folder, port: 0 });
  process.env.QUIETARC_PAGE_URL = server.url;
  return server.close;
}
