/**
 * Finds a Chromium to run the browser tests in, and fetches one on a machine that has none. What is already there
 * comes first, so that a machine without a network loses no time: CHROMIUM_PATH, the download of the test library,
 * the usual places of the system; then a fresh download, then the Debian package when allowed to install it.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { chromium } from "@playwright/test";

const SYSTEM_PATHS = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome-stable",
  "/usr/bin/google-chrome",
  "/snap/bin/chromium",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
];

/** Switches for a browser without a screen that talks to nobody but our own server. */
export const CHROMIUM_FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/**
 * The path of a Chromium. Throws with a remedy when none can be had: browser tests are never skipped.
 * @returns {string}
 */
export function findChromium() {
  const named = process.env.CHROMIUM_PATH;
  if (named !== undefined && named !== "") {
    if (existsSync(named)) return named;
    throw new Error(`CHROMIUM_PATH names "${named}", which does not exist.`);
  }
  const found = installed() ?? afterLibraryDownload() ?? afterDebianInstall();
  if (found !== undefined) return found;
  throw new Error(
    "No Chromium was found and none could be fetched. Install one and name it: CHROMIUM_PATH=/path/to/chromium npm test",
  );
}

function installed() {
  return [libraryPath(), ...SYSTEM_PATHS].find((path) => path !== undefined && existsSync(path));
}

function libraryPath() {
  try {
    return chromium.executablePath();
  } catch {
    return undefined; // no build of the library for this system
  }
}

function afterLibraryDownload() {
  console.log("No Chromium here yet: trying the test library's own download ...");
  const cli = join(dirname(createRequire(import.meta.url).resolve("@playwright/test")), "cli.js");
  run(process.execPath, [cli, "install", "chromium", "--no-shell"], 120_000);
  return installed();
}

function afterDebianInstall() {
  if (process.getuid?.() !== 0 || !isDebian()) return undefined;
  console.log("Trying the Debian package ...");
  run("apt-get", ["-o", "DPkg::Lock::Timeout=120", "update"], 180_000);
  run("apt-get", ["-o", "DPkg::Lock::Timeout=120", "install", "-y", "chromium"], 600_000);
  return installed();
}

function isDebian() {
  return existsSync("/etc/os-release") && /debian/i.test(readFileSync("/etc/os-release", "utf8"));
}

function run(command, args, timeout) {
  const result = spawnSync(command, args, {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "pipe"],
    timeout,
    env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
  });
  if (result.status === 0) return;
  const lines = `${result.stdout ?? ""}${result.stderr ?? ""}`.trim().split("\n");
  const telling = lines.find((line) => /error|^E:/i.test(line)) ?? lines.at(-1);
  console.log(`That did not work: ${result.error?.message ?? telling}`);
}
