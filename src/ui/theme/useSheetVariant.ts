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

/** What a header has room for beside the state with its two buttons: links and menus, links and one menu, one menu for all. */
export type HeaderRoom = "menus" | "oneMenu" | "menuForAll";

/** The narrowest windows for the first two. */
const MENUS_PX = 1380;
const ONE_MENU_PX = 1240;

function headerRoom(): HeaderRoom {
  if (window.innerWidth >= MENUS_PX) return "menus";
  return window.innerWidth >= ONE_MENU_PX ? "oneMenu" : "menuForAll";
}

/** How a header is to be laid out in this window, watched. */
export function useHeaderRoom(): HeaderRoom {
  return useSyncExternalStore(subscribe, headerRoom, () => "menus");
}

/** Up to this width the side zones of a compact bench stand under its race (bench.css), which has then all the height it needs. */
const SIDE_BELOW_PX = 1160;

function isSideBelow(): boolean {
  return window.innerWidth <= SIDE_BELOW_PX;
}

/** Whether a compact bench has its side zones under the race, watched. */
export function useSideBelow(): boolean {
  return useSyncExternalStore(subscribe, isSideBelow, () => false);
}
