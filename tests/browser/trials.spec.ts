/** The trials screen as a designer uses it: a trial by keyboard, its result, a case on the bench; and what bars the way. */
import AxeBuilder from "@axe-core/playwright";
import type { Locator } from "@playwright/test";
import { BenchPage } from "./benchPage";
import { expect, test } from "./pageTest";
import { troubleOnPhone, widerBy } from "./reach";

/** Names of tables that run past the edge of the window; none has to be scrolled to be read. */
function cutNames(tables: Locator, widthPx: number): Promise<readonly string[]> {
  return tables.evaluateAll(
    (elements, width) =>
      (elements as HTMLTableElement[]).flatMap((table) => {
        const id = table.getAttribute("aria-labelledby") ?? "";
        const name = table.caption ?? document.getElementById(id);
        if (name === null) return ["a table has no name"];
        const words = document.createRange();
        words.selectNodeContents(name);
        const { left, right } = words.getBoundingClientRect();
        return left < 0 || right > width ? [name.textContent] : [];
      }),
    widthPx,
  );
}

test("a tolerance trial by keyboard, stopped and gone on with, and its worst unit on the bench", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await page.goto("./#trials");
  const kind = page.getByRole("radio", { name: "Coverage" });
  await kind.focus();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowDown");
  await expect(page.getByRole("radio", { name: "Tolerance" })).toBeChecked();
  await page.getByLabel("Units drawn").fill("60");
  await page.getByRole("button", { name: "Start" }).press("Enter");
  await page.getByRole("button", { name: "Cancel" }).press("Enter");
  const words = page.getByRole("region", { name: "What is asked" }).getByRole("status");
  await expect(words.first()).toHaveText(/^Partial: \d+ of \d+/);
  await page.getByRole("button", { name: "Resume" }).press("Enter");
  await expect(words.first()).toHaveText("Done: 60 of 60");

  const result = page.getByRole("region", { name: "What is known" });
  await expect(result).toContainText(
    /Insect in the gap, tuning capacitor: \d+ of \d+ units struck/,
  );
  await expect(
    result.getByRole("img", { name: /^Margin of \d+ units: half lie under/ }),
  ).toBeVisible();
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
  expect(violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")}`))).toEqual(
    [],
  );

  for (const [width, height] of [
    [1024, 768],
    [390, 844],
    [320, 700],
  ] as const) {
    await page.setViewportSize({ width, height });
    await expect.poll(() => widerBy(page), `pixels too wide at ${width}`).toBe(0);
    expect(await cutNames(result.getByRole("table"), width), `at ${width}`).toEqual([]);
  }
  expect(await troubleOnPhone(page)).toEqual([]);
  await result.getByRole("button", { name: "Open on the bench" }).first().press("Enter");
  await expect(page).toHaveURL(/#bench$/);
  // it stands where there is something to see
  await expect(bench.playHead).toHaveAttribute("aria-valuetext", /from the strike/);
  await expect(bench.time.getByRole("button", { name: "Run" })).toBeVisible();

  // the button goes with its press: the focus has another place
  await page.goto("./#trials");
  await page.getByRole("button", { name: "Put Skerry Light back on the bench" }).press("Enter");
  await expect(page.getByRole("heading", { name: "Trials" })).toBeFocused();
  await expect(page.getByRole("button", { name: /back on the bench$/ })).toHaveCount(0);
});
