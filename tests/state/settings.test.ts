import { describe, expect, it } from "vitest";
import { createSettings, DEFAULT_PAGE_SETTINGS, readSettings } from "../../src/state/settings";

function memory(kept: Record<string, string> = {}) {
  return {
    kept,
    getItem: (key: string) => kept[key] ?? null,
    setItem: (key: string, value: string) => {
      kept[key] = value;
    },
  };
}

describe("settings of the page", () => {
  it("come back after a reload", () => {
    const store = memory();
    createSettings(store).change({ theme: "dark", letterKeys: false });
    const again = createSettings(store).store.getState();
    expect(again).toMatchObject({
      theme: "dark",
      letterKeys: false,
      motion: "system",
      isKept: true,
    });
  });

  it("fall back to the defaults where what was kept makes no sense", () => {
    for (const text of [
      "",
      "{",
      "null",
      "[]",
      '"dark"',
      '{"theme":"pink","motion":7,"letterKeys":"no"}',
    ])
      expect(readSettings({ ...memory(), getItem: () => text })).toEqual(DEFAULT_PAGE_SETTINGS);
  });

  it("work without a store, and say that nothing is kept", () => {
    const settings = createSettings(null);
    settings.change({ theme: "light" });
    expect(settings.store.getState()).toMatchObject({ theme: "light", isKept: false });
  });

  it("survive a store that is full or forbidden", () => {
    const settings = createSettings({
      getItem: () => {
        throw new Error("denied");
      },
      setItem: () => {
        throw new Error("quota");
      },
    });
    settings.change({ projector: true });
    expect(settings.store.getState()).toMatchObject({ projector: true, isKept: false });
  });
});
