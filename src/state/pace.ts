/** How fast simulated time passes on screen: a ladder of decades, and how each rung is said. */
import { formatTime, NO_BREAK_SPACE } from "../units/format";

/** Simulated seconds a second on screen, fastest first. */
export const PACES: readonly number[] = [1, 0.1, 0.01, 1e-3, 1e-4, 1e-5, 1e-6];

/** `1 s on screen = 10.0 ms`. */
export function paceText(simulatedPerWall: number): string {
  return `1${NO_BREAK_SPACE}s on screen = ${formatTime(simulatedPerWall)}`;
}
