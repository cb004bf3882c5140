/** Steps, the look back and what may be done there. */
import { BenchPage } from "./benchPage";
import { expect, test } from "./pageTest";

test.use({ viewport: { width: 1024, height: 768 } });

/** The record counts whole nanoseconds: under one is the instant itself. */
const GRAIN_S = 1e-9;

test("one sample is 50 µs at every pace, forwards and back", async ({ page }) => {
  const bench = new BenchPage(page);
  await bench.open();
  const clock = (): Promise<string | null> => bench.playHead.getAttribute("aria-valuetext");
  const paces: string[] = [];
  // at the full sheet, where the scale stands between the record and the lens: its widest words leave "+" whole
  await page.setViewportSize({ width: 1440, height: 900 });
  const scale = page.locator(".time-pace");
  const paddingPx = await scale.evaluate((group) =>
    Number.parseFloat(getComputedStyle(group).paddingRight),
  );
  const roomPx = async (): Promise<number> => {
    const [group, plus] = await Promise.all([
      scale.boundingBox(),
      scale.getByRole("button", { name: "Faster" }).boundingBox(),
    ]);
    return group === null || plus === null
      ? Number.NaN
      : group.x + group.width - plus.x - plus.width;
  };
  for (let rung = 0; rung < 7; rung++) {
    paces.push((await bench.time.getByText(/1\ss on screen =/).textContent()) ?? "");
    await bench.time.getByRole("button", { name: "One sample" }).click();
    const said = rung === 0 ? "50.00 µs" : `${(50 * (rung + 1)).toFixed(1)} µs`;
    await expect.poll(clock).toBe(`${said}, paused, from the start`);
    expect(await roomPx()).toBeGreaterThanOrEqual(paddingPx - 0.5);
    if (rung < 6) await bench.slower(1);
  }
  expect(new Set(paces).size).toBe(7); // from 1 s down to 1 us, a decade a rung
  await expect(bench.time.getByRole("button", { name: "Slower" })).toBeDisabled();
  await page.keyboard.press("Escape");
  await bench.playHead.focus();
  await page.keyboard.press(",");
  await expect
    .poll(clock)
    .toMatch(/^300\.0 µs, from the start, 50\.0\sµs before the record's end$/);
  await page.keyboard.press(",");
  await expect.poll(clock).toMatch(/^250\.0 µs, from the start, 100\sµs before the record's end$/);
  const note = page.locator(".time-clock small");
  await expect(note).toHaveText(/^from the start, 100\sµs before the record's end$/);
  // the clock has its size whatever it says: its two lines of words have to be in it
  const beyondPx = (): Promise<number> =>
    page.locator(".time-clock").evaluate((clock) => {
      const box = clock.getBoundingClientRect();
      const over = [...clock.children].map((child) => {
        const { top, bottom, left, right } = child.getBoundingClientRect();
        return Math.max(box.top - top, bottom - box.bottom, box.left - left, right - box.right);
      });
      return Math.max(...over);
    });
  for (const [width, height, sheet] of [
    [1440, 900, /wide/],
    [1024, 768, /compact/],
  ] as const) {
    await page.setViewportSize({ width, height });
    await expect(bench.time).toHaveClass(sheet);
    await expect.poll(beyondPx, `${width} px`).toBeLessThan(0.5);
  }
  // the third sample step forward passes the end of the record and makes a new one
  for (let i = 0; i < 3; i++) await page.keyboard.press(".");
  await expect.poll(clock).toBe("400.0 µs, paused, from the start");
  // the bar is in sight wherever the page stands: from one of its parts to the next the page does not move
  await page.locator(".event-scroll").focus();
  await page.evaluate(() => window.scrollTo(0, 0));
  for (let k = 0; k < 6; k++) {
    await page.keyboard.press("Tab");
    const stands = await page.evaluate(() => ({
      isInBar: document.activeElement?.closest(".time") !== null,
      scrolledPx: window.scrollY,
    }));
    expect(stands).toEqual({ isInBar: true, scrolledPx: 0 });
  }
});

test("looking back: the offset stands there, a change is refused with the way out, a new run takes it", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open();
  await bench.tripByInsect();
  const live = bench.time.getByRole("button", { name: "Live" });
  await expect(live).toBeDisabled();

  // a drag that leaves the bar moves the play head and marks no words of the page
  const bar = await bench.playHead.boundingBox();
  if (bar === null) throw new Error("no play head");
  await page.mouse.move(bar.x + bar.width / 2, bar.y + 20);
  await page.mouse.down();
  await page.mouse.move(bar.x + bar.width / 4, bar.y - 300, { steps: 4 });
  await expect(page.getByText("Looking back")).toBeVisible();
  expect(await page.evaluate(() => getSelection()?.toString())).toBe("");
  await page.mouse.up();

  // to the start of the record by a key, and back to live
  await bench.playHead.focus();
  await page.keyboard.press("Home");
  const back = page.getByText("Looking back");
  const offset = bench.time.getByText(
    /^from the (start|strike), [\d.]+\s(ms|s) before the record's end$/,
  );
  await expect(back).toBeVisible();
  await expect(offset).toBeVisible();
  await expect(bench.playHead).toHaveAttribute("aria-valuetext", /before the record's end$/);
  await expect(bench.header.getByText("Trip", { exact: true })).toHaveCount(0);
  await live.click();
  await expect(offset).toHaveCount(0);
  await expect(bench.header.getByText("Trip", { exact: true })).toBeVisible();

  // by the sequence to the pickup, where the key is down and nothing has tripped yet
  await bench.events.filter({ hasText: "Low gain pickup" }).getByRole("button").click();
  await expect(offset).toBeVisible();
  await expect(bench.header.getByText("Pickup", { exact: true })).toBeVisible();
  await expect(bench.events.filter({ hasText: "Trip:" })).toHaveCount(0); // the list has followed the picture

  // by keys from event to event: what came before the strike, the strike, and the first pickup after it
  const struck = bench.events.filter({ hasText: "Strike, tuning capacitor" });
  const offStrikeS = async () => Math.abs(await bench.shownS());
  await struck.getByRole("button").click();
  await expect.poll(offStrikeS).toBeLessThan(GRAIN_S);
  await page.keyboard.press("p");
  await expect(struck).toHaveCount(0);
  await page.keyboard.press("n");
  await expect(struck).toHaveCount(1);
  await expect.poll(offStrikeS).toBeLessThan(GRAIN_S);
  await page.keyboard.press("n");
  await expect(bench.header.getByText("Pickup", { exact: true })).toBeVisible();
  // the list is drawn less often than the header: the pickup stands in it once it has followed
  await expect(bench.events.filter({ hasText: " pickup, " }).first()).toBeVisible();
  // what has happened; rows of the run left alone may still come in ahead of it
  const happened = bench.events.filter({ has: page.getByRole("button", { name: /^Go to/ }) });
  const listed = await happened.allTextContents();
  await bench.segment("Key", "Key up").click();
  const refused = page.getByText(/You are looking at the past/);
  await expect(refused).toContainText("start a new run from here, or go back to live");
  expect(await happened.allTextContents()).toEqual(listed);
  await expect(page.getByRole("radio", { name: "Key down" })).toBeChecked();
  // where the sequence stands beside the race, the line of words does not lie over it
  await page.setViewportSize({ width: 1440, height: 900 });
  const coveredPx = async (): Promise<number> => {
    const [list, line] = await Promise.all([
      page.locator(".event-scroll").boundingBox(),
      page.locator(".message.refusal").boundingBox(),
    ]);
    return list === null || line === null ? Number.NaN : list.y + list.height - line.y;
  };
  await expect.poll(coveredPx).toBeLessThanOrEqual(0);
  await page.setViewportSize({ width: 1024, height: 768 });

  // the same change as the first act of a new run: what was before the pickup stays, the key opens at it
  await page.getByRole("button", { name: "New run with this change" }).click();
  await expect(back).toHaveCount(0);
  await expect(page.getByRole("radio", { name: "Key up" })).toBeChecked();
  await expect(live).toBeDisabled();
  await expect(bench.events.filter({ hasText: /Key up|Trip:/ })).toHaveText([/Key up/]);
  await expect(bench.events.filter({ hasText: "Strike, tuning capacitor" })).toHaveCount(1);
  await bench.time.getByRole("button", { name: "Run" }).click();
  await expect(bench.events.filter({ hasText: "Fault cleared" })).toHaveCount(1);
});

test("a new run from the instant of a command keeps that command", async ({ page }) => {
  const bench = new BenchPage(page);
  await bench.open();
  await bench.tripByInsect();
  const placed = bench.events.filter({ hasText: "Insect in the gap placed" });
  await placed.getByRole("button").click();
  const back = page.getByText("Looking back");
  await expect(back).toBeVisible();
  await expect(bench.events.filter({ hasText: "Trip:" })).toHaveCount(0); // the list has followed the picture
  await page.getByRole("button", { name: "New run from here" }).click();
  await expect(back).toHaveCount(0);
  await expect(bench.events.filter({ hasText: "Trip:" })).toHaveCount(0);
  await bench.time.getByRole("button", { name: "Run" }).click();
  await expect(bench.header.getByText("Trip", { exact: true })).toBeVisible();
  await expect(placed).toHaveCount(1);
});
