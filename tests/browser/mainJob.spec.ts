/**
 * The main job, as somebody does it who has never seen the bench: key down, an insect on its part, the trip, the held
 * readings, acknowledge (which is not a reset), reset. By mouse, and there once more; by keyboard alone; by touch.
 */
import type { Locator, Page } from "@playwright/test";
import { BenchPage } from "./benchPage";
import { expect, test } from "./pageTest";
import { smallTargets, widerBy } from "./reach";

function stateWord(bench: BenchPage, word: string): Locator {
  return bench.header.getByText(word, { exact: true });
}

/** Why the key does nothing, said among the controls. */
function keyHint(bench: BenchPage): Locator {
  return bench.page
    .getByRole("region", { name: "Controls and faults" })
    .getByText(/drive inhibited/);
}

/** Presses Tab, or Shift and Tab, until what has focus is the control looked for. */
async function tabTo(page: Page, target: Locator, keys = "Tab"): Promise<void> {
  const isThere = (): Promise<boolean> =>
    target.evaluate((element) => element === document.activeElement);
  for (let presses = 0; presses < 120; presses++) {
    if (await isThere()) return;
    await page.keyboard.press(keys);
  }
  throw new Error(`the Tab key does not reach ${target}`);
}

test("by mouse", async ({ page }) => {
  const bench = new BenchPage(page);
  await bench.open();
  await bench.slower(1); // 100 ms a second
  const caution = page.getByRole("note").filter({ hasText: "kills" });
  await caution.getByRole("button", { name: "Understood" }).click();
  await expect(caution).toHaveCount(0);

  // normal first: 1.45 kW out at 13.7 dB of forward gain
  await bench.segment("Key", "Key down").click();
  const output = page.getByRole("meter", { name: "Output" });
  await expect(output).toHaveAttribute("aria-valuetext", /^1\.4\d kilowatt/);
  await expect(bench.events.filter({ hasText: "Low gain armed" })).toHaveCount(1);
  const grid = page.getByRole("meter", { name: "Grid current" });
  const gridBefore = Number(await grid.getAttribute("aria-valuenow"));

  await page.getByRole("button", { name: "Insect, tuning capacitor: place" }).click();
  await expect(stateWord(bench, "Trip")).toBeVisible();
  await expect(bench.header).toContainText("low gain");
  await expect(page.getByRole("heading", { name: /held at operate, \d/i })).toBeVisible();
  // the arc is quiet: no current rises, the grid current falls
  const gridHeld = Number(await grid.getAttribute("aria-valuenow"));
  expect(gridHeld).toBeLessThan(gridBefore);
  await expect(page.getByRole("meter", { name: "Forward gain" })).toHaveAttribute(
    "aria-valuetext",
    /state (trip|operate)/,
  );

  await bench.header.getByRole("button", { name: "Acknowledge" }).click();
  await expect(stateWord(bench, "Acknowledged")).toBeVisible();
  await expect(bench.header.getByRole("button", { name: "Acknowledge" })).toHaveCount(0);
  await expect(keyHint(bench)).toBeVisible();

  // with the key down the arc would strike again at once, and a second trip inside 60 s locks out
  await bench.segment("Key", "Key up").click();
  await bench.header.getByRole("button", { name: "Reset" }).click();
  await expect(stateWord(bench, "Acknowledged")).toHaveCount(0);
  await expect(keyHint(bench)).toHaveCount(0);

  await bench.faster(1);
  await page.getByRole("button", { name: "Strike again" }).first().click();
  const strikes = bench.events.filter({ hasText: "Strike, tuning capacitor" });
  await expect(strikes).toHaveCount(2);
  await expect(stateWord(bench, "Lockout").or(stateWord(bench, "Trip"))).toBeVisible();
});

test.describe("on the hall's projector", () => {
  test.use({ viewport: { width: 1024, height: 768 } });

  test("by keyboard alone", async ({ page }) => {
    const bench = new BenchPage(page);
    await page.goto("./");
    const { keyboard } = page;
    const lens = page.getByRole("checkbox", { name: /Time lens/ });
    await tabTo(page, lens, "Shift+Tab"); // the time bar ends the page
    await keyboard.press("Space");
    await expect(lens).not.toBeChecked();
    await keyboard.press("s"); // slower: 100 ms a second
    await expect(bench.time.getByText(/1\ss on screen = 100\sms/)).toBeVisible();

    await tabTo(page, page.getByRole("radio", { name: "Key up" }));
    await keyboard.press("ArrowRight");
    await expect(page.getByRole("radio", { name: "Key down" })).toBeChecked();
    await expect(bench.events.filter({ hasText: "Low gain armed" })).toHaveCount(1);
    await keyboard.press("f");
    await expect(stateWord(bench, "Trip")).toBeVisible();
    await expect(page.getByRole("radio", { name: "Key down" })).toBeFocused(); // a trip takes no focus
    await expect(page.getByRole("heading", { name: /held at operate/i })).toBeVisible();
    await keyboard.press("a");
    await expect(stateWord(bench, "Acknowledged")).toBeVisible();
    await expect(keyHint(bench)).toBeVisible();
    await keyboard.press("k"); // key up
    await expect(page.getByRole("radio", { name: "Key up" })).toBeChecked();
    await keyboard.press("r");
    await expect(stateWord(bench, "Acknowledged")).toHaveCount(0);
  });
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 360, height: 640 }, hasTouch: true, isMobile: true });

  test("by touch on 360 by 640 px, nothing wider than the sheet down to 320 px", async ({
    page,
  }) => {
    const bench = new BenchPage(page);
    await page.goto("./");
    await page.getByRole("button", { name: "Understood" }).tap();
    const faultsLink = bench.header.getByRole("button", { name: "Faults" });
    const faults = page.getByRole("heading", { name: "Faults" });
    await expect(faults).toBeVisible(); // the list comes with the bench, after the header
    await faultsLink.tap();
    await expect(faults).toBeFocused();
    await expect(faults).toBeInViewport();
    await expect(page.getByRole("button", { name: /^Insect/ }).last()).toBeInViewport();
    await page.getByRole("radio", { name: "Key down" }).tap();
    await expect(bench.events.filter({ hasText: "Low gain armed" })).toHaveCount(1);
    expect(await widerBy(page)).toBe(0);
    const place = page.getByRole("button", { name: /^Insect/ }).first();
    await place.tap();
    await expect(stateWord(bench, "Trip")).toBeVisible();
    await expect(bench.raceImage).toHaveAccessibleName(/Low gain operated \d\.\d\d\sms/);
    await bench.header.getByRole("button", { name: "Acknowledge" }).tap();
    await expect(stateWord(bench, "Acknowledged")).toBeVisible();
    const reset = bench.header.getByRole("button", { name: "Reset" });
    await expect(reset).toBeVisible();
    expect(await smallTargets(page, 24)).toEqual([]);
    // 44 px both ways: what a finger hits without looking (WCAG 2.2, 2.5.5)
    for (const button of [
      ...(await bench.time
        .getByRole("button", { name: /^(Run|Pause|One scan|Strike again)$/ })
        .all()),
      ...(await page.getByRole("button", { name: /^(Drive|Tuning|Loading) (up|down)$/ }).all()),
      bench.events.getByRole("button", { name: /^Go to/ }).last(),
      reset,
      place,
      faultsLink,
    ]) {
      const box = await button.boundingBox();
      expect(Math.min(box?.height ?? 0, box?.width ?? 0), `${button}`).toBeGreaterThanOrEqual(44);
    }
    // with the trip and its two buttons in the header, too
    await page.setViewportSize({ width: 320, height: 640 });
    await expect.poll(() => widerBy(page)).toBe(0);
    await page.getByRole("radio", { name: "Key up" }).tap();
    await reset.tap();
    await expect(stateWord(bench, "Acknowledged")).toHaveCount(0);
    expect(await widerBy(page)).toBe(0);
    // looking back the way to live stands in the bar, where nothing can be struck then, and over no figure
    const strike = bench.time.getByRole("button", { name: "Strike again" });
    const live = bench.time.getByRole("button", { name: "Live", exact: true });
    await expect(strike).toBeVisible();
    await page.getByRole("button", { name: "Previous event" }).tap();
    await expect(strike).toBeHidden();
    const [bar, way] = [await bench.time.boundingBox(), await live.boundingBox()];
    expect(way?.y ?? 0).toBeGreaterThanOrEqual(bar?.y ?? Number.NaN);
    await live.tap();
    await expect(strike).toBeVisible();
  });
});
