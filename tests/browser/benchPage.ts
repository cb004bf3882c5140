/** The bench as a person finds it: by role, name and words. Nothing here reaches into the program's own state. */
import { readFile } from "node:fs/promises";
import { expect, type Locator, type Page } from "@playwright/test";
import { readProject } from "../../src/formats/projectFile";
import { inOneGo } from "../support/hashEngines";

const TIME_FACTORS: Readonly<Record<string, number>> = { µs: 1e-6, ms: 1e-3, s: 1 };

/** Seconds of a time as the page writes it: true minus, thin spaces between groups, no-break space before the unit. */
export function secondsOf(text: string): number {
  const match = /([+−]?)([\d.\u202f]+)\s(µs|ms|s)\b/.exec(text);
  if (match === null) return Number.NaN;
  const [, sign, digits = "", unit = "s"] = match;
  const size = Number(digits.replaceAll("\u202f", "")) * (TIME_FACTORS[unit] as number);
  return sign === "−" ? -size : size;
}

/** What a copied result says of itself; the rest of it is read where it is needed. */
export interface CopiedResult {
  readonly recordHash: string;
  readonly faults: readonly { readonly firstTrip: string | null }[];
}

export class BenchPage {
  readonly header: Locator;
  readonly time: Locator;
  readonly playHead: Locator;
  readonly raceImage: Locator;
  readonly events: Locator;

  constructor(readonly page: Page) {
    this.header = page.getByRole("banner");
    this.time = page.getByRole("region", { name: "Time" });
    this.playHead = page.getByRole("slider", { name: "Play head in the record" });
    this.raceImage = page.getByRole("region", { name: "The race" }).first().getByRole("img");
    this.events = page.getByRole("region", { name: "Sequence of events" }).getByRole("listitem");
  }

  /** Opens the page, waits for the bench, and switches off the lens: the test sets the pace. */
  async open(address = "./"): Promise<void> {
    await this.page.goto(address);
    await expect(this.page.getByRole("region", { name: "Controls and faults" })).toBeVisible();
    await this.page.getByRole("checkbox", { name: /Time lens/ }).uncheck();
  }

  /** Seconds at the play head, from the start or from the strike, as the page says it. */
  async shownS(): Promise<number> {
    return secondsOf((await this.playHead.getAttribute("aria-valuetext")) ?? "");
  }

  /** Waits until the clock has passed so many seconds from the strike, or from the start before one. */
  async runsPast(seconds: number, from: "strike" | "start"): Promise<void> {
    await expect
      .poll(async () => {
        const text = (await this.playHead.getAttribute("aria-valuetext")) ?? "";
        return text.endsWith(`from the ${from}`) ? secondsOf(text) : Number.NEGATIVE_INFINITY;
      })
      .toBeGreaterThan(seconds);
  }

  async pause(): Promise<void> {
    await this.time.getByRole("button", { name: "Pause" }).click();
    await expect(this.time.getByRole("button", { name: "Run" })).toBeVisible();
  }

  async slower(rungs: number): Promise<void> {
    for (let i = 0; i < rungs; i++) await this.time.getByRole("button", { name: "Slower" }).click();
  }

  async faster(rungs: number): Promise<void> {
    for (let i = 0; i < rungs; i++) await this.time.getByRole("button", { name: "Faster" }).click();
  }

  /** The line above the bench that says what a demonstration shows. */
  demonstrationLine(title: string): Locator {
    const messages = this.page.getByRole("region", { name: "Messages" });
    return messages.getByRole("paragraph").filter({ hasText: title });
  }

  segment(group: string, word: string): Locator {
    return this.page
      .getByRole("group", { name: group, exact: true })
      .getByRole("radio", { name: word, exact: true });
  }

  /** By the menu's own word, or by the one menu of a sheet that has no room for several. */
  async fromMenu(menu: string, item: string): Promise<void> {
    const navigation = this.page.getByRole("navigation", { name: "Screens and files" });
    await navigation.getByText(new RegExp(`^(${menu}|Menu)$`)).click();
    await navigation.getByRole("button", { name: item }).click();
  }

  /** Opens a text as a project file, as if it had been chosen from disk. */
  async openFile(name: string, text: string): Promise<void> {
    await this.page
      .getByLabel("Project file")
      .setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
  }

  /** The text of the file that "Save project" hands out. */
  async saved(): Promise<string> {
    const handed = this.page.waitForEvent("download");
    await this.fromMenu("Project", "Save project");
    return readFile(await (await handed).path(), "utf8");
  }

  /** What "Copy result as JSON" puts on the clipboard. */
  async copied(): Promise<CopiedResult> {
    await this.page.evaluate(() => navigator.clipboard.writeText(""));
    await this.fromMenu("Project", "Copy result as JSON");
    const read = (): Promise<string> => this.page.evaluate(() => navigator.clipboard.readText());
    await expect.poll(read).not.toBe("");
    return JSON.parse(await read()) as CopiedResult;
  }

  /**
   * From a bench at rest to a quiet arc that has tripped, paused, at 100 ms a second: key down, an insect on its part
   * once low gain is armed.
   */
  async tripByInsect(): Promise<void> {
    await this.slower(1);
    await this.segment("Key", "Key down").click();
    await expect(this.events.filter({ hasText: "Low gain armed" })).toHaveCount(1);
    await this.page
      .getByRole("button", { name: /^Insect/ })
      .first()
      .click();
    await expect(this.header.getByText("Trip", { exact: true })).toBeVisible();
    await this.pause();
  }
}

/** The default station with no end of its own: a session saved from it ends where its record ends. */
export const SHORT_PROJECT = JSON.stringify({
  format: "quietarc-project",
  schemaVersion: 1,
  title: "Short",
  endS: 1e-3,
  scenario: [],
});

/** Record hash of a project file played by Node from its start to its end. */
export async function hashInNode(text: string): Promise<string> {
  const reading = readProject(text);
  if (!reading.ok) throw new Error(`cannot be read: ${reading.problems[0]?.message}`);
  return inOneGo(reading.project, reading.project.endS);
}
