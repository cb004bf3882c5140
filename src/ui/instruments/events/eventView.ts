/** The sequence of events as plain data. Times in seconds from the strike (or from the key while nothing has struck). */
import type { RichText } from "../drawing/shapes";
import type { MarkName } from "../state/stateWord";

export interface EventRow {
  readonly key: string;
  readonly atS: number;
  readonly mark: MarkName;
  /** The state word set strong. */
  readonly sentence: RichText;
  /** First monitor to pick up in this run. */
  readonly firstUp: boolean;
  /** Operate not acknowledged yet. */
  readonly isNew: boolean;
  /** Due, or read from the run left alone: below the rule of now. */
  readonly ahead: boolean;
  /** Read from the run left alone: never happened here, also where now has passed it. */
  readonly leftAlone: boolean;
}

export interface EventListView {
  readonly title: string;
  readonly note: string;
  readonly rows: readonly EventRow[];
  /** Row that stays at the top of the panel; null: the panel follows now. */
  readonly heldKey: string | null;
}
