import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { isStale } from "../../src/shells/node/freshness.mjs";
import { serveFolder } from "../../src/shells/node/staticServer.mjs";

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "page-"));
  mkdirSync(join(folder, "dist"));
  writeFileSync(join(folder, "secret.txt"), "not for the page");
  writeFileSync(join(folder, "dist", "index.html"), "<h1>page</h1>");
  writeFileSync(join(folder, "dist", "a b.json"), "{}");
});

afterEach(() => rmSync(folder, { recursive: true }));

/** Status, kind and text of one request; the path goes out as written, which fetch would tidy. */
function ask(url: string, path: string, method = "GET") {
  return new Promise<{ status: number; type: string; text: string }>((done, fail) => {
    const { hostname, port } = new URL(url);
    request({ hostname, port, path, method }, (answer) => {
      let text = "";
      answer.on("data", (chunk) => {
        text += String(chunk);
      });
      answer.on("end", () =>
        done({ status: answer.statusCode ?? 0, type: answer.headers["content-type"] ?? "", text }),
      );
    })
      .on("error", fail)
      .end();
  });
}

describe("the static server", () => {
  it("serves the page and its files with their kinds, and nothing else", async () => {
    const server = await serveFolder({ folder: join(folder, "dist"), port: 0 });
    try {
      const page = await ask(server.url, "/");
      expect(page).toEqual({
        status: 200,
        type: "text/html; charset=utf-8",
        text: "<h1>page</h1>",
      });
      expect((await ask(server.url, "/a%20b.json")).type).toBe("application/json; charset=utf-8");
      expect((await ask(server.url, "/index.html", "HEAD")).text).toBe("");
      expect((await ask(server.url, "/gone")).status).toBe(404);
      expect((await ask(server.url, "/", "POST")).status).toBe(405);
      for (const path of [
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/..%2fsecret.txt",
        "/%00",
        "/%",
      ]) {
        expect((await ask(server.url, path)).status, path).toBe(404);
      }
    } finally {
      await server.close();
    }
  });

  it("takes a free port when the wanted one is taken", async () => {
    const first = await serveFolder({ folder, port: 0 });
    const second = await serveFolder({ folder, port: Number(new URL(first.url).port) });
    expect(second.url).not.toBe(first.url);
    await Promise.all([first.close(), second.close()]);
  });
});

describe("a built file", () => {
  it("is stale when missing or older than any source, also one deep in a folder", () => {
    const built = join(folder, "built.js");
    const source = join(folder, "dist");
    const at = (path: string, seconds: number): void => utimesSync(path, seconds, seconds);
    expect(isStale(built, [source])).toBe(true);
    writeFileSync(built, "");
    at(built, 2000);
    for (const path of ["index.html", "a b.json", "."]) at(join(source, path), 1000);
    expect(isStale(built, [source])).toBe(false);
    at(join(source, "index.html"), 3000);
    expect(isStale(built, [source])).toBe(true);
  });
});
