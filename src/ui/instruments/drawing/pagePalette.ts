import type { Palette } from "./drawingToSvg";

/** The tokens as they hold at an element of the page, for saving a drawing in the theme it is seen in. */
export function pagePalette(element: Element): Palette {
  const styles = getComputedStyle(element);
  const read = (token: string) => styles.getPropertyValue(`--${token}`).trim();
  return {
    colour: read,
    weightPx: (token) => Number.parseFloat(read(token)) || 1,
    sizePx: (token) => Number.parseFloat(read(token)) || 12,
  };
}
