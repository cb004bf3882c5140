/** The README's table of coordination says what this version computes, at the sizes it names, and has every stress once. */
import { expect, it } from "vitest";
import { STRESS_NAMES } from "../../src/study/coordination/stress";
import { coordinationTable, recomputed } from "../support/coordinationRows";
import { writeBlock, writtenBlock } from "../support/readmeBlock";

it("stands in the README as it is computed", () => {
  if (process.env.QUIETARC_WRITE_README === "1") {
    writeBlock("coordination", coordinationTable());
  }
  const written = writtenBlock("coordination") ?? "";
  expect(recomputed(written)).toBe(written);
  expect(written.split("\n")).toHaveLength(2 + STRESS_NAMES.length);
});
