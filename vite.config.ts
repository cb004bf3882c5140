import react from "@vitejs/plugin-react";
import { defineConfig } from "vitest/config";

export default defineConfig({
  base: "./",
  plugins: [react()],
  worker: { format: "es" },
  build: { manifest: true, target: "es2022", chunkSizeWarningLimit: 700 },
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    setupFiles: ["tests/support/setup.ts"],
    environment: "node",
    restoreMocks: true,
  },
});
