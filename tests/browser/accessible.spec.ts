/** What a reader of the screen, and somebody who bears no motion, finds: names, contrast, meters, words for blinking. */
import AxeBuilder from "@axe-core/playwright";
import type { Locator, Page } from "@playwright/test";
import { BenchPage } from "./benchPage";
import { markPictures, pixelsApart } from "./greyMarks";
import { expect, test } from "./pageTest";
import { coveredWhenFocused, smallTargets, widerBy } from "./reach";

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

/**
 * Every two state marks differ in shape, seen without colour and with a third of the contrast, as on a projector in a
 * bright room. How much is a proposal: 24 of 144 pixels by a tenth of what is left between black and white.
 */
async function marksStayApart(dialog: Locator): Promise<void> {
  const marks = await markPictures(dialog.locator(".state-label"));
  expect(marks.length).toBe(12); // state words of the list
  const pairs = marks.flatMap((one, k) =>
    marks.slice(k).map((other) => ({
      words: `${one.word}, ${other.word}`,
      apart: pixelsApart(one, other, 0.1),
    })),
  );
  // each mark is like itself and no other
  const alike = pairs.filter(({ apart }) => apart < 24).map(({ words }) => words);
  expect(alike).toEqual(marks.map(({ word }) => `${word}, ${word}`));
}

const DIALOGS = [
  { menu: "", item: "Set monitors", title: "Monitors" },
  { menu: "More", item: "Settings and keys", title: "Settings and keys" },
  { menu: "Project", item: "Frozen event", title: "Frozen event" },
  { menu: "More", item: "Model notes", title: "Model notes" },
] as const;

/** What a hall has to see at once, and does not: parts that end under the time bar or beyond the window. */
async function outOfSight(bench: BenchPage): Promise<readonly string[]> {
  const { page } = bench;
  const bar = await bench.time.boundingBox();
  const window = page.viewportSize();
  if (bar === null || window === null) throw new Error("no time bar");
  const parts = [
    bench.raceImage,
    ...(await page.getByRole("meter").all()),
    bench.header.getByText("Trip", { exact: true }),
    bench.header.getByRole("button", { name: "Acknowledge" }),
    bench.header.getByRole("button", { name: /^Reset/ }),
  ];
  const hidden: string[] = [];
  for (const part of parts) {
    const box = await part.boundingBox();
    if (box === null) continue; // not on this sheet
    const isIn = box.y >= 0 && box.y + box.height <= bar.y && box.x + box.width <= window.width;
    if (!isIn) hidden.push(`${part}: ${JSON.stringify(box)}, bar at ${bar.y}`);
  }
  const fault = await bench.time.getByRole("button", { name: "Strike again" }).boundingBox();
  if (fault === null || fault.y + fault.height > window.height) hidden.push("the fault button");
  return hidden;
}

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
      if (projector) {
        // with the caution still on the sheet, nobody in the hall has to scroll
        await expect(page.getByRole("note").filter({ hasText: "kills" })).toBeVisible();
        for (const [width, height] of [
          [1024, 768],
          [1280, 720],
        ] as const) {
          await page.setViewportSize({ width, height });
          const scroll = (): Promise<number> =>
            page.evaluate(() => document.documentElement.scrollHeight - window.innerHeight);
          await expect.poll(scroll).toBe(0);
          await expect.poll(() => outOfSight(bench), `${width} px`).toEqual([]);
          expect(await smallTargets(page, 24)).toEqual([]);
        }
      }
      // the dialogs have the same roles and names on every sheet; contrast.test.ts compares the sheets' colours
      if (sheet !== "light") return;
      for (const { menu, item, title } of DIALOGS) {
        if (menu === "") await page.getByRole("button", { name: item, exact: true }).click();
        else await bench.fromMenu(menu, item);
        const dialog = page.getByRole("dialog", { name: title });
        await expect(dialog).toBeVisible();
        expect(await violations(page, OPEN_DIALOG), title).toEqual([]);
        if (item === "Settings and keys") await marksStayApart(dialog);
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

/** How many corners of a box are to be seen, a little inside its edge. */
function cornersSeen(box: Element): number {
  const { left, right, top, bottom } = box.getBoundingClientRect();
  const corners = [left + 4, right - 4].flatMap((x) => [top + 4, bottom - 4].map((y) => [x, y]));
  return corners.filter(([x = 0, y = 0]) => box.contains(document.elementFromPoint(x, y))).length;
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
  await expect(page.getByText("needles within 2.5 % of full scale (class 2.5)")).toBeVisible();

  // figures that move are not read out by themselves: only messages and events stand in live regions
  const LIVE = "[aria-live]:not([aria-live=off]), [role=status], [role=alert], [role=log], output";
  const figures = page.locator("[role=meter], [role=slider], .side-readings, .time-clock");
  expect(
    await figures.evaluateAll((all, live) => all.filter((e) => e.closest(live)), LIVE),
  ).toEqual([]);

  // whatever can be dragged has buttons, and a field or steps, for whoever cannot drag
  const dragged = ["Play head in the record", "Drive", "Tuning", "Loading"];
  await expect(page.getByRole("slider")).toHaveCount(dragged.length);
  for (const name of dragged) {
    await expect(page.getByRole("slider", { name, exact: true })).toBeVisible();
    if (name.startsWith("Play head")) {
      for (const step of ["One sample", "One scan", "Previous event", "Next event", "Live"])
        await expect(bench.time.getByRole("button", { name: step })).toBeVisible();
      continue;
    }
    for (const way of ["up", "down"])
      await expect(page.getByRole("button", { name: `${name} ${way}` })).toBeVisible();
    await expect(page.getByRole("textbox", { name })).toBeVisible();
  }

  // a value out of range is refused in words that nothing lies over and that lie over nothing
  const drive = page.getByRole("textbox", { name: "Drive, W" });
  await drive.fill("500");
  await drive.press("Enter");
  const refused = page.getByRole("alert").filter({ hasText: "outside" });
  expect(await refused.evaluate(cornersSeen)).toBe(4);
  const said = await refused.boundingBox();
  const slider = await page.getByRole("slider", { name: "Drive", exact: true }).boundingBox();
  expect((said?.y ?? 0) + (said?.height ?? 0)).toBeLessThanOrEqual(slider?.y ?? 0);
  await drive.press("Escape");

  // the search among the faults is typed into at once, and Escape goes back to where one was
  const opener = page.getByRole("button", { name: /What each fault does/ });
  await opener.click();
  await expect(page.getByRole("textbox", { name: /Show those that speak of/ })).toBeFocused();
  await page.keyboard.type("bleeder");
  await expect(page.getByText(/^[1-9] of \d\d faults$/)).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(opener).toBeFocused();
});

test("at every width the focus is in sight, a target can be hit, and nothing is beyond the sheet", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open();
  await bench.tripByInsect();
  for (const [width, height] of [
    [1280, 720],
    [1024, 768],
    [768, 1024],
    [320, 640], // 1280 px at 400 %
  ] as const) {
    await page.setViewportSize({ width, height });
    await expect.poll(() => widerBy(page), `${width} px`).toBe(0);
    expect(await smallTargets(page, 24), `${width} px`).toEqual([]);
    expect(await coveredWhenFocused(page), `${width} px`).toEqual([]);
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
