import react from "@vitejs/plugin-react";
import { defineConfig } from "vitest/config";
import { notesAsHtml, policyOnlyInBuild, thirdPartyNotices } from "./src/shells/node/pageBuild.ts";
import { LongestFirst } from "./tests/support/longestFirst.ts";
import { nativeCore } from "./tests/support/nativeCore.ts";

/** Tests of what is on the disk, run once: neither while editing nor with a planted mistake. */
const isPlainTestRun =
  process.env.VITEST !== undefined &&
  process.env.QUIETARC_MISTAKE === undefined &&
  !process.argv.includes("--watch") &&
  (process.argv.includes("run") || process.env.CI !== undefined);
const notices = thirdPartyNotices();
/** Licences are gathered once, in third-party-notices.txt, and not sent again with every script. */
const withoutComments = { output: { comments: { legal: false } } };
const domTests = ["tests/ui/**/*.test.{ts,tsx}", "tests/state/**/*.test.{ts,tsx}"];

export default defineConfig({
  base: "./", // the built folder works from any path of any static host
  plugins: [
    react(),
    notesAsHtml(),
    policyOnlyInBuild(),
    notices.page(),
    nativeCore(isPlainTestRun),
  ],
  worker: {
    format: "es",
    plugins: () => [notices.worker()],
    rolldownOptions: withoutComments,
  },
  build: {
    rolldownOptions: withoutComments,
    manifest: true,
    target: "es2022",
    chunkSizeWarningLimit: 700,
  },
  test: {
    allowOnly: false,
    testTimeout: 120_000, // a hang guard for loaded machines, not a measure
    hookTimeout: 120_000,
    restoreMocks: true,
    pool: "threads",
    maxWorkers: "100%", // as many as cores: nothing else works beside it but the static checks
    isolate: false, // no module keeps a state from test to test, so each is loaded once a thread and not once a file
    sequence: { sequencer: LongestFirst },
    setupFiles: ["tests/support/setup.ts"],
    projects: [
      {
        extends: true,
        test: {
          name: "core",
          environment: "node",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: domTests,
        },
      },
      { extends: true, test: { name: "page", environment: "jsdom", include: domTests } },
    ],
  },
});
