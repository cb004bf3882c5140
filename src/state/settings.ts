/**
 * What a person chose about the page itself: theme, motion, letter keys. Kept in the browser where that is
 * allowed; a full, blocked or spoilt store never breaks the page, it only forgets.
 */
import { createStore, type StoreApi } from "zustand/vanilla";

export interface PageSettings {
  /** `system` follows the browser. */
  readonly theme: "system" | "light" | "dark";
  /** Larger type and thicker traces on a light ground. */
  readonly projector: boolean;
  readonly motion: "system" | "reduced" | "full";
  /** Single-letter keys; off for those who speak to their browser. */
  readonly letterKeys: boolean;
  /** The cautions of the first start have been read. */
  readonly cautionSeen: boolean;
}

export interface SettingsState extends PageSettings {
  /** False where the browser keeps nothing: said once, the page works all the same. */
  readonly isKept: boolean;
}

export const DEFAULT_PAGE_SETTINGS: PageSettings = {
  theme: "system",
  projector: false,
  motion: "system",
  letterKeys: true,
  cautionSeen: false,
};

const KEY = "quietarc-settings-1";

export interface TextStore {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
}

/** The browser's store; null where the page may not use it. */
export function browserStore(): TextStore | null {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null; // some browsers throw on the mere name when storage is blocked
  }
}

/** Settings as they were kept, defaults for whatever is missing or makes no sense. */
export function readSettings(kept: TextStore | null): PageSettings {
  try {
    const raw: unknown = JSON.parse(kept?.getItem(KEY) ?? "{}");
    if (typeof raw !== "object" || raw === null) return DEFAULT_PAGE_SETTINGS;
    const { theme, projector, motion, letterKeys, cautionSeen } = raw as Record<string, unknown>;
    const d = DEFAULT_PAGE_SETTINGS;
    return {
      theme: theme === "light" || theme === "dark" ? theme : d.theme,
      projector: typeof projector === "boolean" ? projector : d.projector,
      motion: motion === "reduced" || motion === "full" ? motion : d.motion,
      letterKeys: typeof letterKeys === "boolean" ? letterKeys : d.letterKeys,
      cautionSeen: cautionSeen === true,
    };
  } catch {
    return DEFAULT_PAGE_SETTINGS;
  }
}

/** A store of the page's settings, kept in `kept`. */
export function createSettings(kept: TextStore | null = browserStore()) {
  const store: StoreApi<SettingsState> = createStore<SettingsState>()(() => ({
    ...readSettings(kept),
    isKept: kept !== null,
  }));
  return {
    store,
    change(change: Partial<PageSettings>): void {
      store.setState(change);
      const { isKept: _, ...settings } = store.getState();
      try {
        kept?.setItem(KEY, JSON.stringify(settings));
      } catch {
        store.setState({ isKept: false });
      }
    },
  };
}
