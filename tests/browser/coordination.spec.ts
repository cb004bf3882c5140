/** The coordination screen by keyboard: a stress chosen, a point read, the margin said, nothing in the way of a reader. */
import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "./pageTest";
import { troubleOnPhone } from "./reach";

test("the arc at the tuning capacitor is chosen and read by keyboard, and its margin stated", async ({
  page,
}) => {
  await page.goto("./#coordination");
  const stress = page.getByRole("combobox", { name: "Stress" });
  await stress.focus();
  await stress.press("ArrowDown");
  await stress.press("ArrowUp");
  await expect(stress.locator("option:checked")).toHaveText("Arc at the tuning capacitor");
  const reader = page.getByRole("slider", { name: "Read at" });
  await expect(reader).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText("Points are still coming.")).toHaveCount(0, { timeout: 30_000 });

  // the part's own maintaining voltage first
  await expect(reader).toHaveAttribute("aria-valuetext", /^250\sV: Low gain clears in 4\.\d\d\sms/);
  await expect(reader).toHaveAttribute("aria-valuetext", /begins to melt after .*: margin \d+×/);
  await reader.focus();
  // nothing in the drawing is a stop between the reader and the table
  await reader.press("Shift+Tab");
  await expect(page.getByRole("button", { name: /: all points$/ })).toBeFocused();
  await page.keyboard.press("Tab");
  await expect(reader).toBeFocused();
  await reader.press("End");
  await expect(reader).toHaveAttribute("aria-valuetext", /^1\.00\skV: .*Required: 3\.0× and 5\.0×/);
  await reader.press("Home");
  await expect(reader).toHaveAttribute("aria-valuetext", /^50\.0\sV: Low gain clears/);

  // at the worst point the names of the curves are near: the margin's figure stands clear of them
  await page.getByRole("button", { name: "To the worst" }).press("Enter");
  await expect(reader).toHaveAttribute("aria-valuetext", /^400\sV: /);
  const figure = page.locator(".dimension-figure");
  await expect(figure).toHaveText("8.1×");
  const covered = await figure.evaluate((text) => {
    const a = text.getBoundingClientRect();
    return [...document.querySelectorAll(".damage-name, .operator-name")].flatMap((name) => {
      const b = name.getBoundingClientRect();
      const isApart =
        a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
      return isApart ? [] : [name.textContent];
    });
  });
  expect(covered).toEqual([]);
  await reader.press("Home");

  // the same beside the chart, and monitors that stay silent by name
  const table = page.getByRole("region", { name: /^Monitors at 50\.0/ });
  await expect(table.getByRole("row", { name: /^Low gain/ })).toContainText("ms");
  await expect(table.getByRole("row", { name: /^Reflected power/ })).toContainText(
    "does not operate",
  );

  // without low gain nothing is in time
  const lowGain = page.getByRole("checkbox", { name: /^Low gain/ });
  await lowGain.focus();
  await lowGain.press("Space");
  await expect(page.getByRole("row", { name: /^Low gain/ })).toHaveCount(0);
  await expect(reader).not.toHaveAttribute("aria-valuetext", /Low gain/);

  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
  expect(
    violations.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.target.join(" ")).join(", ")}`),
  ).toEqual([]);

  // on a phone letters stand for the names of the curves, each in the list under the chart
  expect(await troubleOnPhone(page)).toEqual([]);
  const letters = await page.locator(".damage-letter").allTextContents();
  expect(letters.length).toBeGreaterThan(2);
  await expect(page.locator(".damage-list b")).toHaveText(letters);

  // a screen that is left comes back as it was
  await page.goto("./#bench");
  await expect(stress).toBeHidden();
  await page.goto("./#coordination");
  await expect(reader).toHaveAttribute("aria-valuetext", /^50\.0\sV/);
});
