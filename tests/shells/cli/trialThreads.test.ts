import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { createThreadPort } from "../../../src/shells/cli/threadPort";
import { TrialPool } from "../../../src/shells/trials/pool";
import type { FromTrial, ToTrial, TrialPort } from "../../../src/shells/trials/protocol";
import { ManualClock, tinyRequest } from "../trials/trialRig";

/** A thread that answers as a worker does, ends itself at case 3 and never comes back from case 5. */
const THREAD = `
import { parentPort } from "node:worker_threads";
parentPort.on("message", ({ kind, indices }) => {
  if (kind === "plan") parentPort.postMessage({ kind: "planned", count: 8, labels: [] });
  for (const index of kind === "run" ? indices : []) {
    if (index === 3) process.exit(7);
    while (index === 5);
    parentPort.postMessage({ kind: "results", results: [{ index, outcome: index * 11 }] });
  }
});
`;

const folder = mkdtempSync(join(tmpdir(), "quietarc-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function thread(text: string): string {
  const file = join(folder, `${text.length}.mjs`);
  writeFileSync(file, text);
  return file;
}

describe("threads of Node as workers", () => {
  it("are replaced when one ends or hangs, and every other case has its outcome", async () => {
    const file = thread(THREAD);
    const clock = new ManualClock();
    let started = 0;
    let told = (): void => {};
    const news = (): Promise<void> =>
      new Promise((resolve) => {
        told = resolve;
      });
    let isDone = false;
    const pool = new TrialPool(
      {
        request: tinyRequest(1, 8),
        count: 8,
        indices: [0, 1, 2, 3, 4, 5, 6, 7],
        labelOf: (index) => `unit ${index}`,
      },
      {
        workers: 2,
        clock,
        startWorker: () => {
          started += 1;
          const port = createThreadPort(file);
          const post = (message: ToTrial): void => {
            port.post(message);
            if (message.kind === "run") told();
          };
          return { ...port, post };
        },
      },
      {
        results: () => told(),
        done: () => {
          isDone = true;
          told();
        },
        broken: (words) => {
          throw new Error(words);
        },
      },
    );
    pool.start();
    while (pool.progress.done < 7) await news(); // all but the hung one
    const before = started;
    clock.pass(3000);
    expect(started).toBe(before + 1); // another thread has the case, alone
    await news(); // it has been handed the case
    clock.pass(60_000);
    expect(isDone).toBe(true);
    expect(pool.outcomes).toEqual([0, 11, 22, null, 44, null, 66, 77]);
    expect(pool.failures).toEqual([
      { index: 3, label: "unit 3", words: "its worker stopped" },
      { index: 5, label: "unit 5", words: "its worker hung" },
    ]);
  });

  it("tell what a thread dies of, also one that cannot be loaded", async () => {
    const words = (port: TrialPort): Promise<string> =>
      new Promise((resolve) => {
        port.listen((_: FromTrial) => {}, resolve);
        port.post({ kind: "summarise" });
      });
    const text = `
import { parentPort } from "node:worker_threads";
parentPort.on("message", () => { throw new Error("out of paper"); });
`;
    expect(await words(createThreadPort(thread(text)))).toBe("out of paper");
    expect(await words(createThreadPort(join(folder, "gone.mjs")))).toMatch(/Cannot find module/);
  });
});
