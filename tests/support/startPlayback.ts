/** Stores of a bench whose engine works in this thread; whoever calls is the clock. */
import { act } from "@testing-library/react";
import { createPlayback } from "../../src/state/playback";
import { createProjectStore } from "../../src/state/project";
import { createSettings } from "../../src/state/settings";
import { createInProcessPort } from "./inProcessPort";

export function startPlayback() {
  const port = createInProcessPort(100_000);
  const playback = createPlayback(port);
  const projects = createProjectStore(playback);
  const settings = createSettings(null);
  let wallMs = 0;
  const tick = () => {
    act(() => {
      wallMs += 16;
      playback.tick(wallMs);
    });
  };
  return { playback, projects, settings, tick, work: port.work };
}
