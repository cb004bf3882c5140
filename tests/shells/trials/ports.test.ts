import { afterEach, describe, expect, it, vi } from "vitest";
import { meansOfPage } from "../../../src/shells/trials/ports";
import type { FromTrial } from "../../../src/shells/trials/protocol";

class FakeWorker {
  static made: FakeWorker[] = [];
  onmessage: ((event: { data: FromTrial }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  readonly posted: unknown[] = [];
  isOpen = true;

  constructor(
    readonly url: URL,
    readonly options: object,
  ) {
    FakeWorker.made.push(this);
  }

  postMessage(message: unknown): void {
    this.posted.push(message);
  }

  terminate(): void {
    this.isOpen = false;
  }
}

function opened() {
  vi.stubGlobal("navigator", { hardwareConcurrency: 6 });
  const means = meansOfPage();
  const port = means.startWorker();
  const heard: FromTrial[] = [];
  const crashes: string[] = [];
  port.listen(
    (message) => heard.push(message),
    (words) => crashes.push(words),
  );
  return { means, port, heard, crashes };
}

describe("workers of the page", () => {
  afterEach(() => {
    vi.unstubAllGlobals();
    FakeWorker.made = [];
  });

  it("are as many as the machine has cores, each a module of its own and no blob", () => {
    vi.stubGlobal("Worker", FakeWorker);
    const { means, port, heard } = opened();
    expect(means.workers).toBe(6);
    const [worker] = FakeWorker.made;
    expect(worker?.url.href).toMatch(/trialWorker/);
    expect(worker?.url.protocol).not.toBe("blob:");
    expect(worker?.options).toEqual({ type: "module" });
    port.post({ kind: "summarise" });
    worker?.onmessage?.({ data: { kind: "refused", problem: "no" } });
    expect([worker?.posted, heard]).toEqual([
      [{ kind: "summarise" }],
      [{ kind: "refused", problem: "no" }],
    ]);
  });

  it("say once that they have crashed, and nothing after they were closed", () => {
    vi.stubGlobal("Worker", FakeWorker);
    const one = opened();
    FakeWorker.made[0]?.onmessage?.({ data: { kind: "returned", indices: [] } });
    FakeWorker.made[0]?.onerror?.({ message: "out of memory" });
    FakeWorker.made[0]?.onerror?.({ message: "again" });
    expect(one.crashes).toEqual(["out of memory"]);
    expect(FakeWorker.made[0]?.isOpen).toBe(false);
    const two = opened();
    two.port.close();
    FakeWorker.made[1]?.onerror?.({ message: "late" });
    expect([two.crashes, FakeWorker.made[1]?.isOpen]).toEqual([[], false]);
  });

  it("say in words what to do where a browser has none", () => {
    vi.stubGlobal("Worker", undefined);
    const { crashes } = opened();
    expect(crashes).toHaveLength(1);
    expect(crashes[0]).toMatch(/Open the page over http/);
  });
});
