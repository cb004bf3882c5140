/**
 * Knobs under a hand: a drag sends its latest value at most every 50 ms and its last one always. One drag is
 * one gesture, labelled with the knob and its two values.
 */
import type { ControlName } from "../project/scenario";

export const SEND_EVERY_MS = 50;

export interface Gesture {
  readonly control: ControlName;
  readonly from: number;
  readonly to: number;
  /** Play head as it ended, ns. */
  readonly atNs: number;
}

interface Drag {
  readonly from: number;
  value: number;
  sent: number;
  sentMs: number;
}

export class Knobs {
  private readonly drags = new Map<ControlName, Drag>();

  constructor(private readonly send: (control: ControlName, value: number) => void) {}

  /** The hand moves a knob that stood at `from`. */
  move(control: ControlName, value: number, from: number, wallMs: number): void {
    const drag = this.drags.get(control);
    if (drag === undefined) {
      this.drags.set(control, { from, value, sent: value, sentMs: wallMs });
      this.send(control, value);
      return;
    }
    drag.value = value;
    this.flush(control, drag, wallMs);
  }

  /** Lets waiting values through; called with every frame. */
  tick(wallMs: number): void {
    for (const [control, drag] of this.drags) this.flush(control, drag, wallMs);
  }

  private flush(control: ControlName, drag: Drag, wallMs: number): void {
    if (drag.value === drag.sent || wallMs - drag.sentMs < SEND_EVERY_MS) return;
    drag.sent = drag.value;
    drag.sentMs = wallMs;
    this.send(control, drag.value);
  }

  /** The hand lets go: the last value is sent, however soon after the one before. Null without a drag. */
  release(control: ControlName, atNs: number): Gesture | null {
    const drag = this.drags.get(control);
    if (drag === undefined) return null;
    this.drags.delete(control);
    if (drag.value !== drag.sent) this.send(control, drag.value);
    return { control, from: drag.from, to: drag.value, atNs };
  }

  /** Value under the hand; null while nobody turns this knob. */
  held(control: ControlName): number | null {
    return this.drags.get(control)?.value ?? null;
  }
}
