import { describe, expect, it } from "vitest";
import type { Command } from "../../../src/project/scenario";
import { objectionTo } from "../../../src/shells/bench/commandCheck";

describe("a signal asked for by a person", () => {
  it.each<Command>([
    { do: "signal", signal: "carrier" },
    { do: "signal", signal: "twoTone", spacingHz: 1200 },
    { do: "signal", signal: "speech", talker: 0 },
    { do: "signal", signal: "processedSpeech", talker: 4_294_967_295, processingDb: 0 },
    { do: "signal", signal: "data", powerShare: 1 },
  ])("is taken as a file would take it: $signal", (command) => {
    expect(objectionTo(command)).toBe("");
  });

  it.each<[Command, string]>([
    [{ do: "signal", signal: "twoTone", spacingHz: 0 }, "spacingHz goes from 1 to 3000"],
    [{ do: "signal", signal: "twoTone", spacingHz: Number.NaN }, "spacingHz goes from 1 to 3000"],
    [
      { do: "signal", signal: "speech", talker: 1.5 },
      "talkers are whole numbers from 0 to 4294967295",
    ],
    [
      { do: "signal", signal: "processedSpeech", talker: 1, processingDb: 31 },
      "processingDb goes from 0 to 30",
    ],
    [{ do: "signal", signal: "data", powerShare: -0.1 }, "powerShare goes from 0 to 1"],
  ])("is refused in words outside its range: %o", (command, words) => {
    expect(objectionTo(command)).toBe(words);
  });
});

describe("a knob turned by a person", () => {
  it("goes as far as in a file", () => {
    const drive = (value: number): Command => ({ do: "set", control: "driveW", value });
    expect(objectionTo(drive(10_000))).toBe("");
    expect(objectionTo(drive(10_001))).toBe("driveW goes from 0 to 10000");
    expect(objectionTo({ do: "set", control: "loadSwr", value: 0.5 })).toBe(
      "loadSwr goes from 1 to 1000",
    );
  });
});
