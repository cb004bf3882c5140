import { fireEvent, render, screen } from "@testing-library/react";
import userEvent from "@testing-library/user-event";
import fc from "fast-check";
import { createRef } from "react";
import { describe, expect, it, vi } from "vitest";
import {
  fractionAt,
  instantAt,
  recordKnots,
} from "../../../../src/ui/instruments/time/recordScale";
import { TimeBar } from "../../../../src/ui/instruments/time/TimeBar";
import type { TimeBarActions, TimeBarHandle } from "../../../../src/ui/instruments/time/timeView";
import { expectWithin } from "../../../support/expectWithin";
import { TIME_FRAME, TIME_VIEW } from "../support/demoPanel";

function spies() {
  return {
    onRun: vi.fn(),
    onPause: vi.fn(),
    onStep: vi.fn(),
    onEvent: vi.fn(),
    onLive: vi.fn(),
    onScrub: vi.fn(),
    onPace: vi.fn(),
    onLens: vi.fn(),
  } satisfies TimeBarActions;
}

describe("the scale of the record", () => {
  it("gives what came before a strike the first third and is read back exactly", () => {
    const knots = recordKnots(-4, 6e-3, true);
    expectWithin(fractionAt(knots, 0), 0.35, 1e-12, "the knot itself");
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (fraction) => {
        expectWithin(
          fractionAt(knots, instantAt(knots, fraction)),
          fraction,
          1e-9,
          "two roundings, of instants up to 4 s over parts of 6 ms",
        );
      }),
      { seed: 5, numRuns: 50 },
    );
  });
  it("is one straight line without a strike, and holds its ends", () => {
    const knots = recordKnots(0, 12.4, false);
    expectWithin(fractionAt(knots, 6.2), 0.5, 1e-12, "rounding");
    expectWithin(fractionAt(knots, 99), 1, 0, "held");
    expectWithin(instantAt(knots, -1), 0, 0, "held");
  });
});

describe("the time bar", () => {
  it("runs and pauses by one button that says what it will do", async () => {
    const actions = spies();
    const user = userEvent.setup();
    const { rerender } = render(
      <TimeBar view={TIME_VIEW} variant="wide" initial={TIME_FRAME} {...actions} />,
    );
    await user.click(screen.getByRole("button", { name: "Run" }));
    rerender(
      <TimeBar
        view={{ ...TIME_VIEW, running: true }}
        variant="wide"
        initial={TIME_FRAME}
        {...actions}
      />,
    );
    await user.click(screen.getByRole("button", { name: "Pause" }));
    expect(actions.onRun).toHaveBeenCalledTimes(1);
    expect(actions.onPause).toHaveBeenCalledTimes(1);
  });
  it("steps by one sample and by one scan, and from event to event", async () => {
    const actions = spies();
    const user = userEvent.setup();
    render(<TimeBar view={TIME_VIEW} variant="wide" initial={TIME_FRAME} {...actions} />);
    for (const name of ["One sample", "One scan", "Previous event", "Next event"])
      await user.click(screen.getByRole("button", { name }));
    expect(actions.onStep.mock.calls).toEqual([["sample"], ["scan"]]);
    expect(actions.onEvent.mock.calls).toEqual([["previous"], ["next"]]);
  });
  it("scrubs by the keys: arrow fine, Page and Shift ten times, Home and End the limits", () => {
    const actions = spies();
    render(
      <TimeBar
        view={{
          ...TIME_VIEW,
          knots: [
            { atS: 0, fraction: 0 },
            { atS: 1, fraction: 1 },
          ],
        }}
        variant="wide"
        initial={{ ...TIME_FRAME, headS: 0.5 }}
        {...actions}
      />,
    );
    const slider = screen.getByRole("slider", { name: "Play head in the record" });
    fireEvent.keyDown(slider, { key: "ArrowLeft" });
    fireEvent.keyDown(slider, { key: "ArrowLeft", shiftKey: true });
    fireEvent.keyDown(slider, { key: "PageUp" });
    fireEvent.keyDown(slider, { key: "Home" });
    fireEvent.keyDown(slider, { key: "End" });
    const asked = actions.onScrub.mock.calls.map(([atS]) => atS as number);
    [0.495, 0.45, 0.55, 0, 1].forEach((wanted, i) => {
      expectWithin(asked[i] ?? Number.NaN, wanted, 1e-9, "rounding");
    });
  });
  it("says in words where the play head is, and moves it without React", () => {
    const handle = createRef<TimeBarHandle>();
    const { container } = render(
      <TimeBar view={TIME_VIEW} variant="wide" initial={TIME_FRAME} handle={handle} {...spies()} />,
    );
    handle.current?.draw({
      headS: 2e-3,
      clockNumber: "+2.000",
      clockUnit: "ms",
      clockNote: "4.0 ms before the record's end",
    });
    expect(screen.getByRole("slider")).toHaveAttribute(
      "aria-valuetext",
      "+2.000 ms, 4.0 ms before the record's end",
    );
    expect(container.querySelector(".time-clock")).toHaveTextContent(
      "4.0 ms before the record's end",
    );
  });
  it("keeps run, one scan and the fault button on the small sheets", () => {
    render(
      <TimeBar
        view={TIME_VIEW}
        variant="phone"
        initial={TIME_FRAME}
        {...spies()}
        fault={<button type="button">Strike again</button>}
      />,
    );
    for (const name of ["Run", "One scan", "Strike again"])
      expect(screen.getByRole("button", { name })).toBeVisible();
  });
});
