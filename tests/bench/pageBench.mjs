/**
 * The page at work: 10 s in real time at 1440 x 900 with an arc burning and low gain in shadow. Read from the browser's
 * own trace: what the page's main thread did, added up in frames of 1/60 s.
 */
import { chromium } from "@playwright/test";
import { serveFolder } from "../../src/shells/node/staticServer.mjs";
import { CHROMIUM_FLAGS, findChromium } from "../support/findChromium.mjs";

const WATCHED_MS = 10_000;
const FRAME_US = 1e6 / 60;

/**
 * @param {string} folder built page
 * @returns {Promise<{ frameMs: number, longestMs: number, frames: number }>}
 */
export async function measurePage(folder) {
  const server = await serveFolder({ folder, port: 0 });
  const browser = await chromium.launch({ executablePath: findChromium(), args: CHROMIUM_FLAGS });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(new URL("?show=low-gain-in-shadow", server.url).href);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.keyboard.press("Space"); // run
    await page.waitForTimeout(1500); // past the strike at 1.00037 s
    await browser.startTracing(page, { categories: ["toplevel", "__metadata"] });
    await page.waitForTimeout(WATCHED_MS);
    const trace = JSON.parse((await browser.stopTracing()).toString("utf8"));
    return figuresOf(trace.traceEvents);
  } finally {
    await browser.close();
    await server.close();
  }
}

/** The busiest renderer's main thread is the page's. */
function figuresOf(events) {
  const mains = events
    .filter((e) => e.name === "thread_name" && e.args?.name === "CrRendererMain")
    .map((e) => `${e.pid} ${e.tid}`);
  const tasks = new Map(mains.map((thread) => [thread, []]));
  for (const e of events) {
    if (e.ph !== "X" || !/RunTask$/.test(e.name)) continue;
    tasks.get(`${e.pid} ${e.tid}`)?.push(e);
  }
  const total = (list) => list.reduce((sum, e) => sum + e.dur, 0);
  const page = [...tasks.values()].sort((a, b) => total(b) - total(a))[0] ?? [];
  if (page.length === 0) throw new Error("the trace shows no work of the page");
  const startUs = Math.min(...page.map((e) => e.ts));
  const busyUs = new Float64Array(Math.ceil((WATCHED_MS * 1000) / FRAME_US));
  for (const e of page) {
    const frame = Math.floor((e.ts - startUs) / FRAME_US);
    if (frame < busyUs.length) busyUs[frame] += e.dur;
  }
  const sorted = busyUs.slice().sort();
  return {
    frameMs: sorted[Math.floor(0.95 * (sorted.length - 1))] / 1000,
    longestMs: Math.max(...page.map((e) => e.dur)) / 1000,
    frames: sorted.length,
  };
}
