/** A part of the bench screen on the demonstration, the engine in this thread; whoever calls is the clock. */
import { act, render } from "@testing-library/react";
import type { ReactNode } from "react";
import { defaultProject } from "../../src/project/defaults";
import type { WorldView } from "../../src/shells/bench/worldView";
import { createPlayback } from "../../src/state/playback";
import { createProjectStore } from "../../src/state/project";
import { createSettings } from "../../src/state/settings";
import { BenchContext, usePlayback } from "../../src/ui/screens/bench/benchContext";
import { createInProcessPort } from "./inProcessPort";

type Part = (world: WorldView) => ReactNode;

function Shown({ part }: { readonly part: Part }) {
  const world = usePlayback((s) => s.world);
  return world === null ? null : part(world);
}

export function renderBenchPart(part: Part) {
  const playback = createPlayback(createInProcessPort(100_000));
  const projects = createProjectStore(playback);
  const settings = createSettings(null);
  act(() => playback.open(defaultProject()));
  let wallMs = 0;
  const tick = () => {
    act(() => {
      wallMs += 16;
      playback.tick(wallMs);
    });
  };
  render(
    <BenchContext.Provider value={{ playback, projects, settings }}>
      <Shown part={part} />
    </BenchContext.Provider>,
  );
  tick();
  return { playback, tick };
}
