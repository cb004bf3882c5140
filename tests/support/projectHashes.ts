/**
 * Record hashes of the sample projects, from any engine that can run a project: the one of the tests, a worker, a
 * browser. Two engines agree when they give the same map.
 */
import type { Project } from "../../src/project/types";

/** How far each sample is played: past the strikes at 0.06037 s and the slowest clearing, 0.19 s by contactor alone. */
const HASHED_UNTIL_S = 0.35;

/** What an engine must be able to do: play a project up to a time and answer its record hash. */
export type HashEngine = (project: Project, untilS: number) => string | Promise<string>;

/** Hash of each file in the order given. */
export async function projectHashes(
  projects: ReadonlyMap<string, Project>,
  engine: HashEngine,
): Promise<Readonly<Record<string, string>>> {
  const hashes: Record<string, string> = {};
  for (const [file, project] of projects) {
    hashes[file] = await engine(project, Math.min(project.endS, HASHED_UNTIL_S));
  }
  return hashes;
}
