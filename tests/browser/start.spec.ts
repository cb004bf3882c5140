import { test as bareTest } from "@playwright/test";
import { expect, test } from "./pageTest";

test("the built page starts without a console message or a refused resource", async ({ page }) => {
  await page.goto("./");
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  await expect(page).toHaveTitle(/Quietarc/);
});

bareTest("a script written into the page is refused and reported", async ({ page }) => {
  await page.goto("./");
  const refused = await page.evaluate(async () => {
    const report = new Promise<string>((resolve) => {
      document.addEventListener("securitypolicyviolation", (event) => {
        resolve(event.effectiveDirective);
      });
    });
    const script = document.createElement("script");
    script.textContent = "document.title = 'it ran'";
    document.body.append(script);
    return report;
  });
  expect(refused).toBe("script-src-elem");
  await expect(page).not.toHaveTitle("it ran");
});
