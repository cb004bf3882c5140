/** The station screen as a designer uses it: by keyboard, from values to a working point, to the bench and back. */
import AxeBuilder from "@axe-core/playwright";
import type { Locator, Page } from "@playwright/test";
import { expect, test } from "./pageTest";
import { troubleOnPhone } from "./reach";

/** What a loaded machine is allowed; on one of its own the working point is there within 100 ms. */
const BOUND_MS = 1000;
const POINT = "quietarc-working-point";

async function openStation(page: Page): Promise<void> {
  await page.goto("./#station");
  await expect(reading(page, "Output")).toHaveText(/\d/);
}

function reading(page: Page, name: string): Locator {
  const point = page.getByRole("region", { name: "Operating point", exact: true });
  return point.locator("div", { has: page.getByText(name, { exact: true }) }).locator("dd");
}

/** The section's heading is pressed where it is still shut. */
async function openSection(page: Page, title: string): Promise<Locator> {
  const section = page.locator("details", {
    has: page.getByRole("heading", { name: title, exact: true }),
  });
  if ((await section.getAttribute("open")) === null) {
    await section.locator("summary").focus();
    await page.keyboard.press("Enter");
  }
  return section;
}

async function type(section: Locator, label: string, typed: string): Promise<void> {
  const field = section.getByRole("textbox", { name: label, exact: true });
  await field.focus();
  await field.press("Control+a");
  await field.pressSequentially(typed);
}

async function choose(section: Locator, label: string, word: string): Promise<void> {
  const select = section.getByRole("combobox", { name: label, exact: true });
  await select.focus();
  const words = (await select.locator("option").allTextContents()).map((w) => w.trim());
  const now = await select.evaluate((element) => (element as HTMLSelectElement).selectedIndex);
  const steps = words.findIndex((w) => w.startsWith(word)) - now;
  for (let k = 0; k < Math.abs(steps); k++) {
    await select.press(steps > 0 ? "ArrowDown" : "ArrowUp");
  }
  await expect(select.locator("option:checked")).toHaveText(new RegExp(`^\\s*${word}`));
}

/** Milliseconds from the last keystroke to the working point it led to, by the page's own clock. */
async function pointMs(page: Page): Promise<number> {
  await page.waitForFunction((name) => performance.getEntriesByName(name).length > 0, POINT);
  return page.evaluate((name) => performance.getEntriesByName(name)[0]?.duration ?? -1, POINT);
}

const SHEETS = [
  ["light", 1440, 900],
  ["dark", 1024, 768],
  ["light", 390, 844],
  ["light", 320, 640],
] as const;

interface Design {
  readonly name: string;
  readonly band: string;
  readonly tube: string;
  readonly count: string;
  readonly biasV: string;
  readonly supplyV: string;
  readonly loadOhm: string;
  readonly driveW: string;
  /** Output it is meant for; a design, so within a third. */
  readonly outputW: number;
}

/** Plate loads from the tubes' columns of typical operation in the register, shared by their count. */
const DESIGNS: readonly Design[] = [
  {
    name: "600 W, one 3-500Z on 80 m",
    band: "80 m",
    tube: "3-500Z",
    count: "1",
    biasV: "0",
    supplyV: "2,6k",
    loadOhm: "3450",
    driveW: "35",
    outputW: 600,
  },
  {
    name: "1 kW, two 3-500Z on 40 m",
    band: "40 m",
    tube: "3-500Z",
    count: "2",
    biasV: "0",
    supplyV: "2700",
    loadOhm: "1725",
    driveW: "60",
    outputW: 1000,
  },
  {
    name: "1.5 kW, one 8877 on 10 m",
    band: "10 m",
    tube: "8877",
    count: "1",
    biasV: "8.2",
    supplyV: "3.2 kV",
    loadOhm: "2000",
    driveW: "50",
    outputW: 1500,
  },
];

async function enter(page: Page, design: Design): Promise<void> {
  await choose(await openSection(page, "Frequency and band"), "Band", design.band);
  const tube = await openSection(page, "Tube");
  await choose(tube, "Type", design.tube);
  await expect(tube.getByText("typical, unverified")).toBeVisible();
  await type(tube, "Tubes in parallel", design.count);
  await type(await openSection(page, "Bias"), "Cathode bias", design.biasV);
  await type(await openSection(page, "Supply"), "Plate voltage, no load", design.supplyV);
  const tank = await openSection(page, "Tank");
  await choose(tank, "Kind", "pi, designed");
  await type(tank, "Plate load", design.loadOhm);
  await choose(tank, "Kind", "pi, explicit values");
  await expect(tank.getByRole("textbox", { name: "Coil", exact: true })).toHaveValue(/\d/);
  const exciter = await openSection(page, "Exciter");
  await page.evaluate((name) => performance.clearMeasures(name), POINT);
  await type(exciter, "Full drive", design.driveW);
}

test("explicit amplifiers of three classes, by keyboard, each with its working point at once", async ({
  page,
}) => {
  await openStation(page);
  for (const design of DESIGNS) {
    await enter(page, design);
    const ms = await pointMs(page);
    if (process.env.QUIETARC_PRINT) console.log(design.name, `${ms.toFixed(1)} ms`);
    expect(ms, design.name).toBeGreaterThan(0);
    expect(ms, design.name).toBeLessThan(BOUND_MS);
    const output = (await reading(page, "Output").textContent()) ?? "";
    const watts = Number.parseFloat(output) * (output.includes("kW") ? 1000 : 1);
    expect(watts, `${design.name}: ${output}`).toBeGreaterThan(design.outputW * 0.67);
    expect(watts, `${design.name}: ${output}`).toBeLessThan(design.outputW * 1.33);
  }
});

test("steps are undone and done again by key, and what cannot be read stays with its remedy", async ({
  page,
}) => {
  await openStation(page);
  const supply = await openSection(page, "Supply");
  const field = supply.getByRole("textbox", { name: "Plate voltage, no load" });
  await type(supply, "Plate voltage, no load", "3300");
  await page.keyboard.press("Tab");
  await expect(page.getByRole("button", { name: /^Undo: .*3180\sV to 3300\sV$/ })).toBeEnabled();
  await page.keyboard.press("Control+z");
  await expect(field).toHaveValue("3180");
  await page.keyboard.press("Control+Shift+z");
  await expect(field).toHaveValue("3300");
  await type(supply, "Plate voltage, no load", "1,234");
  await page.keyboard.press("Tab");
  await expect(supply.getByRole("alert")).toContainText("can be read in two ways");
  await expect(field).toHaveValue("1,234");
  await type(supply, "Plate voltage, no load", "30 kV");
  await expect(supply.getByRole("alert")).toContainText("outside its range");
  await field.press("Escape");
  await expect(field).toHaveValue("3300");
  await expect(supply.getByRole("alert")).toHaveCount(0);
});

test("a station goes to the bench and the bench is kept while another screen is open", async ({
  page,
}) => {
  await page.goto("./");
  await expect(page.getByRole("region", { name: "Controls and faults" })).toBeVisible();
  await page.getByRole("link", { name: "Station" }).focus();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { name: "Station", exact: true })).toBeFocused();
  await expect(page.getByText("The bench runs this station.")).toBeVisible();
  await type(await openSection(page, "Frequency and band"), "Carrier frequency", "14,05");
  await page.getByRole("link", { name: "Bench" }).click();
  await expect(page.getByRole("heading", { name: "Bench", exact: true })).toBeFocused();
  await expect(page.getByRole("banner")).toContainText("14.2");
  await page.getByRole("link", { name: "Station" }).click();
  const box = page.getByRole("textbox", { name: "Carrier frequency" });
  await expect(box).toHaveValue("14.05"); // what was typed is kept too
  await page.getByRole("button", { name: "Take this station to the bench" }).click();
  await expect(page.getByRole("heading", { name: "Bench", exact: true })).toBeFocused();
  await expect(page.getByRole("banner")).toContainText(/14\.(05|1)/);
});

test("a tube of one's own is fitted, judged and used, and nothing bars the way", async ({
  page,
}) => {
  await openStation(page);
  const tube = await openSection(page, "Tube");
  await tube.getByRole("button", { name: /^Fit a tube/ }).click();
  const sheet = page.getByRole("dialog", { name: "Fit a tube to its data sheet" });
  await sheet.getByRole("combobox", { name: "Begin with" }).selectOption("8877");
  await sheet.getByRole("button", { name: "Fit", exact: true }).click();
  await expect(sheet.getByRole("heading", { name: "The law" })).toBeVisible();
  await expect(sheet.getByRole("rowheader", { name: "2" }).first()).toBeVisible();
  await sheet.getByRole("button", { name: "Use this tube" }).click();
  await expect(sheet).toHaveCount(0);
  await expect(tube.getByRole("textbox", { name: "Name" })).toHaveValue("8877, own fit");

  const beyond = (): Promise<number> =>
    page.evaluate(() => {
      const root = document.scrollingElement ?? document.documentElement;
      return root.scrollWidth - root.clientWidth;
    });
  await expect(page.getByRole("img", { name: /^Grid current round/ })).toBeVisible();
  for (const [colorScheme, width, height] of SHEETS) {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    await expect.poll(beyond).toBe(0);
    if (width === 320) continue;
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
    const found = violations.flatMap(({ id, nodes }) =>
      nodes.map((n) => `${id}: ${n.target.join(" ")}: ${n.failureSummary ?? ""}`),
    );
    expect(found, `${colorScheme}, ${width} wide`).toEqual([]);
  }
  expect(await troubleOnPhone(page)).toEqual([]);
});
