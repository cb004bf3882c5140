/** The test every browser spec uses: a console message, a page error or a refused resource fails it. */
import { test as base, expect } from "@playwright/test";

export { expect };

export const test = base.extend<{ readonly quiet: undefined }>({
  quiet: [
    async ({ page }, use) => {
      const problems: string[] = [];
      page.on("pageerror", (error) => problems.push(`page error: ${error.message}`));
      page.on("console", (message) => {
        if (message.type() === "error" || message.type() === "warning") {
          problems.push(`console ${message.type()}: ${message.text()}`);
        }
      });
      page.on("response", (response) => {
        if (response.status() >= 400) problems.push(`${response.status()} for ${response.url()}`);
      });
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
