/** What a reader of the screen, and somebody who bears no motion, finds: names, contrast, meters, words for blinking. */
import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { BenchPage } from "./benchPage";
import { expect, test } from "./pageTest";

/** Violations in a part of the page, each with the place where it is; an empty list is the only right answer. */
async function violations(page: Page, part = "html"): Promise<readonly string[]> {
  const axe = new AxeBuilder({ page }).setLegacyMode(true).include(part);
  const { violations: found } = await axe.analyze();
  return found.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.target.join(" ")}: ${node.failureSummary ?? ""}`),
  );
}

/** What is behind an open dialog can neither be reached nor read, and has been looked at before. */
const OPEN_DIALOG = "dialog[open]";

const DIALOGS = [
  { menu: "", item: "Set monitors", title: "Monitors" },
  { menu: "More", item: "Settings and keys", title: "Settings and keys" },
  { menu: "Project", item: "Frozen event", title: "Frozen event" },
  { menu: "More", item: "Model notes", title: "Model notes" },
] as const;

for (const { theme, projector } of [
  { theme: "light", projector: false },
  { theme: "dark", projector: false },
  { theme: "light", projector: true },
] as const) {
  const sheet = projector ? "projector" : theme;
  test.describe(`${sheet} sheet`, () => {
    test.use({ colorScheme: theme });

    test(`nothing bars the way: ${sheet}`, async ({ page }) => {
      const bench = new BenchPage(page);
      await bench.open();
      if (!projector) expect(await violations(page), "at rest").toEqual([]);
      await bench.tripByInsect();
      if (projector) {
        await bench.fromMenu("More", "Settings and keys");
        await page.getByRole("checkbox", { name: /^Projector/ }).check();
        await page.keyboard.press("Escape");
        await expect(bench.time.getByRole("button", { name: "One sample" })).toHaveCount(0);
      }
      expect(await violations(page), "struck").toEqual([]);
      // the dialogs have the same roles and names on every sheet; contrast.test.ts compares the sheets' colours
      if (sheet !== "light") return;
      for (const { menu, item, title } of DIALOGS) {
        if (menu === "") await page.getByRole("button", { name: item, exact: true }).click();
        else await bench.fromMenu(menu, item);
        const dialog = page.getByRole("dialog", { name: title });
        await expect(dialog).toBeVisible();
        expect(await violations(page, OPEN_DIALOG), title).toEqual([]);
        await page.keyboard.press("Escape");
        await expect(dialog).toHaveCount(0);
      }
      await page
        .getByRole("button", { name: /: place, opens a caution first$/ })
        .first()
        .click();
      const caution = page.getByRole("dialog", { name: /^Never by hand/ });
      await expect(caution).toBeVisible();
      expect(await violations(page, OPEN_DIALOG), "caution").toEqual([]);
      await caution.getByRole("button", { name: "Leave it" }).click();
      await expect(caution).toHaveCount(0);
    });
  });
}

test("every meter has a name, its ends, where it stands, and that in words", async ({ page }) => {
  const bench = new BenchPage(page);
  await bench.open();
  await expect(page.getByRole("meter")).toHaveCount(6);
  for (const meter of await page.getByRole("meter").all()) {
    await expect(meter).toHaveAccessibleName(/\w/);
    const value = async (name: string): Promise<string> =>
      (await meter.getAttribute(`aria-value${name}`)) ?? "";
    const [least, most, now] = [await value("min"), await value("max"), await value("now")];
    for (const number of [least, most, now]) expect(number).toMatch(/^-?\d+(\.\d+)?(e-?\d+)?$/);
    expect(Number(now)).toBeGreaterThanOrEqual(Number(least));
    expect(Number(now)).toBeLessThanOrEqual(Number(most));
    expect(await value("text")).toMatch(/(pickup at|no pickup set|no reading)/);
  }
});

test.describe("on the hall's projector", () => {
  test.use({ viewport: { width: 1024, height: 768 } });

  test("where motion is unwelcome nothing blinks, and the word new stands there", async ({
    page,
  }) => {
    const bench = new BenchPage(page);
    await bench.open();
    await bench.tripByInsect();
    const endless = (): Promise<number> =>
      page.evaluate(
        () =>
          document
            .getAnimations()
            .filter((a) => a.effect?.getComputedTiming().iterations === Number.POSITIVE_INFINITY)
            .length,
      );
    const word = bench.events.getByText("new", { exact: true });
    await bench.time.getByRole("button", { name: "Run" }).click(); // while time stands nothing moves at all
    // with motion a new trip blinks, and the shape alone says it
    await expect.poll(endless).toBeGreaterThan(0);
    await expect(word).toBeHidden();

    await page.emulateMedia({ reducedMotion: "reduce" });
    await expect.poll(endless).toBe(0);
    await expect(word).toBeVisible();

    // the page's own setting says the same where the browser says nothing
    await page.emulateMedia({ reducedMotion: "no-preference" });
    await expect.poll(endless).toBeGreaterThan(0);
    await bench.fromMenu("More", "Settings and keys");
    await page.getByRole("combobox", { name: "Motion" }).selectOption("reduced");
    await page.keyboard.press("Escape");
    await expect.poll(endless).toBe(0);
    await expect(word).toBeVisible();

    // once it has been seen, it is not new
    await bench.header.getByRole("button", { name: "Acknowledge" }).click();
    await expect(word).toHaveCount(0);
  });
});
