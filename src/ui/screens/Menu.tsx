/** A native disclosure that closes when something in it was chosen, on Escape, outside it, and when focus leaves. */
import { type ReactNode, useEffect, useRef } from "react";

export function Menu({ word, children }: { readonly word: string; readonly children: ReactNode }) {
  const menu = useRef<HTMLDetailsElement | null>(null);
  useEffect(() => {
    const onPointer = (event: PointerEvent): void => {
      const element = menu.current;
      if (element?.open && !element.contains(event.target as Node)) element.open = false;
    };
    document.addEventListener("pointerdown", onPointer);
    return () => document.removeEventListener("pointerdown", onPointer);
  }, []);
  return (
    <details
      className="menu"
      ref={menu}
      onClick={(event) => {
        const target = event.target as HTMLElement;
        if (target.closest(".menu-list :is(button, a)") === null) return;
        event.currentTarget.open = false;
        // a dialog that opens gives focus back to the menu's word, not to an item that is gone
        event.currentTarget.querySelector("summary")?.focus();
      }}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !event.currentTarget.open) return;
        event.currentTarget.open = false;
        event.currentTarget.querySelector("summary")?.focus();
        event.stopPropagation();
      }}
      onBlur={(event) => {
        if (event.relatedTarget === null) return;
        if (!event.currentTarget.contains(event.relatedTarget)) event.currentTarget.open = false;
      }}
    >
      <summary className="bar-button">{word}</summary>
      <div className="menu-list">{children}</div>
    </details>
  );
}
