/**
 * Every test file starts here: a console warning or error that nobody expected fails the test that caused it. A test
 * that does expect one replaces the method with `vi.spyOn(console, "warn").mockImplementation(() => {})`.
 */
import type {} from "@testing-library/jest-dom/vitest";
import { afterEach, beforeEach } from "vitest";

const messages: string[] = [];

for (const level of ["error", "warn"] as const) {
  console[level] = (...parts: unknown[]) => {
    messages.push(`console.${level}: ${parts.map(String).join(" ")}`);
  };
}

beforeEach(() => {
  messages.length = 0;
});

afterEach(() => {
  const seen = messages.splice(0);
  if (seen.length > 0) throw new Error(`unexpected console message\n${seen.join("\n")}`);
});

if (typeof document !== "undefined") {
  await import("@testing-library/jest-dom/vitest");
  const { cleanup, configure } = await import("@testing-library/react");
  configure({ asyncUtilTimeout: 10_000 }); // a hang guard for loaded machines, not a measure
  afterEach(cleanup); // runs before the check above, so that messages while unmounting count too
}
