/**
 * Tips of charts go when Escape is pressed, and that key does nothing else then: the dialog the chart stands in stays.
 * A tip comes back when the pointer comes anew or another key is pressed (WCAG 2.2, 1.4.13).
 *
 * The layers a chart is drawn in listen for the focus, for which a browser may take them for something to stop at: they have no name
 * and do nothing, so Tab leaves them out (WCAG 2.2, 2.4.3).
 */
import "./chartTips.css";

const CHART = ".recharts-wrapper";
const TIP = ".recharts-tooltip-wrapper";
const AWAY = "data-tip-away";
const BARE_LAYER = `${CHART} g[class*="zIndex-layer"]:not([tabindex])`;

/** One that was put away is still there, only not seen: Escape is then for whatever else it ends. */
function isShown(tip: Element): boolean {
  return (
    tip.closest(`[${AWAY}]`) === null &&
    getComputedStyle(tip).visibility === "visible" &&
    tip.childElementCount > 0
  );
}

/** Watches the whole document; answers how to stop. */
export function watchChartTips(): () => void {
  const onKey = (event: KeyboardEvent): void => {
    if (event.key === "Tab")
      for (const layer of document.querySelectorAll(BARE_LAYER))
        layer.setAttribute("tabindex", "-1");
    if (event.key !== "Escape") {
      for (const chart of document.querySelectorAll(`[${AWAY}]`)) chart.removeAttribute(AWAY);
      return;
    }
    const shown = [...document.querySelectorAll(TIP)].filter(isShown);
    for (const tip of shown) tip.closest(CHART)?.setAttribute(AWAY, "");
    if (shown.length === 0) return;
    event.preventDefault();
    event.stopPropagation();
  };
  const onOut = (event: PointerEvent): void => {
    const chart = (event.target as Element).closest(CHART);
    if (chart !== null && !chart.contains(event.relatedTarget as Node | null)) {
      chart.removeAttribute(AWAY);
    }
  };
  document.addEventListener("keydown", onKey, true);
  document.addEventListener("pointerout", onOut);
  return () => {
    document.removeEventListener("keydown", onKey, true);
    document.removeEventListener("pointerout", onOut);
  };
}
