import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readJsonText } from "../../src/formats/jsonText";
import { readProject } from "../../src/formats/projectFile";
import { timed } from "../support/processorTime";
import { fixedRuns } from "../support/properties";
import { ROOT } from "../support/root";
import { type RunningBench, runningBench } from "../support/runningBench";

const good = readFileSync(resolve(ROOT, "public/projects/skerry-light.json"), "utf8");

/** A hang guard, not a measure: a file of 20 kB takes a few milliseconds. */
const LONGEST_MS = 2000;

/** Refused or accepted in time; refused with place, cause and remedy, and a running bench left alone; never thrown. */
async function checkOutcome(text: string, bench: RunningBench): Promise<boolean> {
  const { result: reading, tookMs } = timed(() => readProject(text));
  expect(tookMs).toBeLessThan(LONGEST_MS);
  if (reading.ok) return false;
  const lines = text.split(/\r\n|\n|\r/);
  expect(reading.problems.length).toBeGreaterThan(0);
  expect(reading.problems.length).toBeLessThanOrEqual(20);
  for (const problem of reading.problems) {
    expect(problem.line).toBeGreaterThanOrEqual(1);
    expect(problem.line).toBeLessThanOrEqual(lines.length);
    expect(problem.column).toBeGreaterThanOrEqual(1);
    expect(problem.column).toBeLessThanOrEqual((lines[problem.line - 1] ?? "").length + 1);
    expect(problem.message).toMatch(/\S/);
    expect(problem.message).not.toContain("Invalid input");
    expect(problem.remedy).toMatch(/\S/);
  }
  const state = bench.state();
  expect(await bench.open(text)).toBe(false);
  expect(bench.state()).toBe(state);
  return true;
}

const characters = fc.constantFrom(..."{}[],:\"'\\0123456789.eE+-ntfu \n\t\r\u0000\ufeff~é/*");

/** One change of the characters: taken out, put in, exchanged, doubled or cut off. */
const characterChange = fc
  .record({
    at: fc.nat(good.length - 1),
    how: fc.constantFrom("remove", "insert", "replace", "double", "cut"),
    length: fc.integer({ min: 1, max: 40 }),
    put: fc.string({ unit: characters, minLength: 1, maxLength: 3 }),
  })
  .map(({ at, how, length, put }) => {
    if (how === "remove") return good.slice(0, at) + good.slice(at + length);
    if (how === "insert") return good.slice(0, at) + put + good.slice(at);
    if (how === "replace") return good.slice(0, at) + put + good.slice(at + put.length);
    if (how === "double") return good.slice(0, at + length) + good.slice(at);
    return good.slice(0, at);
  });

type Holder = { [name: string]: unknown };

/** Every member and item of a value, with what holds it. */
function members(value: unknown, found: { holder: Holder; name: string }[] = []) {
  if (typeof value !== "object" || value === null) return found;
  const holder = value as Holder;
  for (const name of Object.keys(holder)) {
    found.push({ holder, name });
    members(holder[name], found);
  }
  return found;
}

const memberCount = members(JSON.parse(good)).length;

const otherValue = fc.oneof(
  fc.constantFrom<unknown>(null, true, "", "off", 0, -1, 1.5, 1e300, 1e-300, [], {}, [[]]),
  fc.constantFrom<unknown>({ kind: "stiff" }, { id: "lowGain" }, [null], ["driveInhibit"]),
  fc.jsonValue({ maxDepth: 3 }),
);

/** One change of the structure: a member removed, renamed, given another value, added or repeated. */
const structuralChange = fc
  .record({
    which: fc.nat(memberCount - 1),
    how: fc.constantFrom("remove", "rename", "value", "add", "scale"),
    name: fc.oneof(
      fc.constantFrom("__proto__", "constructor", "kind", "toString", "mu", ""),
      fc.string({ maxLength: 8 }),
    ),
    value: otherValue,
  })
  .map(({ which, how, name, value }) => {
    const project: unknown = JSON.parse(good);
    const target = members(project)[which];
    if (target === undefined) throw new Error(`invalid member: ${which}`);
    const { holder, name: own } = target;
    const put = (key: string, member: unknown) =>
      Object.defineProperty(holder, key, {
        value: member,
        enumerable: true,
        configurable: true,
        writable: true,
      });
    if (how === "remove" || how === "rename") {
      const member = holder[own];
      if (Array.isArray(holder)) holder.splice(Number(own), 1);
      else delete holder[own];
      if (how === "rename" && !Array.isArray(holder)) put(name, member);
    } else if (how === "value") put(own, value);
    else if (how === "add") {
      if (Array.isArray(holder)) holder.push(value);
      else put(name, value);
    } else if (typeof holder[own] === "number") put(own, (holder[own] as number) * 1e6);
    else put(own, [holder[own]]);
    return JSON.stringify(project, null, 1);
  });

/** One that is told to open everything, and one that is left alone. */
const BENCHES = Promise.all([runningBench(), runningBench()]);

describe("a good project file with one change", () => {
  it.each([
    ["characters", characterChange],
    ["structure", structuralChange],
  ])(
    "of its %s is read or refused, never worse, and a bench that runs meanwhile goes on as it was",
    async (_, changes) => {
      const [bench, untouched] = await BENCHES;
      const hash = await untouched.hash();
      let refused = 0;
      await fc.assert(
        fc.asyncProperty(changes, async (text) => {
          if (await checkOutcome(text, bench)) refused++;
        }),
        fixedRuns(250),
      );
      expect(refused).toBeGreaterThan(100); // most changes break a file
      expect(await bench.hash()).toBe(hash);
      bench.run(1);
      untouched.run(1);
      expect(await bench.hash()).toBe(await untouched.hash());
    },
  );
});

describe("the reader of positions", () => {
  it("takes exactly the texts that JSON.parse takes", () => {
    const text = fc.oneof(
      fc.json(),
      fc.string({ unit: characters, maxLength: 12 }),
      fc
        .json()
        .chain((json) =>
          fc
            .record({ at: fc.nat(json.length), put: fc.string({ unit: characters, maxLength: 2 }) })
            .map(({ at, put }) => json.slice(0, at) + put + json.slice(at + 1)),
        ),
    );
    fc.assert(
      fc.property(text, (json) => {
        let parses = true;
        try {
          JSON.parse(json);
        } catch {
          parses = false;
        }
        const reading = readJsonText(json);
        expect(reading.ok).toBe(parses);
      }),
      fixedRuns(2000),
    );
  });

  it("finds every value where it stands", () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const text = ` ${JSON.stringify(value, null, 2)}\n`;
        const reading = readJsonText(text);
        if (!reading.ok) throw new Error(reading.fault.message);
        const check = (node: typeof reading.root, expected: unknown): void => {
          expect(JSON.parse(text.slice(node.start, node.end))).toEqual(
            JSON.parse(JSON.stringify(expected)),
          );
          if (Array.isArray(expected)) {
            expected.forEach((item, index) => {
              const inner = node.items?.[index];
              if (inner === undefined) throw new Error(`no item ${index}`);
              check(inner, item);
            });
          } else if (typeof expected === "object" && expected !== null) {
            for (const [name, member] of Object.entries(expected)) {
              const inner = node.members?.get(name);
              if (inner === undefined) throw new Error(`no member ${name}`);
              expect(JSON.parse(text.slice(inner.keyStart, inner.keyEnd))).toBe(name);
              check(inner.value, member);
            }
          }
        };
        check(reading.root, value);
      }),
      fixedRuns(50),
    );
  });
});
