import { defineConfig } from "@playwright/test";
import { CHROMIUM_FLAGS, findChromium } from "../support/findChromium.mjs";

// Read again in every worker process: the environment carries what the first reading found.
process.env.CHROMIUM_PATH = findChromium();

export default defineConfig({
  testDir: ".",
  outputDir: "../../test-results",
  globalSetup: "./servePage.ts",
  forbidOnly: true,
  fullyParallel: true,
  workers: 2, // no test here measures pace: each waits for what it looks for
  retries: 1, // of what a browser without frames broke, and of nothing else: see pageTest.ts
  // hang guards for loaded machines, not measures
  timeout: 300_000,
  expect: { timeout: 60_000 },
  use: {
    baseURL: process.env.QUIETARC_PAGE_URL ?? "",
    actionTimeout: 60_000,
    viewport: { width: 1440, height: 900 },
    locale: "en-GB",
    timezoneId: "UTC",
    launchOptions: { executablePath: process.env.CHROMIUM_PATH, args: CHROMIUM_FLAGS },
  },
});
