/** The engine alone, for a browser: a project's text and a time in, its record hash out. Bundled by the spec. */
import { readProject } from "../../src/formats/projectFile";
import { createBench } from "../../src/simulation/bench";

/** What the spec sends. */
export interface HashTask {
  readonly text: string;
  readonly untilS: number;
}

interface Scope {
  onmessage: ((event: MessageEvent<HashTask>) => void) | null;
  postMessage(hash: string): void;
}

const scope = globalThis as unknown as Scope;

scope.onmessage = ({ data }) => {
  const reading = readProject(data.text);
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  const created = createBench(reading.project);
  if (!created.ok) throw new Error(created.problem);
  created.bench.advanceTo(Math.round(data.untilS * 1e9));
  scope.postMessage(created.bench.hash);
};
