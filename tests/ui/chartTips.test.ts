import { afterEach, expect, it } from "vitest";
import { watchChartTips } from "../../src/ui/chartTips";

afterEach(() => {
  document.body.replaceChildren();
});

function pressEscape(): boolean {
  const event = new KeyboardEvent("keydown", { key: "Escape", bubbles: true, cancelable: true });
  document.body.dispatchEvent(event);
  return event.defaultPrevented;
}

it("Escape puts a tip away, and the next one is for whatever else it ends", () => {
  document.body.innerHTML =
    '<div class="recharts-wrapper"><div class="recharts-tooltip-wrapper" style="visibility: visible"><p>1 A</p></div></div>';
  const stop = watchChartTips();
  expect(pressEscape()).toBe(true);
  expect(pressEscape()).toBe(false);
  // another key brings it back
  document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowRight", bubbles: true }));
  expect(pressEscape()).toBe(true);
  stop();
  document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowRight", bubbles: true }));
  expect(pressEscape()).toBe(false);
});
