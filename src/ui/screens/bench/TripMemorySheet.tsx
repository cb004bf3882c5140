/** Trip memory: what each trip left behind, what it looks like, how often each monitor tripped, how long the key was down. */
import { useEffect } from "react";
import { useStore } from "zustand";
import { FRAME } from "../../../shells/bench/frameLayout";
import { createStudyWorkerPort } from "../../../shells/study/ports";
import { createTripDiagnosis, type TripDiagnosis } from "../../../state/tripDiagnosis";
import { formatNumber, formatTime } from "../../../units/format";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { ActingSheet } from "./ActingSheet";
import { useBench, useFrameTurn, usePlayback } from "./benchContext";
import { type TripView, tripViews } from "./views/tripViews";

/** One worker a page, started with the first question; its library is kept for the next. */
const OF_THE_PAGE = createTripDiagnosis(createStudyWorkerPort);

export interface TripMemorySheetProps {
  readonly onClose: () => void;
  readonly diagnosis?: TripDiagnosis;
}

export function TripMemorySheet({ onClose, diagnosis = OF_THE_PAGE }: TripMemorySheetProps) {
  const { playback } = useBench();
  const project = usePlayback((s) => s.project);
  const memory = usePlayback((s) => s.world?.memory ?? null);
  const settings = usePlayback((s) => s.world?.settings ?? null);
  const { of, failure } = useStore(diagnosis.store);
  const trips = memory?.trips ?? null;
  useEffect(() => {
    if (project !== null && settings !== null && trips !== null)
      diagnosis.ask({ ...project, monitors: settings }, trips);
  }, [diagnosis, project, settings, trips]);
  useFrameTurn(2);
  if (memory === null || settings === null) return null;
  const downS = playback.frame[FRAME.keyDownS] as number;
  const counted = settings.filter((m) => (memory.counts[m.id] ?? 0) > 0);
  const isEmpty = memory.trips.length === 0 && counted.length === 0;
  return (
    <ActingSheet title="Trip memory" onClose={onClose} wide>
      <p className="note">
        The last twenty trips, newest first, with the readings of all sensors. It outlives
        acknowledge and reset. Key down in this run: {downWords(downS)}.
      </p>
      {isEmpty && <p>No trip is written down.</p>}
      {counted.length > 0 && (
        <p>
          Trips: {counted.map((m) => `${m.name} ${memory.counts[m.id]}`).join(", ")}.{" "}
          <button
            type="button"
            className="button"
            onClick={() => playback.act({ do: "clearTripMemory" })}
          >
            Clear trip memory
          </button>
        </p>
      )}
      {failure !== "" && <p className="note">No likely causes: {failure}</p>}
      {tripViews(memory.trips, settings, of).map((trip) => (
        <Trip key={trip.key} trip={trip} waits={failure === ""} />
      ))}
    </ActingSheet>
  );
}

/** Seconds while they are few, then hours. */
function downWords(seconds: number): string {
  return seconds < 360 ? formatTime(seconds) : `${formatNumber(seconds / 3600, 3)} hours`;
}

function Trip({ trip, waits }: { readonly trip: TripView; readonly waits: boolean }) {
  const { likely } = trip;
  return (
    <section className="trip">
      <h3>
        {trip.title}
        {trip.firstUp && <span className="first-up">first up</span>}
        {trip.lockout && <span className="first-up">lockout</span>}
      </h3>
      {likely === null && waits && <p className="note">Working out likely causes.</p>}
      {likely !== null && (
        <>
          {likely.reason !== "" && <p>{likely.reason}</p>}
          {likely.none !== "" && <p>{likely.none}</p>}
          {likely.causes.length > 0 && (
            <ol aria-label="Likely causes, the likeliest first">
              {likely.causes.map((cause) => (
                <li key={cause.words}>
                  {cause.words} <span className="note">distance {cause.distance}</span>
                </li>
              ))}
            </ol>
          )}
        </>
      )}
      <details>
        <summary>Readings</summary>
        <table className="keys">
          <ColumnHeads words={["Sensor", "a second before", "at pickup", "at the trip"]} />
          <tbody>
            {trip.readings.map((r) => (
              <tr key={r.name}>
                <th scope="row">{r.name}</th>
                <td>{r.before}</td>
                <td>{r.atPickup}</td>
                <td>{r.atTrip}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  );
}
