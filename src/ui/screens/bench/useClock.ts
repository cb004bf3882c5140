/** Drives the playback: one tick an animation frame; a hidden page stands still. */
import { useEffect } from "react";
import { useBench } from "./benchContext";

export function useClock(): void {
  const { playback } = useBench();
  useEffect(() => {
    let request = requestAnimationFrame(function turn(wallMs: number): void {
      playback.tick(wallMs);
      request = requestAnimationFrame(turn);
    });
    const onVisibility = (): void => playback.setHidden(document.hidden);
    document.addEventListener("visibilitychange", onVisibility);
    onVisibility();
    return () => {
      cancelAnimationFrame(request);
      document.removeEventListener("visibilitychange", onVisibility);
    };
  }, [playback]);
}
