/** Pictures of state marks as somebody sees them who sees no colour, by a projector that leaves a third of the contrast. */
import type { Locator } from "@playwright/test";

export interface MarkPicture {
  readonly word: string;
  /** Grey of each pixel, 0 to 1: relative luminance of what is left of the colour. */
  readonly grey: readonly number[];
}

const CONTRAST_LEFT = 1 / 3;
const SIZE_PX = 12;
const SHIFTS = [-1, 0, 1];

/** The shape beside each word. */
export async function markPictures(labels: Locator): Promise<readonly MarkPicture[]> {
  const pictures: MarkPicture[] = [];
  for (const label of await labels.all()) {
    const shape = label.locator("svg");
    const png = (await shape.screenshot()).toString("base64");
    const grey = await label.evaluate(
      async (_, { data, left, size }) => {
        const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
        const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
        const canvas = new OffscreenCanvas(size, size);
        const context = canvas.getContext("2d");
        if (context === null) throw new Error("no canvas");
        context.drawImage(bitmap, 0, 0);
        const { data: rgba } = context.getImageData(0, 0, size, size);
        return Array.from({ length: size * size }, (_unused, k) => {
          const [r = 0, g = 0, b = 0] = [...rgba.slice(4 * k, 4 * k + 3)].map(
            (c) => 0.5 + (c / 255 - 0.5) * left,
          );
          return 0.2126 * r + 0.7152 * g + 0.0722 * b; // weights of ITU-R BT.709
        });
      },
      { data: png, left: CONTRAST_LEFT, size: SIZE_PX },
    );
    pictures.push({ word: (await label.textContent()) ?? "", grey });
  }
  return pictures;
}

/**
 * How many pixels differ by more than a part of the range from black to white that is left, laid over each other as well as
 * whole pixels allow: a mark may stand between two pixels.
 */
export function pixelsApart(one: MarkPicture, other: MarkPicture, part: number): number {
  const counts = SHIFTS.flatMap((dx) =>
    SHIFTS.map(
      (dy) =>
        one.grey.filter((level, k) => {
          const [x, y] = [(k % SIZE_PX) + dx, Math.floor(k / SIZE_PX) + dy];
          const isIn = x >= 0 && y >= 0 && x < SIZE_PX && y < SIZE_PX;
          const beside = isIn ? other.grey[y * SIZE_PX + x] : level;
          return Math.abs(level - (beside ?? 0)) > part * CONTRAST_LEFT;
        }).length,
    ),
  );
  return Math.min(...counts);
}
