/** Which sheet the window asks for, watched: width, height and the projector theme. */
import { useSyncExternalStore } from "react";
import { type SheetVariant, variantFor } from "./metrics";

function subscribe(changed: () => void): () => void {
  window.addEventListener("resize", changed);
  const watcher = new MutationObserver(changed);
  watcher.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
  return () => {
    window.removeEventListener("resize", changed);
    watcher.disconnect();
  };
}

function currentVariant(): SheetVariant {
  return variantFor(
    window.innerWidth,
    window.innerHeight,
    document.documentElement.dataset.theme === "projector",
  );
}

/** The variant every drawing of the page is to be laid out for. */
export function useSheetVariant(): SheetVariant {
  return useSyncExternalStore(subscribe, currentVariant, () => "wide");
}

/** The narrowest window that has links, menus and the state with its two buttons in one line. */
const HEADER_LINE_PX = 1161;

/** Whether the window is too narrow for a header in one line. */
export function useNarrowHeader(): boolean {
  return useSyncExternalStore(
    subscribe,
    () => window.innerWidth < HEADER_LINE_PX,
    () => false,
  );
}
