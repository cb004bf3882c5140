/** Power and interlocks on the bench: what a person presses and is told. */
import { act, fireEvent, screen } from "@testing-library/react";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { PowerGroup } from "../../../../src/ui/screens/bench/PowerGroup";
import { renderBenchPart } from "../../../support/renderBenchPart";

beforeEach(() => {
  // the test is the clock
  vi.stubGlobal("requestAnimationFrame", () => 0);
  vi.stubGlobal("cancelAnimationFrame", () => undefined);
  return () => vi.unstubAllGlobals();
});

const start = () => renderBenchPart((world) => <PowerGroup world={world} />);

describe("power and interlocks", () => {
  it("are folded away until somebody opens them", () => {
    start();
    const group = screen.getByText("Power and interlocks").closest("details");
    expect(group?.open).toBe(false);
  });

  it("switch off by a radio button, and say how long the filter stays dangerous", () => {
    const { playback, tick } = start();
    fireEvent.click(screen.getByRole("radio", { name: "Power off", hidden: true }));
    tick();
    tick();
    const { world } = playback.store.getState();
    expect(world?.power.on).toBe(false);
    expect(world?.operate).toBe(false);
    // 100 kohm, 40 uF: 4 s times ln(3175/50), from the row before the next sample on
    expect(
      screen.getByText(/The power is off\. Filter at 3\.1[78]\d? kV: under 50 V in 16\.\d s/),
    ).toBeInTheDocument();
  });

  it("open the lid, which refuses operate in words", () => {
    const { playback, tick } = start();
    fireEvent.click(screen.getByRole("radio", { name: "Lid open", hidden: true }));
    tick();
    act(() => playback.act({ do: "operate" }));
    tick();
    tick();
    const refused = playback.store
      .getState()
      .events.flatMap((e) => (e.kind === "command" && e.refused !== "" ? [e.refused] : []));
    expect(refused).toEqual(["the lid is open"]);
  });
});
