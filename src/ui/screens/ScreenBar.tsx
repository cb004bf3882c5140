/** Header of every screen: name, links between the screens, menus, and at the end what the screen itself has to say. */
import type { ReactNode } from "react";
import type { SheetVariant } from "../theme/metrics";
import { useHeaderRoom } from "../theme/useSheetVariant";
import { Menu } from "./Menu";
import { ScreenLinks } from "./screens";

/** A menu of buttons, or one button that stands by itself. */
export type BarEntry =
  | { readonly word: string; readonly items: ReactNode }
  | { readonly word: string; readonly onPress: () => void };

export interface ScreenBarProps {
  readonly variant: SheetVariant;
  readonly entries: readonly BarEntry[];
  /** Left of the bar's end: where one is, and how things stand. */
  readonly children: ReactNode;
}

export function ScreenBar({ variant, entries, children }: ScreenBarProps) {
  const window = useHeaderRoom();
  const room = variant === "projector" || variant === "phone" ? "menuForAll" : window;
  const menu = (links: ReactNode) => (
    <Menu word="Menu">
      {links}
      {entries.map((entry) => (
        <SmallEntry key={entry.word} entry={entry} />
      ))}
    </Menu>
  );
  return (
    <header className="bar">
      <h1 className="wordmark">
        <img src="./favicon.svg" alt="" width="22" height="22" />
        Quietarc
      </h1>
      <nav aria-label="Screens and files">
        {room === "menuForAll" ? (
          menu(<ScreenLinks inMenu />)
        ) : (
          <ul>
            <ScreenLinks />
            {room === "oneMenu" && <li>{menu(null)}</li>}
            {room === "menus" &&
              entries.map((entry) => (
                <li key={entry.word}>
                  {"items" in entry ? (
                    <Menu word={entry.word}>{entry.items}</Menu>
                  ) : (
                    <button type="button" className="bar-button" onClick={entry.onPress}>
                      {entry.word}
                    </button>
                  )}
                </li>
              ))}
          </ul>
        )}
      </nav>
      {children}
    </header>
  );
}

/** In the one menu of a small sheet everything stands in one list. */
function SmallEntry({ entry }: { readonly entry: BarEntry }) {
  if ("items" in entry) return entry.items;
  return (
    <button type="button" onClick={entry.onPress}>
      {entry.word}
    </button>
  );
}

export interface FileItemsProps {
  readonly onOpen: () => void;
  readonly onSave: () => void;
}

/** The two things every screen does with the project. */
export function FileItems({ onOpen, onSave }: FileItemsProps) {
  return (
    <>
      <button type="button" onClick={onOpen}>
        Open project…
      </button>
      <button type="button" onClick={onSave}>
        Save project
      </button>
    </>
  );
}
