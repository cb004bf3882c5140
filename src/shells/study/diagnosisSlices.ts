/** Likely causes of trips in slices: the library of signatures run by run, kept for the next question of the same project. */
import { diagnose } from "../../study/diagnosis";
import { LibraryBuilder, libraryKey } from "../../study/signatures";
import type { DiagnosisRequest, FromStudy } from "./protocol";

export class DiagnosisSlices {
  private kept: { readonly key: string; readonly builder: LibraryBuilder } | null = null;

  constructor(private readonly send: (message: FromStudy) => void) {}

  /** What is still to be done for an answer; what was done for the same project before is not done again. */
  of({ id, project, trips }: DiagnosisRequest): readonly (() => void)[] {
    const key = libraryKey(project);
    if (this.kept?.key !== key) {
      const made = LibraryBuilder.of(project);
      if (!made.ok) return [() => this.send({ kind: "failed", words: made.problem })];
      this.kept = { key, builder: made.builder };
    }
    const { builder } = this.kept;
    const answer = (): void => {
      const library = builder.library();
      const diagnoses = trips.map((trip) => diagnose(library, project.sensors, trip));
      this.send({ kind: "diagnosis", id, diagnoses });
    };
    return [...Array.from({ length: builder.left }, () => () => builder.step()), answer];
  }
}
