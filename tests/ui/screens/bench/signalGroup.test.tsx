/** What the exciter sends, chosen on the bench: each choice is a step of the run like any other. */
import { fireEvent, screen } from "@testing-library/react";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { SignalGroup } from "../../../../src/ui/screens/bench/SignalGroup";
import { expectWithin } from "../../../support/expectWithin";
import { renderBenchPart } from "../../../support/renderBenchPart";

beforeEach(() => {
  vi.stubGlobal("requestAnimationFrame", () => 0);
  vi.stubGlobal("cancelAnimationFrame", () => undefined);
  return () => vi.unstubAllGlobals();
});

async function start() {
  const bench = renderBenchPart((world) => <SignalGroup world={world} />);
  const group = screen.getByText("Signal: steady carrier").closest("details");
  expect(group?.open).toBe(false);
  fireEvent(group as Element, new Event("toggle"));
  await screen.findByLabelText("Exciter sends");
  const choose = (value: string) => {
    fireEvent.change(screen.getByLabelText("Exciter sends"), { target: { value } });
    bench.tick();
    bench.tick();
  };
  const commands = () =>
    bench.playback.store
      .getState()
      .events.flatMap((e) => (e.kind === "command" ? [e.command] : []))
      .filter((c) => c.do === "signal" || c.do === "key");
  return { ...bench, choose, commands };
}

describe("the signal of the exciter", () => {
  it("is a carrier until another is chosen, with its number beside it, within its range", async () => {
    const { choose, commands, tick, playback } = await start();
    choose("twoTone");
    expect(screen.getByText("Signal: two tones")).toBeInTheDocument();
    const spacing = screen.getByRole("textbox", { name: "Spacing", hidden: true });
    fireEvent.change(spacing, { target: { value: "0.7k" } });
    fireEvent.keyDown(spacing, { key: "Enter" });
    tick();
    tick();
    expect(commands()).toEqual([
      // 700 and 1900 Hz, the usual pair: common practice, no source
      { do: "signal", signal: "twoTone", spacingHz: 1200 },
      { do: "signal", signal: "twoTone", spacingHz: 700 },
    ]);
    choose("processedSpeech");
    expect(playback.store.getState().world?.signal.signal).toBe("processedSpeech");
    expect(screen.getByRole("textbox", { name: "Processing", hidden: true })).toHaveValue("10");
    choose("data");
    const share = screen.getByRole("textbox", { name: "Share of the drive", hidden: true });
    fireEvent.change(share, { target: { value: "120" } });
    fireEvent.keyDown(share, { key: "Enter" });
    tick();
    expect(screen.getByText(/is outside 0 % to 100 %/)).toBeInTheDocument();
    expect(commands().at(-1)).toEqual({ do: "signal", signal: "data", powerShare: 0.5 });
    expect(commands()).toHaveLength(4);
  });

  it("sends Morse at a speed, with the time it takes and the signs there are none for", async () => {
    const { choose, commands, tick, playback } = await start();
    choose("morse");
    expect(commands()).toEqual([]);
    const speed = screen.getByRole("textbox", { name: "Words a minute", hidden: true });
    fireEvent.change(speed, { target: { value: "30" } });
    fireEvent.keyDown(speed, { key: "Enter" });
    // PARIS is 50 units of 1.2 s/30: three of them last 6 s (ITU-R M.1677-1 timing)
    expect(screen.getByText("Keys for 6.00 s.")).toBeInTheDocument();
    const text = screen.getByRole("textbox", { name: "Text", hidden: true });
    fireEvent.change(text, { target: { value: "E#" } });
    expect(screen.getByText('"#" has no Morse sign.')).toBeInTheDocument();
    expect(screen.getByRole("button", { name: "Send", hidden: true })).toBeDisabled();
    fireEvent.change(text, { target: { value: "E" } });
    fireEvent.click(screen.getByRole("button", { name: "Send", hidden: true }));
    for (let k = 0; k < 8; k++) tick();
    const [asked, down, up] = playback.store.getState().events.filter((e) => e.kind === "command");
    expect(asked?.command).toEqual({ do: "key", text: "E", wordsPerMinute: 30 });
    expect([down?.command, up?.command]).toEqual([
      { do: "key", down: true },
      { do: "key", down: false },
    ]);
    expectWithin(((up?.atNs ?? 0) - (down?.atNs ?? 0)) / 1e9, 0.04, 1e-9, "one unit of 1.2 s/30");
  });
});
