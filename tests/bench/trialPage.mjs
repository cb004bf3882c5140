/**
 * A trial run from the page at 1440 x 900: what its results cost the main thread, read from the browser's own trace, and
 * how soon after "Cancel" no worker does anything any more.
 */
import { chromium } from "@playwright/test";
import { serveFolder } from "../../src/shells/node/staticServer.mjs";
import { CHROMIUM_FLAGS, findChromium } from "../support/findChromium.mjs";
import { TRACED, tasksBetween } from "./pageBench.mjs";

const AFTER_MS = 1500;
const BEGIN = "results begin";
const CANCEL = "somebody cancels";
const END = "all is quiet";
/** A worker's shortest case; what is shorter is its being ended. */
const CASE_MS = 2;

/**
 * @param {string} folder built page
 * @param {string} kind as it stands on the screen
 * @param {readonly (readonly [string, string])[]} fields what is asked, by the names of its fields
 * @param {number} watchedS from the first results to the cancelling
 * @returns {Promise<{ longestMs: number, longestClockMs: number, cancelMs: number, shown: string }>}
 */
export async function measureTrialPage(folder, kind, fields, watchedS) {
  const server = await serveFolder({ folder, port: 0 });
  const browser = await chromium.launch({ executablePath: findChromium(), args: CHROMIUM_FLAGS });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(new URL("#trials", server.url).href);
    await page.getByRole("radio", { name: kind }).check();
    for (const [name, value] of fields) {
      await page.getByLabel(name).fill(value);
      await page.getByLabel(name).press("Enter");
    }
    await browser.startTracing(page, { categories: TRACED });
    await page.evaluate((mark) => void performance.mark(mark), BEGIN);
    await page.getByRole("button", { name: "Start" }).click();
    const words = page.getByRole("region", { name: "What is asked" }).getByRole("status").first();
    await words.filter({ hasText: /[1-9]\d* of \d+/ }).waitFor({ timeout: 120_000 });
    await page.waitForTimeout(1000 * watchedS);
    await page.evaluate(cancel, CANCEL);
    await page.waitForTimeout(AFTER_MS);
    await page.evaluate((mark) => void performance.mark(mark), END);
    const trace = JSON.parse((await browser.stopTracing()).toString("utf8"));
    return { ...figuresOf(trace.traceEvents), shown: (await words.textContent()) ?? "" };
  } finally {
    await browser.close();
    await server.close();
  }
}

/** In the page. */
function cancel(mark) {
  const buttons = [...document.querySelectorAll("button")];
  const button = buttons.find((b) => b.textContent?.trim() === "Cancel");
  if (button === undefined) throw new Error("nothing runs that could be cancelled");
  performance.mark(mark);
  button.click();
}

function figuresOf(events) {
  const { tasks } = tasksBetween(events, BEGIN, END);
  const { begin, end } = tasksBetween(events, CANCEL, END);
  const workers = new Set(
    events
      .filter((e) => e.name === "thread_name" && /^DedicatedWorker/.test(e.args?.name ?? ""))
      .map((e) => `${e.pid} ${e.tid}`),
  );
  const late = events
    .filter((e) => e.ph === "X" && workers.has(`${e.pid} ${e.tid}`) && e.dur > CASE_MS * 1000)
    .filter((e) => e.ts + e.dur > begin.ts && e.ts < end.ts);
  const lastTs = Math.max(begin.ts, ...late.map((e) => e.ts + e.dur));
  if (workers.size === 0) throw new Error("the trace shows no worker");
  return {
    longestMs: Math.max(...tasks.map((e) => e.tdur)) / 1000,
    longestClockMs: Math.max(...tasks.map((e) => e.dur)) / 1000,
    cancelMs: (lastTs - begin.ts) / 1000,
  };
}
