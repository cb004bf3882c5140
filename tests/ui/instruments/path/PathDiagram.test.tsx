import { render, screen } from "@testing-library/react";
import userEvent from "@testing-library/user-event";
import { createRef } from "react";
import { describe, expect, it, vi } from "vitest";
import { PathDiagram } from "../../../../src/ui/instruments/path/PathDiagram";
import { flowRole, layoutPath, shownParts } from "../../../../src/ui/instruments/path/pathLayout";
import type { PathHandle, PathView } from "../../../../src/ui/instruments/path/pathView";
import { barLengths } from "../../../../src/ui/instruments/path/stressBar";
import { expectWithin } from "../../../support/expectWithin";
import { PATH_STRUCK } from "../support/demoPath";
import { textReading } from "../support/shapes";

function withDrive(number: string): PathView {
  return {
    ...PATH_STRUCK,
    parts: PATH_STRUCK.parts.map((part) =>
      part.symbol === "exciter"
        ? {
            ...part,
            readings: part.readings.map((reading) => ({ ...reading, number })),
            bars: part.bars.map((bar) => ({ ...bar, fraction: 0.5 })),
            powerW: 0,
          }
        : part,
    ),
  };
}

describe("the signal path", () => {
  it("tells every part in order, with what it was before", () => {
    render(<PathDiagram view={PATH_STRUCK} variant="wide" onToggleFault={() => {}} />);
    const items = screen.getAllByRole("listitem").map((item) => item.textContent ?? "");
    expect(items[0]).toMatch(/^Exciter: 65.0 W drive/);
    expect(items.at(-1)).toMatch(/^Antenna: 16.0 W, before 1.45 kW/);
    expect(items.some((item) => item.includes("arc, out; 169 W"))).toBe(true);
  });
  it("moves readings, bars and line weight without a redraw", () => {
    const handle = createRef<PathHandle>();
    const { container } = render(
      <PathDiagram view={PATH_STRUCK} variant="wide" onToggleFault={() => {}} handle={handle} />,
    );
    handle.current?.draw(withDrive("48.0"));
    expect(container.querySelector('[data-key="reading:exciter.drive"]')).toHaveTextContent("48.0");
    expect(container.querySelector('[data-key="percent:exciter"]')).toHaveTextContent("50");
    expect(
      container.querySelector<SVGElement>('[data-key="flow:exciter"]')?.style.strokeWidth,
    ).toBe("1.25");
  });
  it("places a fault from the part it belongs to, by pointer and by key", async () => {
    const toggled = vi.fn();
    const user = userEvent.setup();
    render(<PathDiagram view={PATH_STRUCK} variant="wide" onToggleFault={toggled} />);
    await user.click(screen.getByRole("button", { name: "Dust, tuning capacitor: place" }));
    screen.getByRole("button", { name: "Overdrive, exciter: place" }).focus();
    await user.keyboard("{Enter}");
    expect(toggled.mock.calls).toEqual([["dust"], ["overdrive"]]);
  });
  it("says of each fault whether it is placed or struck, and which one opens a caution", () => {
    render(<PathDiagram view={PATH_STRUCK} variant="wide" onToggleFault={() => {}} />);
    expect(
      screen.getByRole("button", { name: "Insect, tuning capacitor: struck, remove" }),
    ).toHaveAttribute("aria-pressed", "true");
    expect(
      screen.getByRole("button", { name: "Flashover, tube: place, opens a caution first" }),
    ).toHaveAttribute("aria-pressed", "false");
  });
  it("on the projector has six parts with the struck one always among them", () => {
    const struckLine = {
      ...PATH_STRUCK,
      parts: PATH_STRUCK.parts.map((part) => ({
        ...part,
        arc: part.symbol === "line" ? { standing: "burning" as const, lines: [] } : null,
      })),
    };
    const parts = shownParts(struckLine, "projector").filter((part) => part.symbol !== "supply");
    expect(parts).toHaveLength(6);
    expect(parts.map((part) => part.symbol)).toContain("line");
  });
  it("says arc while it burns and arc, out afterwards", () => {
    const burning = {
      ...PATH_STRUCK,
      parts: PATH_STRUCK.parts.map((part) =>
        part.arc === null ? part : { ...part, arc: { ...part.arc, standing: "burning" as const } },
      ),
    };
    textReading(layoutPath(burning, 1416, "wide").drawing, "Arc");
    textReading(layoutPath(PATH_STRUCK, 1416, "wide").drawing, "Arc, out");
  });
  it("becomes a list down the sheet on a phone", () => {
    render(<PathDiagram view={PATH_STRUCK} variant="phone" onToggleFault={() => {}} />);
    expect(screen.getByRole("img", { name: PATH_STRUCK.summary })).toHaveTextContent(
      "Tuning capacitor",
    );
  });
});

describe("line weight", () => {
  it("follows power in three steps", () => {
    expect([0, 19, 65, 299, 1450, Number.NaN].map(flowRole)).toEqual([
      "flow1",
      "flow1",
      "flow2",
      "flow2",
      "flow3",
      "flow1",
    ]);
  });
});

describe("stress bars", () => {
  it("of stress have their limit at three quarters and run over it", () => {
    const lengths = barLengths({ key: "a", label: "anode", kind: "stress", fraction: 1.2 }, 100);
    expectWithin(lengths.limitPx, 75, 1e-9, "rounding");
    expectWithin(lengths.fillPx, 75, 1e-9, "rounding");
    expectWithin(lengths.overPx, 15, 1e-9, "0.2 of 75 px");
  });
  it("of damage end at the damage", () => {
    expect(barLengths({ key: "a", label: "edge", kind: "damage", fraction: 3 }, 100)).toEqual({
      fillPx: 100,
      overPx: 0,
      limitPx: 100,
    });
  });
});
