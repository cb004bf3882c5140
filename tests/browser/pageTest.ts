/**
 * The test every browser spec uses: a console message of any kind, a page error, a refused resource or a request that
 * leaves the page's own server fails it.
 */
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test as base, expect, type Page, type TestInfo } from "@playwright/test";

export { expect };

/** Long after any frame that is still to come. */
const NO_FRAME_MS = 5000;

/**
 * Whether the page answers and has no frames. Without a screen Chromium now and then ends giving them: no resize is told to the
 * page any more, no click arrives and no picture can be taken, until it is closed. Seen about once in thirty pages on a machine
 * with too much to do. A page that does not even answer hangs by itself.
 */
async function isWithoutFrames(page: Page): Promise<boolean> {
  const within = (work: Promise<unknown>): Promise<boolean> => {
    const late = new Promise<boolean>((end) => setTimeout(end, NO_FRAME_MS, false));
    return Promise.race([work.then(() => true), late]).catch(() => false);
  };
  if (!(await within(page.evaluate(() => document.readyState)))) return false;
  const frames = page.evaluate(
    () => new Promise<number>((next) => requestAnimationFrame(() => requestAnimationFrame(next))),
  );
  return !(await within(frames));
}

/** Says, from one attempt of a test to the next, that the browser had ended giving frames in the first. */
function markOf({ project, testId }: TestInfo): string {
  return join(project.outputDir, `${testId}.without-frames`);
}

export const test = base.extend<{ readonly quiet: undefined }>({
  quiet: [
    async ({ page, context, baseURL }, use, info) => {
      const mark = markOf(info);
      // the second attempt is for a browser that broke, never for a test that failed
      if (info.retry > 0 && !existsSync(mark))
        throw new Error(
          "It failed, and not because the browser ended giving frames: see the first attempt.",
        );
      const origin = new URL(baseURL ?? "").origin;
      const problems: string[] = [];
      page.on("pageerror", (error) => problems.push(`page error: ${error.message}`));
      page.on("console", (message) =>
        problems.push(`console ${message.type()}: ${message.text()}`),
      );
      page.on("response", (response) => {
        if (response.status() >= 400) problems.push(`${response.status()} for ${response.url()}`);
      });
      context.on("request", (request) => {
        const { origin: asked, protocol } = new URL(request.url());
        // what the page made itself and hands to the browser as a file leaves nothing
        if (protocol === "blob:" || protocol === "data:") return;
        if (asked !== origin) problems.push(`request leaves the page: ${request.url()}`);
      });
      await page.exposeFunction("quietarcRefused", (text: string) => problems.push(text));
      await page.addInitScript(() => {
        document.addEventListener("securitypolicyviolation", (event) => {
          const report = Reflect.get(window, "quietarcRefused") as (text: string) => void;
          report(`policy ${event.effectiveDirective} refused ${event.blockedURI} ${event.sample}`);
        });
      });
      await use(undefined);
      if (info.status !== info.expectedStatus && (await isWithoutFrames(page))) {
        mkdirSync(info.project.outputDir, { recursive: true });
        writeFileSync(mark, "");
      }
      expect(problems).toEqual([]);
    },
    { auto: true },
  ],
});
