/**
 * The page at work: windows of 10 s in real time at 1440 x 900, an arc burning and low gain in shadow. Read from the
 * browser's own trace: every task that ran on the page's main thread, script, style, layout, paint, hand-over and
 * garbage collection alike.
 *
 * A frame is what ran from the start of one animation frame to the start of the next. Two times are given of it:
 * processor time, which a busy machine does not stretch, and time by the clock, which also counts what the thread
 * waited for. Limits are held against processor time.
 */
import { readFileSync } from "node:fs";
import { chromium } from "@playwright/test";
import { serveFolder } from "../../src/shells/node/staticServer.mjs";
import { CHROMIUM_FLAGS, findChromium } from "../support/findChromium.mjs";

const WATCHED_MS = 10_000;
/** From the strike to the first look: pickup, operation in shadow and their rows belong to the window. */
const STRUCK_POLL_MS = 20;
const BEGIN = "watch begins";
const END = "watch ends";
export const TRACED = ["toplevel", "devtools.timeline", "blink.user_timing", "__metadata"];

/**
 * @typedef {object} PageWindow
 * @property {number} frameMs processor time a frame, 95 of 100 frames under
 * @property {number} frameClockMs the same by the clock
 * @property {number} longestMs longest task, processor time
 * @property {number} longestClockMs the same by the clock
 * @property {number} frames animation frames of the window
 * @property {number} pace simulated seconds a second on screen
 * @property {readonly string[]} amiss what was not as it should be, in words
 */

/**
 * @param {string} folder built page
 * @param {{ projectText: string, stationText: string }} texts the demonstration, from which the operator's key-up is
 *   taken away, and the station whose plates are made thicker
 * @param {number} windows how many windows, each on a page of its own
 * @returns {Promise<readonly PageWindow[]>}
 */
export async function measurePage(folder, { projectText, stationText }, windows) {
  const server = await serveFolder({ folder, port: 0 });
  const browser = await chromium.launch({ executablePath: findChromium(), args: CHROMIUM_FLAGS });
  try {
    const found = [];
    for (let k = 0; k < windows; k++) {
      found.push(await measureWindow(browser, server.url, heldDown(projectText, stationText)));
    }
    return found;
  } finally {
    await browser.close();
    await server.close();
  }
}

/**
 * The same run with nobody opening the key, and plates of 1 mm instead of 0.8: the bead that ends the arc by bridging
 * the gap (after 5.5 s on the thinner ones) comes after the window.
 */
function heldDown(projectText, stationText) {
  const project = JSON.parse(projectText);
  const { tuningCapacitor } = JSON.parse(stationText).station;
  const scenario = project.scenario.filter((e) => !(e.do === "key" && e.down === false));
  return JSON.stringify({
    ...project,
    title: "Arc held",
    endS: 60,
    station: { tuningCapacitor: { ...tuningCapacitor, plateThicknessM: 1e-3 } },
    scenario,
  });
}

async function measureWindow(browser, url, projectText) {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  const amiss = [];
  page.on("pageerror", (error) => amiss.push(`the page failed: ${error.message}`));
  await page.goto(new URL(url).href);
  await page.getByRole("region", { name: "Controls and faults" }).waitFor();
  await page.getByRole("checkbox", { name: /Time lens/ }).uncheck();
  await page.getByLabel("Project file").setInputFiles({
    name: "arc-held.json",
    mimeType: "application/json",
    buffer: Buffer.from(projectText),
  });
  await page.getByText(/^Arc held, /).waitFor();
  await browser.startTracing(page, { categories: TRACED });
  await page.getByRole("button", { name: "Run", exact: true }).click();
  await page.waitForFunction(isStruck, undefined, { polling: STRUCK_POLL_MS, timeout: 120_000 });
  const before = await page.evaluate(look, BEGIN);
  await page.waitForTimeout(WATCHED_MS);
  const after = await page.evaluate(look, END);
  const trace = JSON.parse((await browser.stopTracing()).toString("utf8"));
  await page.close();
  for (const [when, seen] of [
    ["at the start", before],
    ["at the end", after],
  ]) {
    if (!seen.running) amiss.push(`${when} of the window the run stands`);
    if (!seen.burning) amiss.push(`${when} of the window no arc burns`);
    if (!seen.paceText.includes("1\u00a0s on screen = 1.00\u00a0s"))
      amiss.push(`${when} of the window the pace is not real time: ${seen.paceText}`);
  }
  // it operates 4 ms after the strike, so that only the end has to show it
  if (!after.gain.includes("shadow")) amiss.push(`low gain is not in shadow: ${after.gain}`);
  const pace = (after.simulatedS - before.simulatedS) / ((after.wallMs - before.wallMs) / 1000);
  return { ...figuresOf(trace.traceEvents), pace, amiss };
}

/** In the page: true once its clock counts from the strike and the plate edge says that an arc burns. */
function isStruck() {
  const head = document.querySelector('[role="slider"][aria-label="Play head in the record"]');
  const isCounting = head?.getAttribute("aria-valuetext")?.includes("from the strike") === true;
  const edge = document.querySelector(".bench-edge")?.textContent ?? "";
  return isCounting && /this run, arc burning/.test(edge);
}

/** In the page: what it shows at one end of the window, with a mark in the trace. */
function look(mark) {
  const factors = { µs: 1e-6, ms: 1e-3, s: 1 };
  const text = (selector) => document.querySelector(selector)?.textContent ?? "";
  const words = document
    .querySelector('[role="slider"][aria-label="Play head in the record"]')
    ?.getAttribute("aria-valuetext");
  const [, number = "NaN", unit = "s"] = /\+?([\d.\u202f]+)\s(µs|ms|s)\b/.exec(words ?? "") ?? [];
  const seen = {
    running: words?.includes("running") === true,
    simulatedS: Number(number.replaceAll("\u202f", "")) * factors[unit],
    burning: /this run, arc burning/.test(text(".bench-edge")),
    paceText: text(".time-pace"),
    gain:
      document
        .querySelector('[role="meter"][aria-label="Forward gain"]')
        ?.getAttribute("aria-valuetext") ?? "",
    wallMs: performance.now(),
  };
  performance.mark(mark);
  return seen;
}

/** Tasks of the page's main thread between two marks, in their order, and whatever else that thread told. */
export function tasksBetween(events, from, to) {
  const mark = (name) => events.find((e) => e.name === name && e.cat.includes("user_timing"));
  const begin = mark(from);
  const end = mark(to);
  if (begin === undefined || end === undefined) throw new Error("the trace lacks a mark");
  const own = events.filter((e) => e.pid === begin.pid && e.tid === begin.tid);
  const inside = (e) => e.ts >= begin.ts && e.ts < end.ts;
  const tasks = own
    .filter((e) => e.ph === "X" && e.name.endsWith("RunTask") && inside(e))
    .sort((a, b) => a.ts - b.ts);
  if (tasks.length === 0) throw new Error("the trace shows no work");
  if (tasks.some((e) => e.tdur === undefined)) throw new Error("no processor time in the trace");
  return { own: own.filter(inside), tasks, begin, end };
}

/** Tasks of the busiest renderer's main thread between the two marks, added up by animation frame. */
function figuresOf(events) {
  const { own, tasks } = tasksBetween(events, BEGIN, END);
  const starts = own
    .filter((e) => e.name === "FireAnimationFrame")
    .map((e) => e.ts)
    .sort((a, b) => a - b);
  if (starts.length === 0) throw new Error("the trace shows no frame");
  const cpuMs = new Float64Array(starts.length);
  const clockMs = new Float64Array(starts.length);
  let frame = -1;
  for (const e of tasks) {
    // a frame begins inside the task that carries it out, and that task is the frame's own
    while (frame + 1 < starts.length && e.ts + e.dur > starts[frame + 1]) frame++;
    if (frame < 0) continue;
    cpuMs[frame] += e.tdur / 1000;
    clockMs[frame] += e.dur / 1000;
  }
  return {
    frameMs: of95(cpuMs),
    frameClockMs: of95(clockMs),
    longestMs: Math.max(...tasks.map((e) => e.tdur)) / 1000,
    longestClockMs: Math.max(...tasks.map((e) => e.dur)) / 1000,
    frames: starts.length,
  };
}

function of95(values) {
  return values.slice().sort()[Math.floor(0.95 * (values.length - 1))];
}

/** The demonstration the windows are made from, and its station. */
export function pageProject(root) {
  const read = (name) => readFileSync(`${root}/public/projects/${name}.json`, "utf8");
  return { projectText: read("low-gain-in-shadow"), stationText: read("skerry-light") };
}
