/** Likely causes of the trips of a run as plain JSON values. */
import type { Project } from "../project/types";
import type { TripMemory } from "../simulation/tripMemory";
import { diagnose, type LikelyCause } from "../study/diagnosis";
import type { SignatureLibrary } from "../study/signatures";

export interface DiagnosisJson {
  /** Oldest first, the last twenty, in project time. */
  readonly trips: readonly {
    readonly name: string;
    readonly id: string;
    readonly atS: number;
    readonly firstUp: boolean;
    /** What the readings did, in words. */
    readonly reason: string;
    /** Nearest first; empty when nothing of the library is near. */
    readonly causes: readonly LikelyCause[];
    /** Said in place of causes. */
    readonly none: string;
  }[];
}

/** What `diagnose` prints. */
export function diagnosisJson(
  library: SignatureLibrary,
  project: Project,
  memory: TripMemory,
): DiagnosisJson {
  return {
    trips: memory.trips.map((trip) => ({
      name: project.monitors.find((m) => m.id === trip.monitorId)?.name ?? trip.monitorId,
      id: trip.monitorId,
      atS: trip.atNs / 1e9,
      firstUp: trip.firstUp,
      ...diagnose(library, project.sensors, trip),
    })),
  };
}
