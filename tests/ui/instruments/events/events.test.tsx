import { fireEvent, render, screen, waitFor } from "@testing-library/react";
import userEvent from "@testing-library/user-event";
import { describe, expect, it, onTestFinished, vi } from "vitest";
import { Announcer } from "../../../../src/ui/instruments/events/Announcer";
import { createAnnouncementQueue } from "../../../../src/ui/instruments/events/announcements";
import { EventList } from "../../../../src/ui/instruments/events/EventList";
import { EVENTS } from "../support/demoPanel";

describe("announcements", () => {
  it("come at most once a second and lose nothing", () => {
    const queue = createAnnouncementQueue();
    expect(queue.add("Low gain pickup.", 0)).toBe("Low gain pickup.");
    expect(queue.add("Low gain operate.", 3)).toBeNull();
    expect(queue.add("Trip.", 4)).toBeNull();
    expect(queue.waitMs(4)).toBe(996);
    expect(queue.flush(999)).toBeNull();
    expect(queue.flush(1000)).toBe("Low gain operate. Trip.");
    expect(queue.waitMs(1000)).toBe(0);
  });
  it("do not repeat what already waits", () => {
    const queue = createAnnouncementQueue();
    queue.add("a", 0);
    queue.add("b", 1);
    queue.add("b", 2);
    expect(queue.flush(1001)).toBe("b");
  });
  it("stand in a polite status region, each said once", () => {
    const { rerender } = render(
      <Announcer announcements={[{ key: "1", sentence: "Low gain operate." }]} />,
    );
    expect(screen.getByRole("status")).toHaveTextContent("Low gain operate.");
    rerender(<Announcer announcements={[{ key: "1", sentence: "Low gain operate." }]} />);
    expect(screen.getByRole("status")).toHaveTextContent("Low gain operate.");
  });
});

describe("the sequence of events", () => {
  it("gives time from the strike, the state word strong, and who was first up", () => {
    render(<EventList view={EVENTS} />);
    const rows = screen.getAllByRole("listitem");
    expect(rows[3]).toHaveTextContent("930 µs");
    expect(rows[3]?.querySelector("b")).toHaveTextContent("pickup");
    expect(rows[3]).toHaveTextContent("first up");
    expect(rows[2]).toHaveTextContent(/^0/);
  });
  it("draws the rule of now after the last thing that happened", () => {
    const { container } = render(<EventList view={EVENTS} />);
    expect(container.querySelectorAll(".last-past")).toHaveLength(1);
    expect(container.querySelector(".last-past")).toHaveTextContent("Arc out");
  });
  it("takes the play head to an event, not to one still ahead", async () => {
    const jumped = vi.fn();
    render(<EventList view={EVENTS} onJump={jumped} />);
    await userEvent
      .setup()
      .click(screen.getAllByRole("button", { name: /Go to 3\.63/ })[0] as HTMLElement);
    expect(jumped).toHaveBeenCalledWith(3.63e-3);
    expect(screen.queryByRole("button", { name: /221/ })).toBeNull();
  });
  /** A list 200 px long whose rows come and whose panel is sized and scrolled from outside. */
  function scrolled() {
    const rows = EVENTS.rows.map((row) => ({ ...row, ahead: false }));
    const list = (count: number, heldKey: string | null) => (
      <EventList view={{ ...EVENTS, rows: rows.slice(0, count), heldKey }} />
    );
    const { rerender } = render(list(5, null));
    const panel = screen.getByRole("region");
    Object.defineProperty(panel, "scrollHeight", { value: 200 });
    return {
      panel,
      heldKey: rows[2]?.key ?? "",
      show: (count: number, heldKey: string | null = null) => rerender(list(count, heldKey)),
      sized: (clientHeight: number, scrollTop: number) => {
        Object.defineProperty(panel, "clientHeight", { value: clientHeight, configurable: true });
        panel.scrollTop = scrollTop;
        fireEvent.scroll(panel);
      },
    };
  }
  const painted = () => new Promise((done) => setTimeout(done, 60));

  it("goes on to follow when its panel has grown, and stays where a person has scrolled it", async () => {
    const { panel, show, sized } = scrolled();
    sized(100, 100);
    show(6);
    await waitFor(() => expect(panel.scrollTop).toBe(200));
    sized(140, 60); // held to its new end by the browser
    show(7);
    await waitFor(() => expect(panel.scrollTop).toBe(200));
    sized(140, 10); // by a person
    show(8);
    await painted();
    expect(panel.scrollTop).toBe(10);
  });
  it("keeps the last that happened in sight in a low panel with high rows, and two rows after it in a higher one", async () => {
    const rows = EVENTS.rows.map((row, i) => ({ ...row, ahead: i > 3 }));
    const list = (count: number) => <EventList view={{ ...EVENTS, rows: rows.slice(0, count) }} />;
    const { container, rerender } = render(list(5));
    const panel = screen.getByRole("region");
    const lastPast = container.querySelector(".last-past") as HTMLElement;
    Object.defineProperty(lastPast, "offsetTop", { value: 200 });
    Object.defineProperty(lastPast, "offsetHeight", { value: 44 });
    Object.defineProperty(panel, "clientHeight", { value: 80, configurable: true });
    rerender(list(6));
    await waitFor(() => expect(panel.scrollTop).toBe(200));
    Object.defineProperty(panel, "clientHeight", { value: 240, configurable: true });
    rerender(list(7));
    // its top, less the panel, and three rows
    await waitFor(() => expect(panel.scrollTop).toBe(200 - 240 + 132));
  });
  it("keeps the held row at the top where rows of another width have moved it, unless a person has scrolled", async () => {
    let resized = () => {};
    vi.stubGlobal(
      "ResizeObserver",
      class {
        constructor(told: () => void) {
          resized = told;
        }
        observe(): void {}
        disconnect(): void {}
      },
    );
    onTestFinished(() => void vi.unstubAllGlobals());
    const { panel, heldKey, show, sized } = scrolled();
    show(7, heldKey);
    const held = panel.querySelector(".held") as HTMLElement;
    Object.defineProperty(held, "offsetTop", { value: 60, configurable: true });
    await waitFor(() => expect(panel.scrollTop).toBe(60));
    Object.defineProperty(held, "offsetTop", { value: 74, configurable: true });
    resized();
    expect(panel.scrollTop).toBe(74);
    sized(100, 10); // by a person
    resized();
    expect(panel.scrollTop).toBe(10);
  });
  it.each([
    ["a panel that has grown", 180, 20, 200],
    ["a person at the end of the list", 100, 100, 200],
    ["nobody who has scrolled back", 100, 10, 10],
  ])("follows after a held race for %s", async (_who, clientHeight, scrollTop, expected) => {
    const { panel, heldKey, show, sized } = scrolled();
    await painted();
    show(7, heldKey);
    const held = panel.querySelector(".held") as HTMLElement;
    Object.defineProperty(held, "offsetTop", { value: 60 });
    await waitFor(() => expect(panel.scrollTop).toBe(60));
    sized(clientHeight, scrollTop);
    show(8, heldKey);
    await painted();
    // the held row is put back where the panel alone has moved, not from under a person
    expect(panel.scrollTop).toBe(clientHeight === 180 ? 60 : scrollTop);
    show(9);
    await painted();
    expect(panel.scrollTop).toBe(expected);
  });
  it("takes nobody to what the run left alone came to, and keeps one stop of the Tab key", () => {
    const last = EVENTS.rows.findLastIndex((row) => !row.ahead);
    const rows = EVENTS.rows.map((row, i) => (i === last ? { ...row, leftAlone: true } : row));
    render(<EventList view={{ ...EVENTS, rows }} onJump={() => {}} />);
    const buttons = screen.getAllByRole("button", { name: /^Go to/ });
    expect(buttons).toHaveLength(last);
    expect(buttons.filter((button) => button.tabIndex === 0)).toEqual([buttons[last - 1]]);
  });
});
