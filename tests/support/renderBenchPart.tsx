/** A part of the bench screen on the demonstration, the engine in this thread; whoever calls is the clock. */
import { act, render } from "@testing-library/react";
import type { ReactNode } from "react";
import { defaultProject } from "../../src/project/defaults";
import type { WorldView } from "../../src/shells/bench/worldView";
import { BenchContext, usePlayback } from "../../src/ui/screens/bench/benchContext";
import { startPlayback } from "./startPlayback";

type Part = (world: WorldView) => ReactNode;

function Shown({ part }: { readonly part: Part }) {
  const world = usePlayback((s) => s.world);
  return world === null ? null : part(world);
}

export function renderBenchPart(part: Part) {
  const { playback, projects, settings, tick, work } = startPlayback();
  act(() => playback.open(defaultProject()));
  render(
    <BenchContext.Provider value={{ playback, projects, settings }}>
      <Shown part={part} />
    </BenchContext.Provider>,
  );
  tick();
  return { playback, tick, work };
}
