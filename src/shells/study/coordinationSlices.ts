/** Coordination sheets in slices, a point each: sheets of a project that is asked about again are not made again. */
import { Coordination, SheetBuilder } from "../../study/coordination/coordinate";
import {
  arcIndexOf,
  coordinationKey,
  judgedRange,
  ownMaintainingV,
  type StressName,
} from "../../study/coordination/stress";
import type { CoordinationRequest, FromStudy } from "./protocol";

/** A sheet is sent when it is whole; the first, which is looked at, also on the way after so many points. */
const POINTS_A_MESSAGE = 6;

interface Kept {
  readonly key: string;
  readonly coordination: Coordination;
  readonly builders: Map<StressName, SheetBuilder>;
}

export class CoordinationSlices {
  private kept: Kept | null = null;

  constructor(private readonly send: (message: FromStudy) => void) {}

  /** The work on an answer, a slice a call; false when it was the last. */
  of(request: CoordinationRequest): () => boolean {
    let kept: Kept | null = null;
    let at = 0;
    return () => {
      if (kept === null) {
        kept = this.keptFor(request);
        return kept !== null;
      }
      const stress = request.order[at];
      if (stress === undefined) {
        this.send({ kind: "coordinated", id: request.id });
        return false;
      }
      const builder = builderOf(kept, stress);
      if (builder.left > 0) builder.step();
      const isWhole = builder.left === 0;
      if (isWhole) at += 1;
      if (isWhole || (at === 0 && builder.done % POINTS_A_MESSAGE === 0)) {
        const { done, left } = builder;
        this.send({ kind: "sheet", id: request.id, sheet: builder.sheet(), done, left });
      }
      return true;
    };
  }

  private keptFor({ project }: CoordinationRequest): Kept | null {
    const key = coordinationKey(project);
    if (this.kept?.key === key) return this.kept;
    const made = Coordination.of(project);
    if (!made.ok) {
      this.send({ kind: "failed", words: `No sheet can be made: ${made.problem}.` });
      return null;
    }
    this.kept = { key, coordination: made.coordination, builders: new Map() };
    return this.kept;
  }
}

function builderOf({ coordination, builders }: Kept, stress: StressName): SheetBuilder {
  const known = builders.get(stress);
  if (known !== undefined) return known;
  const place = arcIndexOf(stress);
  const { station } = coordination.project;
  const ends = judgedRange(stress, station);
  const wanted = place < 0 ? ends : [...ends, ownMaintainingV(station, place)];
  const builder = new SheetBuilder(coordination, stress, wanted);
  builders.set(stress, builder);
  return builder;
}
