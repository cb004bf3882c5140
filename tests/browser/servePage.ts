/** Serves the page once for all browser tests, on a free port; an old build is made anew first. */
import { builtPage } from "../../src/shells/node/builtPage.mjs";
import { serveFolder } from "../../src/shells/node/staticServer.mjs";

export default async function servePage(): Promise<() => Promise<void>> {
  const server = await serveFolder({ folder: await builtPage(), port: 0 });
  process.env.QUIETARC_PAGE_URL = server.url;
  return server.close;
}
