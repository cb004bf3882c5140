/** Every test file starts here: a console message that nobody expected fails the test that caused it. */
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
