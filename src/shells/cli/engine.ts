/** What the command line needs of the simulation. Given from outside, so that the commands can be tested alone. */

import type { Station } from "../../project/station";
import type { Project } from "../../project/types";

/** Why there is no result: the station cannot be built as asked, or the solver gave up at this residual. */
export type Shortfall =
  | { readonly ok: false; readonly kind: "design"; readonly problem: string }
  | { readonly ok: false; readonly kind: "convergence"; readonly residual: number };

export interface Engine {
  /** The settled state of a station under its full drive. */
  readonly operatingPoint: (
    station: Station,
  ) => { readonly ok: true; readonly point: object } | Shortfall;
  /** The scenario from start to end in one go, and in words what was changed of what it asked for. */
  readonly runScenario: (
    project: Project,
  ) =>
    | { readonly ok: true; readonly result: object; readonly notices: readonly string[] }
    | Shortfall;
  /** Every fault of the list on the project's station, and what catches it. */
  readonly faults: (project: Project) => { readonly ok: true; readonly result: object } | Shortfall;
  /** The scenario from start to end, and likely causes of its trips. */
  readonly diagnose: (
    project: Project,
  ) => { readonly ok: true; readonly result: object } | Shortfall;
}

/** Where text comes from and goes to. */
export interface Surroundings {
  /** The bytes of a file, not many more than `most` of them; `-` is standard input. */
  readonly read: (
    path: string,
    most: number,
  ) =>
    | { readonly ok: true; readonly bytes: Uint8Array }
    | { readonly ok: false; readonly reason: string; readonly remedy: string };
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
}
