/**
 * The test every browser spec uses: a console message of any kind, a page error, a refused resource or a request that
 * leaves the page's own server fails it.
 */
import { test as base, expect } from "@playwright/test";

export { expect };

const FRAME_EVERY_MS = 250;

export const test = base.extend<{ readonly quiet: undefined }>({
  quiet: [
    async ({ page, context, baseURL }, use) => {
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
      // without a screen Chromium now and then gives an idle page no frame: no resize is told, no click arrives until one is asked for
      await page.addInitScript(
        (everyMs) => void setInterval(() => requestAnimationFrame(() => {}), everyMs),
        FRAME_EVERY_MS,
      );
      await page.exposeFunction("quietarcRefused", (text: string) => problems.push(text));
      await page.addInitScript(() => {
        document.addEventListener("securitypolicyviolation", (event) => {
          const report = Reflect.get(window, "quietarcRefused") as (text: string) => void;
          report(`policy ${event.effectiveDirective} refused ${event.blockedURI} ${event.sample}`);
        });
      });
      await use(undefined);
      expect(problems).toEqual([]);
    },
    { auto: true },
  ],
});
