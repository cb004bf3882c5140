/** The trials screen as a designer uses it: a trial by keyboard, its result, a case on the bench; and what bars the way. */
import AxeBuilder from "@axe-core/playwright";
import { BenchPage } from "./benchPage";
import { expect, test } from "./pageTest";
import { troubleOnPhone } from "./reach";

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
