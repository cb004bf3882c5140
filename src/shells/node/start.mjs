/**
 * `npm start`: builds the page when it is missing or out of date, serves it and prints the address.
 * PORT chooses the port (default 4173; a taken one is replaced by a free one), HOST the interface (default this
 * machine only).
 */
import { builtPage } from "./builtPage.mjs";
import { serveFolder } from "./staticServer.mjs";

const wantedPort = Number(process.env.PORT ?? 4173);
if (!Number.isInteger(wantedPort) || wantedPort < 0 || wantedPort > 65535) {
  console.error(`PORT must be a whole number from 0 to 65535, not "${process.env.PORT}".`);
  process.exit(2);
}

const { url } = await serveFolder({
  folder: await builtPage(),
  port: wantedPort,
  host: process.env.HOST ?? "127.0.0.1",
});
console.log(`Quietarc is at ${url} (stop it with Ctrl+C)`);
