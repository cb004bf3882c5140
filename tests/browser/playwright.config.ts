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
  workers: 1, // a page and its simulation need both cores to keep time
  retries: 0,
  // hang guards for loaded machines, not measures
  timeout: 150_000,
  expect: { timeout: 40_000 },
  use: {
    baseURL: process.env.QUIETARC_PAGE_URL ?? "",
    actionTimeout: 40_000,
    viewport: { width: 1440, height: 900 },
    locale: "en-GB",
    timezoneId: "UTC",
    launchOptions: { executablePath: process.env.CHROMIUM_PATH, args: CHROMIUM_FLAGS },
  },
});
