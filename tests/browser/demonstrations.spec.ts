/**
 * The demonstrations, each opened by its link, run at 1 s a second without the lens, and judged by what the page says
 * in words. All strike at 1.00037 s.
 */
import type { Page } from "@playwright/test";
import { BenchPage, secondsOf } from "./benchPage";
import { expect, test } from "./pageTest";

/** What the picture of the race says of itself. */
async function verdict(bench: BenchPage): Promise<string> {
  return (await bench.raceImage.getAttribute("aria-label")) ?? "";
}

function ratioIn(text: string, pattern: RegExp): number {
  return Number(pattern.exec(text)?.[1] ?? Number.NaN);
}

/** What `act` does and asks while the page's pointer is a finger. */
async function underAFinger(page: Page, act: () => Promise<void>): Promise<void> {
  const client = await page.context().newCDPSession(page);
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: true });
  await act();
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: false });
}

// the hall's projector
test.use({ viewport: { width: 1024, height: 768 } });

test("quiet arc: low gain operates within milliseconds, an operator alone is too late", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open("./?show=quiet-arc");
  const line = bench.demonstrationLine("Quiet arc");
  await expect(line).toContainText("an insect bridges the tuning capacitor");
  await bench.runsPast(0.02, "strike");
  await bench.pause();

  await expect(bench.header).toContainText(/Trip low gain, \d\.\d\d\sms after the strike/);
  await expect(bench.raceImage).toHaveAccessibleName(
    /margin [\d.]+×.*an operator alone is [\d.]+× too late/,
  );
  const said = await verdict(bench);
  // 2 ms of confirmation on a 1 ms scan after a smoothed fall of about 1 ms: 2.9 to 4.0 ms over all scan phases
  const operateS = secondsOf(/Low gain operated ([^;]*)/.exec(said)?.[1] ?? "");
  expect(operateS).toBeGreaterThan(2.8e-3);
  expect(operateS).toBeLessThan(4.1e-3);
  expect(ratioIn(said, /margin ([\d.]+)×/), said).toBeGreaterThan(3); // the margin asked for
  await expect(line).toContainText("the grid needle fell");
  await expect(page.getByRole("heading", { name: /held at operate/i })).toBeVisible();
  // under the caution and the words of the demonstration the whole race is in sight, over the time bar
  await expect(page.getByRole("note").filter({ hasText: "kills" })).toBeVisible();
  const under = async (): Promise<number> => {
    const [race, bar] = [await bench.raceImage.boundingBox(), await bench.time.boundingBox()];
    return race === null || bar === null ? Number.NaN : race.y + race.height - bar.y;
  };
  for (const [width, height] of [
    [1280, 720],
    [1024, 768],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.evaluate(() => window.scrollTo(0, 0));
    await expect.poll(under, `${width} px`).toBeLessThanOrEqual(0);
  }
  // under a finger, too: while the caution stands, and with the demonstration's words once it is read
  await underAFinger(page, async () => {
    await expect.poll(under, "under a finger").toBeLessThanOrEqual(0);
    await expect(line).toBeHidden();
    await page.getByRole("button", { name: "Understood" }).click();
    await expect(line).toBeVisible();
    await expect.poll(under, "under a finger, caution read").toBeLessThanOrEqual(0);
  });
  // the rows of the race are in the panel, whatever came after them and whatever the sheet was before
  const panel = page.locator(".event-scroll");
  for (const row of [/Strike, tuning/, /Low gain pickup/, /Low gain operate/]) {
    const beyondPx = async (): Promise<number> => {
      const [all, box] = await Promise.all([
        panel.boundingBox(),
        bench.events.filter({ hasText: row }).boundingBox(),
      ]);
      if (box === null || all === null) return Number.NaN;
      return Math.max(all.y - box.y, box.y + box.height - all.y - all.height);
    };
    await expect.poll(beyondPx, String(row)).toBeLessThan(2);
  }
});

test("low gain only watching: it would have operated, nobody acts, a bead comes of it", async ({
  page,
}) => {
  const bench = new BenchPage(page);
  await bench.open("./?show=low-gain-in-shadow");
  const line = bench.demonstrationLine("Low gain only watching");
  await expect(line).toContainText("low gain may only watch");
  await bench.runsPast(0.03, "strike");
  await bench.pause();
  await expect(bench.raceImage).toHaveAccessibleName(
    /Low gain would have operated \d\.\d\d\sms after the strike, but is in shadow and never acts/,
  );
  await expect(bench.events.filter({ hasText: "Low gain shadow" })).toHaveCount(1);
  await expect(bench.header.getByText("Trip", { exact: true })).toHaveCount(0);
  // the run left alone goes on ahead of the play head: 2.5 s of an operator are ten times too late for 256 ms
  await expect(bench.events.filter({ hasText: "Left alone: a bead" })).toHaveCount(1);
  await expect(bench.raceImage).toHaveAccessibleName(/an operator alone is [\d.]+× too late/);
});

test("the wrong actuator: the contactor alone leaves a thin margin", async ({ page }) => {
  const bench = new BenchPage(page);
  await bench.open("./?show=contactor-alone");
  const line = bench.demonstrationLine("The wrong actuator");
  await expect(line).toContainText("opens the high-voltage contactor and nothing else");
  await bench.runsPast(0.3, "strike");
  await bench.pause();
  await expect(bench.header).toContainText("Trip low gain");
  // low gain first, then others as the grid takes the current the plate no longer draws
  await expect(bench.events.filter({ hasText: "Trip: contactor alone" })).not.toHaveCount(0);
  await expect(line).toContainText("Drive first, plate supply last");
  const said = await verdict(bench);
  const margin = ratioIn(said, /a thin margin of ([\d.]+)× where 3\.0× is asked for/);
  // 25 ms of contactor, then the filter capacitor feeds the arc for most of the 256 ms the edge lasts
  expect(margin, said).toBeGreaterThan(1);
  expect(margin, said).toBeLessThan(1.7);
});

test("antenna lost: low gain stays silent, others act", async ({ page }) => {
  const bench = new BenchPage(page);
  await bench.open("./?show=antenna-lost");
  const line = bench.demonstrationLine("Antenna lost while transmitting");
  await expect(line).toContainText("Will low gain see it?");
  await bench.runsPast(0.02, "strike");
  await bench.pause();
  await expect(bench.header).toContainText(/Trip plate RF overvoltage/i);
  await expect(bench.events.filter({ hasText: "Reflected power pickup" })).not.toHaveCount(0);
  await expect(bench.events.filter({ hasText: /^[^−]*Low gain (pickup|operate)/ })).toHaveCount(0);
  await expect(bench.raceImage).toHaveAccessibleName(
    // full gain is 13.7 dB; the open line takes less than 2 dB of the forward gain
    /low gain stays silent, forward gain still reads 1[2-3]\.\d\sdB/,
  );
});

for (const { link, title, trips } of [
  { link: "tune-up-in-operate-mode", title: "Why not shorter?", trips: true },
  { link: "tune-up-in-tune-mode", title: "Tuning up in tune mode", trips: false },
]) {
  test(`${title}: low gain ${trips ? "trips on ordinary use" : "only watches in tune mode"}`, async ({
    page,
  }) => {
    const bench = new BenchPage(page);
    await bench.open(`./?show=${link}`);
    await expect(bench.demonstrationLine(title)).toBeVisible();
    // key down at 0.5 s from 30 % off tune; low gain is armed 29 ms later and confirms for 2 ms
    await bench.runsPast(0.56, "start");
    await bench.pause();
    if (trips) {
      await expect(bench.header).toContainText("Trip low gain");
      await expect(bench.events.filter({ hasText: "Trip: drive, cathode" })).toHaveCount(1);
    } else {
      await expect(bench.header).toContainText("no pickup");
      await expect(bench.events.filter({ hasText: "would operate, never acts" })).toHaveCount(1);
      await expect(bench.events.filter({ hasText: "Trip:" })).toHaveCount(0);
    }
  });
}
