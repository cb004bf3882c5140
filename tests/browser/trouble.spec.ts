/** What the page does where something is missing, and what it leaves for later. */
import { test as bareTest } from "@playwright/test";
import { BenchPage } from "./benchPage";
import { expect, test } from "./pageTest";

bareTest.use({ viewport: { width: 1024, height: 768 } });
test.use({ viewport: { width: 1024, height: 768 } });

// the browser itself reports the refused script on the console, so this test does not listen there
bareTest("a page that cannot start its worker says so in words", async ({ page }) => {
  await page.route("**/benchWorker*.js", (route) => route.abort());
  await page.goto("./");
  await expect(page.getByRole("alert")).toContainText(
    "The simulation could not be started in this browser. Open the page over http or https",
  );
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
});

bareTest("a link to a demonstration that is not there still gives a bench", async ({ page }) => {
  await page.route("**/projects/*.json", (route) => route.fulfill({ status: 404 }));
  await page.goto("./?show=quiet-arc");
  await expect(page.getByRole("status").getByText(/is not there/)).toBeVisible();
});

test("the full screen opens and closes, the frozen event is loaded when it is first opened, its tips go with Escape", async ({
  page,
}) => {
  const asked: string[] = [];
  page.on("request", (request) => asked.push(new URL(request.url()).pathname));
  const isChart = (path: string): boolean => /FrozenEvent[^/]*\.js$/.test(path);
  const bench = new BenchPage(page);
  await bench.open();
  const isFull = (): Promise<boolean> => page.evaluate(() => document.fullscreenElement !== null);
  await bench.fromMenu("More", "Full screen");
  await expect.poll(isFull).toBe(true);
  await bench.fromMenu("More", "Full screen");
  await expect.poll(isFull).toBe(false);

  await page.getByRole("button", { name: "Words on this sheet" }).click();
  const terms = page.getByRole("dialog", { name: "Words on this sheet" });
  await expect(terms.getByText("Early edge", { exact: true })).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(terms).toBeHidden();

  await bench.tripByInsect();
  expect(asked.filter(isChart)).toEqual([]);
  await bench.fromMenu("Project", "Frozen event");
  const frozen = page.getByRole("dialog", { name: "Frozen event" });
  await expect(frozen.getByText(/Cleared after [\d.]+\sms/)).toBeVisible();
  expect(asked.filter(isChart)).toHaveLength(1);
  await frozen.getByRole("combobox", { name: "Quantity" }).selectOption("Grid current");
  await expect(frozen.getByText(/^Grid current from the strike/)).toBeVisible();
  // a tip goes with Escape, which leaves the dialog open, and comes back with the pointer
  const chart = frozen.locator(".recharts-wrapper");
  const words = frozen.locator(".recharts-tooltip-wrapper");
  const middle = { position: { x: 420, y: 150 } };
  await chart.hover(middle);
  await expect(words).toHaveCSS("opacity", "1");
  await expect(words).toContainText("left alone");
  await page.keyboard.press("Escape");
  await expect(words).toHaveCSS("opacity", "0");
  await frozen.getByRole("heading", { name: "Frozen event" }).hover();
  await chart.hover(middle);
  await expect(words).toHaveCSS("opacity", "1");
  await page.keyboard.press("Escape");
  await frozen.getByText("Table", { exact: true }).click();
  await expect(frozen.getByRole("row")).not.toHaveCount(0);
  await page.keyboard.press("Escape");
  await expect(frozen).toHaveCount(0);
});
