/** The screens that are built, the links between them, and which one the address asks for. */
import { useEffect, useRef, useSyncExternalStore } from "react";

export type ScreenName = "bench" | "station" | "monitors" | "coordination" | "trials";

const SCREENS: readonly { readonly name: ScreenName; readonly word: string }[] = [
  { name: "bench", word: "Bench" },
  { name: "station", word: "Station" },
  { name: "monitors", word: "Monitors" },
  { name: "coordination", word: "Coordination" },
  { name: "trials", word: "Trials" },
];

/** The address has changed and the heading of the new screen has not been reached yet. */
let isMoved = false;

function subscribe(changed: () => void): () => void {
  const onMove = (): void => {
    isMoved = true;
    changed();
  };
  window.addEventListener("hashchange", onMove);
  return () => window.removeEventListener("hashchange", onMove);
}

function asked(): ScreenName {
  const [name] = window.location.hash.slice(1).split("/");
  return SCREENS.find((s) => s.name === name)?.name ?? "bench";
}

/** The screen that the address names after #; the bench where it names none. */
export function useScreen(): ScreenName {
  return useSyncExternalStore(subscribe, asked, () => "bench");
}

/** What the address asks of the screen, behind its name and a slash: `#trials/whyNotShorter`; empty for nothing. */
export function useScreenDetail(): string {
  return useSyncExternalStore(
    subscribe,
    () => window.location.hash.split("/")[1] ?? "",
    () => "",
  );
}

/** Links of the header. As list items, or plain inside a menu. */
export function ScreenLinks({ inMenu = false }: { readonly inMenu?: boolean }) {
  const current = useScreen();
  return SCREENS.map(({ name, word }) => {
    const link = (
      <a key={name} href={`#${name}`} aria-current={name === current ? "page" : undefined}>
        {word}
      </a>
    );
    return inMenu ? link : <li key={name}>{link}</li>;
  });
}

/** Focus comes to a screen's heading when the screen is gone to, not when the page is opened on it. */
export function useScreenHeading() {
  const heading = useRef<HTMLHeadingElement | null>(null);
  useEffect(() => {
    // a screen that is shown again runs its effects again
    if (isMoved) heading.current?.focus();
    isMoved = false;
  }, []);
  return heading;
}
