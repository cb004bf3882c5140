/** What a line loses, in words: the worked example of the tests of its physics. */
import { expect, it } from "vitest";
import { LINE_KINDS } from "../../../../src/project/feeders";
import type { FeedLine } from "../../../../src/project/station";
import { lineWords } from "../../../../src/ui/screens/station/lineWords";
import { expectWithin } from "../../../support/expectWithin";

const line = { ...LINE_KINDS[0], lengthM: 20 } as FeedLine;

it("says both losses and both ratios of 20 m of 10 mm cable on 100 ohm", () => {
  // telegrapher's equations by complex tanh in another program: 0.5937 dB in all, ratio 1.8417 at the near end, with 0.6 %
  // less attenuation than the published law, whose 20 m are 0.4817 dB; 100 ohm on 50 ohm reflects a third
  const antenna = { kind: "reflection", magnitude: 1 / 3, phaseRad: 0 } as const;
  const words = lineWords({ load: { kind: "antenna", line, antenna }, freqHz: 14.2e6 });
  const [matched, total, lost, lineOhm, atAntenna, atConnector] = (
    words.match(/\d+(\.\d+)?/g) ?? []
  ).map(Number);
  const printed = "printed digits";
  expectWithin(matched ?? Number.NaN, 0.4817, 0.005, printed);
  expectWithin(
    total ?? Number.NaN,
    0.5937,
    0.004 + 0.005,
    "0.6 % of attenuation, and printed digits",
  );
  expectWithin(lost ?? Number.NaN, 100 * (1 - 10 ** -0.05937), 0.5 + 0.1, "as the loss");
  expectWithin(lineOhm ?? Number.NaN, 50, 0, "of the cable");
  expectWithin(atAntenna ?? Number.NaN, 2, 0.005, printed);
  expectWithin(atConnector ?? Number.NaN, 1.8417, 0.001 + 0.005, printed);
  expect(words).toMatch(
    /^Loss of the line: .* matched, .* with this antenna, .* of the power\. SWR against/,
  );
});

it("is silent without a line, and has no figure for what takes nothing", () => {
  const load = { kind: "admittance", conductanceSiemens: 0.02, susceptanceSiemens: 0 } as const;
  expect(lineWords({ load, freqHz: 14.2e6 })).toBe("");
  const antenna = { kind: "reflection", magnitude: 1, phaseRad: 0 } as const;
  const words = lineWords({ load: { kind: "antenna", line, antenna }, freqHz: 14.2e6 });
  expect(words).toMatch(/infinite at the antenna/);
  expect(words).not.toMatch(/NaN|Infinity/);
});
