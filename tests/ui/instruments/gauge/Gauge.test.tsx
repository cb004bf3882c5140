import { render, screen } from "@testing-library/react";
import { createRef } from "react";
import { describe, expect, it } from "vitest";
import { Gauge, gaugeSentence } from "../../../../src/ui/instruments/gauge/Gauge";
import { GaugeReading } from "../../../../src/ui/instruments/gauge/GaugeReading";
import { layoutGauge, needleAngleDeg } from "../../../../src/ui/instruments/gauge/gaugeLayout";
import type { GaugeHandle } from "../../../../src/ui/instruments/gauge/gaugeView";
import { metricsOf } from "../../../../src/ui/theme/metrics";
import { expectWithin } from "../../../support/expectWithin";
import { GAUGES } from "../support/demoPanel";
import { flat } from "../support/shapes";

function demoGauge(key: string) {
  const found = GAUGES.find((gauge) => gauge.view.key === key);
  if (found === undefined) throw new Error(`no gauge ${key}`);
  return found;
}

describe("the needle", () => {
  it("travels 84 degrees clockwise from one end of the scale to the other", () => {
    expectWithin(needleAngleDeg(0, 0, 2.5), -42, 1e-9, "rounding");
    expectWithin(needleAngleDeg(2.5, 0, 2.5), 42, 1e-9, "rounding");
    expectWithin(needleAngleDeg(1.25, 0, 2.5), 0, 1e-9, "rounding");
  });
  it("stops a little beyond the ends, as at a pin", () => {
    expect(needleAngleDeg(100, 0, 2.5)).toBeLessThan(46);
    expect(needleAngleDeg(-100, 0, 2.5)).toBeGreaterThan(-46);
  });
  it("is drawn within class 2.5 of what it is told", () => {
    const { view, initial } = demoGauge("plate");
    const handle = createRef<GaugeHandle>();
    const { container } = render(
      <Gauge view={view} variant="wide" initial={initial} handle={handle} />,
    );
    handle.current?.draw({ needle: 1.234, value: 1.234 }, true);
    const turned = /rotate\((-?[\d.]+)deg\)/.exec(
      container.querySelector<SVGGElement>(".needle")?.style.transform ?? "",
    )?.[1];
    const shown = (Number(turned) / 84 + 0.5) * 2.5;
    // IEC 60051: class 2.5 is 2.5 % of the fiducial value, here full scale; drawing may take a tenth of that.
    expectWithin(shown, 1.234, 0.0025 * 2.5, "a tenth of class 2.5, at full scale 2.5 A");
  });
});

describe("a gauge", () => {
  it("is a meter with a name, a range, a value and words", () => {
    const { view, initial } = demoGauge("plate");
    render(<Gauge view={view} variant="wide" initial={initial} />);
    const meter = screen.getByRole("meter", { name: "Plate current" });
    expect(meter).toHaveAttribute("aria-valuemin", "0");
    expect(meter).toHaveAttribute("aria-valuemax", "2.5");
    expect(meter).toHaveAttribute("aria-valuenow", "0.92");
    expect(meter).toHaveAttribute(
      "aria-valuetext",
      "0.920 ampere, pickup at 1.05 ampere, state no pickup",
    );
  });
  it("shows the panel meter's needle and the true value apart", () => {
    const { view, initial } = demoGauge("plate");
    const handle = createRef<GaugeHandle>();
    const { container } = render(
      <Gauge view={view} variant="wide" initial={initial} handle={handle} />,
    );
    handle.current?.draw({ needle: 2.5, value: 0.1 }, true);
    expect(container.querySelector<SVGGElement>(".needle")?.style.transform).toBe("rotate(42deg)");
    expect(screen.getByRole("meter")).toHaveTextContent("0.100");
    expect(screen.getByRole("meter")).toHaveAttribute("aria-valuenow", "0.1");
  });
  it("moves the needle without touching the figures between figure frames", () => {
    const { view, initial } = demoGauge("plate");
    const handle = createRef<GaugeHandle>();
    render(<Gauge view={view} variant="wide" initial={initial} handle={handle} />);
    handle.current?.draw({ needle: 2, value: 2 }, false);
    expect(screen.getByRole("meter")).toHaveTextContent("0.920");
  });
  it("without a reading has no needle, a dash and the reason", () => {
    const { view, initial } = demoGauge("reflected");
    const { container } = render(<Gauge view={view} variant="wide" initial={initial} />);
    expect(container.querySelector(".needle")).toBeNull();
    expect(screen.getByRole("meter")).toHaveTextContent("sensor open");
    expect(gaugeSentence(view, Number.NaN)).toBe("no reading, sensor open");
  });
  it("keeps its values when its view changes on an event", () => {
    const { view, initial } = demoGauge("plate");
    const handle = createRef<GaugeHandle>();
    const { rerender } = render(
      <Gauge view={view} variant="wide" initial={initial} handle={handle} />,
    );
    handle.current?.draw({ needle: 1.5, value: 1.5 }, true);
    rerender(
      <Gauge
        view={{ ...view, state: "pickup", stateWord: "pickup" }}
        variant="wide"
        initial={initial}
        handle={handle}
      />,
    );
    expect(screen.getByRole("meter")).toHaveTextContent("1.50");
    expect(screen.getByRole("meter")).toHaveAttribute(
      "aria-valuetext",
      "1.50 ampere, pickup at 1.05 ampere, state pickup",
    );
  });
  it("marks pickup, limit and the value before the fault on its scale", () => {
    const roles = flat(layoutGauge(demoGauge("plate").view, 148, metricsOf("wide")).frame).map(
      (shape) => ("role" in shape ? shape.role : ""),
    );
    for (const role of ["pickupMark", "limit", "limitZone", "before"])
      expect(roles).toContain(role);
  });
  it("says new in words too while an operate is not acknowledged", () => {
    const { view, initial } = demoGauge("gain");
    render(<Gauge view={view} variant="wide" initial={initial} />);
    expect(screen.getByRole("meter")).toHaveTextContent("new");
  });
  it("as a line of figures says the same", () => {
    const { view, initial } = demoGauge("plate");
    render(<GaugeReading view={view} initial={initial} />);
    expect(
      screen.getByRole("group", {
        name: "Plate current: 0.920 ampere, pickup at 1.05 ampere, state no pickup",
      }),
    ).toHaveTextContent("0.920");
  });
});
