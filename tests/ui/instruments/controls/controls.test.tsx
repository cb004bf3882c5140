import { fireEvent, render, screen } from "@testing-library/react";
import userEvent from "@testing-library/user-event";
import { useState } from "react";
import { describe, expect, it, vi } from "vitest";
import { defaultProject } from "../../../../src/project/defaults";
import type { WorldView } from "../../../../src/shells/bench/worldView";
import { ControlField, steppedValue } from "../../../../src/ui/instruments/controls/ControlField";
import { FaultList } from "../../../../src/ui/instruments/controls/FaultList";
import { MonitorTable } from "../../../../src/ui/instruments/controls/MonitorTable";
import { SegmentedChoice } from "../../../../src/ui/instruments/controls/SegmentedChoice";
import { monitorRows } from "../../../../src/ui/screens/bench/views/monitorRows";
import { formatNumber, formatQuantity } from "../../../../src/units/format";
import { parseQuantity } from "../../../../src/units/parseQuantity";
import { expectWithin } from "../../../support/expectWithin";

function Drive({ onCommit }: { readonly onCommit: (value: number, from: number) => void }) {
  const [value, setValue] = useState(62);
  return (
    <ControlField
      name="Drive"
      value={value}
      minimum={0}
      maximum={200}
      step={1}
      unit="W"
      format={(w) => formatNumber(w)}
      formatFull={(w) => formatQuantity(w, "W")}
      parse={(typed) => parseQuantity(typed, "W")}
      onChange={setValue}
      onCommit={onCommit}
    />
  );
}

describe("a control", () => {
  it("takes a typed value with its unit, shows how it was read, and applies it on Enter", async () => {
    const committed = vi.fn();
    const user = userEvent.setup();
    render(<Drive onCommit={committed} />);
    const field = screen.getByRole("textbox", { name: "Drive, W" });
    await user.clear(field);
    await user.type(field, "0,08k");
    expect(screen.getByText("= 80 W")).toBeVisible();
    expect(committed).not.toHaveBeenCalled();
    await user.keyboard("{Enter}");
    expect(committed).toHaveBeenCalledWith(80, 62);
    expect(field).toHaveValue("80.0");
  });
  it("names field, value and range when a value is outside, and does not apply it", async () => {
    const committed = vi.fn();
    const user = userEvent.setup();
    render(<Drive onCommit={committed} />);
    const field = screen.getByRole("textbox");
    await user.clear(field);
    await user.type(field, "300");
    expect(screen.queryByRole("alert")).toBeNull();
    await user.keyboard("{Enter}");
    expect(screen.getByRole("alert")).toHaveTextContent("is outside");
    expect(field).toHaveAccessibleDescription(
      "Drive 300\u00a0W is outside 0.00\u00a0W to 200\u00a0W.",
    );
    expect(field).toHaveAttribute("aria-invalid", "true");
    expect(committed).not.toHaveBeenCalled();
    await user.keyboard("{Escape}");
    expect(field).toHaveValue("62.0");
  });
  it("offers both readings of an ambiguous number as buttons", async () => {
    const user = userEvent.setup();
    render(<Drive onCommit={() => {}} />);
    const field = screen.getByRole("textbox");
    await user.clear(field);
    await user.type(field, "1,234");
    await user.click(screen.getByRole("button", { name: "1.234 W" }));
    expect(field).toHaveValue("1.234 W");
  });
  it("moves by keys: arrow fine, Shift and Page ten times, Home and End the limits", () => {
    const committed = vi.fn();
    render(<Drive onCommit={committed} />);
    const slider = screen.getByRole("slider", { name: "Drive" });
    for (const [key, shiftKey] of [
      ["ArrowRight", false],
      ["ArrowUp", true],
      ["PageDown", false],
      ["Home", false],
      ["End", false],
    ] as const) {
      fireEvent.keyDown(slider, { key, shiftKey });
      fireEvent.keyUp(slider, { key });
    }
    expect(committed.mock.calls).toEqual([
      [63, 62],
      [73, 63],
      [63, 73],
      [0, 63],
      [200, 0],
    ]);
  });
  it("counts one gesture as one commit, with the value it began at", () => {
    const committed = vi.fn();
    render(<Drive onCommit={committed} />);
    const slider = screen.getByRole("slider");
    for (const value of ["70", "80", "90"]) fireEvent.change(slider, { target: { value } });
    fireEvent.pointerUp(slider);
    expect(committed.mock.calls).toEqual([[90, 62]]);
    expect(screen.getByRole("textbox")).toHaveValue("90.0");
  });
  it("has a plus and a minus beside the slider, for whoever cannot drag", async () => {
    const committed = vi.fn();
    const user = userEvent.setup();
    render(<Drive onCommit={committed} />);
    await user.click(screen.getByRole("button", { name: "Drive up" }));
    await user.click(screen.getByRole("button", { name: "Drive down" }));
    expect(committed.mock.calls).toEqual([
      [63, 62],
      [62, 63],
    ]);
  });
  it("comes home exactly when stepped up and down again", () => {
    let value = 0.3;
    for (let i = 0; i < 7; i += 1) value = steppedValue(value, 1, 0.1, 0, 10);
    for (let i = 0; i < 7; i += 1) value = steppedValue(value, -1, 0.1, 0, 10);
    expectWithin(value, 0.3, 1e-15, "one product of doubles");
  });
});

describe("a choice of a few", () => {
  it("is a group of radio buttons moved by the arrow keys", async () => {
    const chosen = vi.fn();
    const user = userEvent.setup();
    render(
      <SegmentedChoice
        name="Key"
        options={[
          { value: "up", word: "Key up" },
          { value: "down", word: "Key down" },
        ]}
        value="up"
        onChoose={chosen}
      />,
    );
    expect(screen.getByRole("group", { name: "Key" })).toBeVisible();
    screen.getByRole("radio", { name: "Key up" }).focus();
    await user.keyboard("{ArrowRight}");
    expect(chosen).toHaveBeenCalledWith("down");
  });
});

describe("the list of faults", () => {
  it("places a fault and sets how severe it is", async () => {
    const toggled = vi.fn();
    const severe = vi.fn();
    render(
      <FaultList
        faults={[
          {
            key: "insect",
            word: "Insect",
            placeWord: "tuning capacitor",
            standing: "free",
            neverByHand: false,
            severity: 1,
            severityWord: "",
            shortWord: "Insect",
            foldedUnder: null,
          },
          {
            key: "dust",
            word: "Dust",
            placeWord: "tuning capacitor",
            standing: "placed",
            neverByHand: false,
            severity: 0.5,
            severityWord: "gap 0.70 mm left",
            shortWord: "Dust",
            foldedUnder: null,
          },
        ]}
        onToggle={toggled}
        onSeverity={severe}
      />,
    );
    await userEvent.setup().click(screen.getByRole("button", { name: /Insect/ }));
    expect(toggled).toHaveBeenCalledWith("insect");
    fireEvent.change(screen.getByRole("slider", { name: "Dust, severity" }), {
      target: { value: "0.75" },
    });
    expect(severe).toHaveBeenCalledWith("dust", 0.75);
    expect(screen.getAllByRole("slider")).toHaveLength(1);
  });
});

describe("the monitors in rows", () => {
  it("set mode, pickup and delay, each in the unit its field stands in", async () => {
    const mode = vi.fn();
    const delay = vi.fn();
    const user = userEvent.setup();
    render(
      <MonitorTable
        rows={[
          {
            key: "g",
            name: "Low gain",
            device: "",
            watches: "forward gain",
            mode: "acting",
            pickup: { value: 2, minimum: 0.5, maximum: 10, unit: "dB" },
            delay: { value: 2e-3, minimum: 0, maximum: 1, unit: "s", prefix: "m" },
            state: "no pickup",
            stateWord: "no pickup",
            isNew: false,
            operateCount: 0,
          },
        ]}
        onMode={mode}
        onPickup={() => {}}
        onDelay={delay}
      />,
    );
    await user.selectOptions(screen.getByRole("combobox", { name: "Low gain acts" }), "shadow");
    expect(mode).toHaveBeenCalledWith("g", "shadow");
    const field = screen.getByRole("textbox", { name: "Low gain delay, ms" });
    expect(field).toHaveValue("2.00");
    await user.clear(field);
    await user.type(field, "5{Enter}");
    expectWithin(delay.mock.calls[0]?.[1] as number, 5e-3, 1e-18, "one product of doubles");
  });
  it("stand in degrees Celsius, and a share says what it is a share of", async () => {
    const pickup = vi.fn();
    const user = userEvent.setup();
    const world = { settings: defaultProject().monitors, monitors: [] };
    const rows = monitorRows(world as unknown as WorldView, []).map(
      (row) => ({ ...row, mode: "acting" }) as const,
    );
    render(<MonitorTable rows={rows} onMode={() => {}} onPickup={pickup} onDelay={() => {}} />);
    const field = (name: string) => screen.getByRole("textbox", { name });
    expect(field("Efficiency pickup, % of plate input")).toHaveValue("35.0");
    expect(field("Input reflected power pickup, % of the drive")).toHaveValue("25.0");
    expect(field("Grid to plate current pickup, % of plate current")).toHaveValue("20.0");
    const air = field("Exhaust air temperature pickup, °C");
    expect(air).toHaveValue("110");
    await user.clear(air);
    await user.type(air, "95{Enter}");
    // 0 °C is 273.15 K: SI Brochure, 9th edition, 2.3.1
    expectWithin(pickup.mock.calls[0]?.[1] as number, 368.15, 1e-12, "one sum of doubles");
  });
});
