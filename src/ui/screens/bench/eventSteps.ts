/** Steps from event to event, along the rows of the sequence of events. */
import type { Playback } from "../../../state/playback";
import { listedInstants } from "./views/eventRows";

/** Where the last step goes until a frame shows it: a second press goes on from there. */
const asked = new WeakMap<Playback, { readonly sequence: number; readonly toNs: number }>();

/** To the next or previous event that the sequence lists; where there is none the playback says so. */
export function stepToEvent(playback: Playback, direction: "previous" | "next"): void {
  const { events, landmarks, playNs, project, world, sequence } = playback.store.getState();
  if (project === null || world === null) return;
  const last = asked.get(playback);
  const fromNs = last?.sequence === sequence ? last.toNs : playNs;
  const context = { monitors: project.monitors, failures: world.failures };
  const ahead = [...listedInstants(events, context), ...landmarks].filter((ns) =>
    direction === "next" ? ns > fromNs : ns < fromNs,
  );
  if (ahead.length === 0) {
    playback.jump(direction);
    return;
  }
  const toNs = ahead.reduce((a, b) => (direction === "next" ? Math.min(a, b) : Math.max(a, b)));
  asked.set(playback, { sequence, toNs });
  playback.seek(toNs);
}
