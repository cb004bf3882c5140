/** The same record in Chromium as in Node, for every sample project: the engine bundled as the page bundles it. */
import { resolve } from "node:path";
import type { Page } from "@playwright/test";
import { build } from "vite";
import { writeProject } from "../../src/formats/writeProject";
import type { Project } from "../../src/project/types";
import { inOneGo, promptProjects, sampleProjects } from "../support/hashEngines";
import { type HashEngine, projectHashes } from "../support/projectHashes";
import { ROOT } from "../support/root";
import type { HashTask } from "./hashWorker";
import { expect, test } from "./pageTest";

/** One file, compressed like the page's own worker. */
async function bundledWorker(): Promise<string> {
  const built = await build({
    root: ROOT,
    configFile: false,
    logLevel: "silent",
    publicDir: false,
    build: {
      write: false,
      target: "es2022",
      minify: true,
      lib: {
        entry: resolve(ROOT, "tests/browser/hashWorker.ts"),
        formats: ["es"],
        fileName: "hashWorker",
      },
    },
  });
  const [output] = Array.isArray(built) ? built : [built];
  const [file] = output !== undefined && "output" in output ? output.output : [];
  if (file === undefined || file.type !== "chunk") throw new Error("the engine was not bundled");
  return file.code;
}

/** An engine in a worker of the same origin, the only thing that runs there. */
async function engineIn(page: Page): Promise<HashEngine> {
  const body = await bundledWorker();
  await page.route("**/hashWorker.js", (route) =>
    route.fulfill({ body, contentType: "text/javascript" }),
  );
  await page.goto("./third-party-notices.txt"); // a page without a bench of its own
  return (project: Project, untilS: number) =>
    page.evaluate(
      (task: HashTask) =>
        new Promise<string>((done, fail) => {
          const worker = new Worker("./hashWorker.js", { type: "module" });
          worker.onmessage = ({ data }) => {
            worker.terminate();
            done(String(data));
          };
          worker.onerror = (event) => fail(new Error(event.message));
          worker.postMessage(task);
        }),
      { text: writeProject(project), untilS },
    );
}

test("every sample project has one record hash, in Chromium as in Node", async ({ page }) => {
  const samples = promptProjects();
  expect(samples.size).toBeGreaterThan(1);
  const there = projectHashes(samples, await engineIn(page));
  const here = await projectHashes(samples, inOneGo);
  expect(await there).toEqual(here);
});

/** Key down, key up, and the first words of Morse would take 120 s; so long a stretch shows drift if there is any. */
const LONG_S = 10;

test("a long stretch of ordinary use has one record hash, in Chromium as in Node", async ({
  page,
}) => {
  const ordinary = sampleProjects().get("ordinary-use.json") as Project;
  const there = (await engineIn(page))(ordinary, LONG_S);
  const here = await inOneGo(ordinary, LONG_S);
  expect(await there).toBe(here);
});
