/** What a finger and the focus reach: size and room of every target, and whether anything lies over what has the focus. */
import type { Page } from "@playwright/test";

/** Everything that can be pressed, moved or typed into, dialogs that are closed left out. */
const TARGETS =
  "a[href], button:not([disabled]), summary, select, input:not([type=file]), [role=slider], [tabindex='0']";

/**
 * Targets under a size that have no room of that size for themselves either. WCAG 2.2, 2.5.8: 24 px, or a circle of 24 px
 * on the middle of the target that meets no other target.
 */
export function smallTargets(page: Page, leastPx: number): Promise<readonly string[]> {
  return page.evaluate(
    ({ selector, least }) => {
      const shown = [...document.querySelectorAll(selector)].flatMap((element) => {
        // pressing a label is pressing what it names
        const part = element.matches("input") ? (element.closest("label") ?? element) : element;
        const box = part.getBoundingClientRect();
        const isSeen = part.checkVisibility({ visibilityProperty: true }) && box.width > 1;
        return isSeen ? [{ element, box }] : [];
      });
      const isUnder = (px: number): boolean => px < least - 0.5; // half a pixel of rounding
      return shown.flatMap(({ element, box }) => {
        if (!isUnder(box.width) && !isUnder(box.height)) return [];
        const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
        const isNear = shown.some((other) => {
          if (other.element === element) return false;
          const dx = Math.max(other.box.left - x, 0, x - other.box.right);
          const dy = Math.max(other.box.top - y, 0, y - other.box.bottom);
          return Math.hypot(dx, dy) < least / 2 - 0.5;
        });
        const name = element.getAttribute("aria-label") ?? element.textContent ?? "";
        return isNear ? [`${element.tagName} ${name}: ${box.width} x ${box.height}`] : [];
      });
    },
    { selector: TARGETS, least: leastPx },
  );
}

/** What lies wholly under something else when it has the focus, forwards and back through the page. WCAG 2.2, 2.4.11. */
export function coveredWhenFocused(page: Page): Promise<readonly string[]> {
  return page.evaluate((selector) => {
    const all = [...document.querySelectorAll<HTMLElement>(selector)].filter((element) =>
      element.checkVisibility({ visibilityProperty: true }),
    );
    const isSeen = (element: HTMLElement): boolean => {
      const part = element.matches("input") ? (element.closest("label") ?? element) : element;
      const box = part.getBoundingClientRect();
      const parts = [0.05, 0.25, 0.5, 0.75, 0.95];
      return parts.some((across) =>
        parts.some((down) => {
          const at = document.elementFromPoint(
            box.x + across * box.width,
            box.y + down * box.height,
          );
          return at !== null && (part.contains(at) || at.contains(element));
        }),
      );
    };
    const covered = new Set<string>();
    for (const element of [...all, ...all.toReversed()]) {
      element.focus();
      if (document.activeElement !== element || isSeen(element)) continue;
      covered.add(
        `${element.tagName} ${element.getAttribute("aria-label") ?? element.textContent}`,
      );
    }
    return [...covered];
  }, TARGETS);
}

/** Pixels by which the page is wider than its window: what only scrolling sideways would reach. */
export function widerBy(page: Page): Promise<number> {
  return page.evaluate(() => {
    const root = document.scrollingElement ?? document.documentElement;
    return root.scrollWidth - root.clientWidth;
  });
}

/** What bars the way on a phone: targets under 44 px that have no such room, and what lies under something when it has the focus. */
export async function troubleOnPhone(page: Page): Promise<readonly string[]> {
  const client = await page.context().newCDPSession(page);
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: true });
  await page.setViewportSize({ width: 390, height: 844 });
  await page.locator(".sheet-page.phone, .coordination-page.phone").waitFor();
  const found = [...(await smallTargets(page, 44)), ...(await coveredWhenFocused(page))];
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: false });
  return found;
}
