/** A static file server for the built page: GET and HEAD, one folder, nothing remembered by the browser. */
import { createReadStream, statSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join, normalize, sep } from "node:path";

const TYPES = {
  ".css": "text/css; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".md": "text/markdown; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".woff2": "font/woff2",
};

/**
 * Serves `folder`. When `port` is taken the system picks a free one. Resolves once listening.
 * @param {{ folder: string, port: number, host?: string }} options
 * @returns {Promise<{ url: string, close: () => Promise<void> }>}
 */
export async function serveFolder({ folder, port, host = "127.0.0.1" }) {
  const server = createServer((request, response) => answer(folder, request, response));
  try {
    await listen(server, port, host);
  } catch (problem) {
    if (problem?.code !== "EADDRINUSE" && problem?.code !== "EACCES") throw problem;
    await listen(server, 0, host);
  }
  const address = server.address();
  const shownHost = host.includes(":") ? `[${host}]` : host;
  return {
    url: `http://${shownHost}:${address.port}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function listen(server, port, host) {
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => {
      server.off("error", reject);
      resolve();
    });
  });
}

function answer(folder, request, response) {
  if (request.method !== "GET" && request.method !== "HEAD") {
    response.writeHead(405, { allow: "GET, HEAD" }).end();
    return;
  }
  const file = fileFor(folder, request.url ?? "/");
  const stat = file === null ? undefined : statSync(file, { throwIfNoEntry: false });
  if (file === null || stat === undefined || !stat.isFile()) {
    response.writeHead(404, { "content-type": "text/plain; charset=utf-8" }).end("No such file.\n");
    return;
  }
  response.writeHead(200, {
    "content-type": TYPES[extname(file)] ?? "application/octet-stream",
    "content-length": stat.size,
    "cache-control": "no-store",
    "x-content-type-options": "nosniff",
  });
  if (request.method === "HEAD") response.end();
  else createReadStream(file).pipe(response);
}

/** The file a request path names, or null when it leaves the folder or cannot be decoded. */
function fileFor(folder, url) {
  let path;
  try {
    path = decodeURIComponent(new URL(url, "http://page.invalid").pathname);
  } catch {
    return null;
  }
  if (path.includes("\0")) return null;
  const file = normalize(join(folder, path.endsWith("/") ? `${path}index.html` : path));
  return file.startsWith(normalize(folder) + sep) ? file : null;
}
