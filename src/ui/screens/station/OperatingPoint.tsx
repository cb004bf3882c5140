/** The working point at the station's own frequency, at the chosen drive: the first thing that follows what is typed. */
import { useLayoutEffect } from "react";
import { dbNumber, NO_VALUE, quantityParts } from "../../../units/format";
import { measurePoint } from "../../forms/typedMark";
import { useEdit, useStudy } from "./stationContext";
import { publishedSentence } from "./tubeRatings";
import { gainDb, hereSummary } from "./words";

interface Reading {
  readonly name: string;
  readonly number: string;
  readonly unit: string;
}

export function OperatingPoint() {
  const here = useStudy((s) => s.here);
  const shown = useStudy((s) => s.shown);
  const asked = useStudy((s) => s.asked);
  const failure = useStudy((s) => s.failure);
  const station = useEdit((s) => s.project.station);
  useLayoutEffect(() => {
    if (shown > 0 && shown === asked) measurePoint();
  }, [shown, asked]);
  const point = here?.matched ?? null;
  const reading = (name: string, value: number | undefined, unit: string): Reading => {
    if (value === undefined) return { name, number: NO_VALUE, unit };
    return { name, ...quantityParts(value, unit) };
  };
  const readings: readonly Reading[] = [
    reading("Output", point?.outputW, "W"),
    { name: "Gain", number: point === null ? NO_VALUE : dbNumber(gainDb(point)), unit: "dB" },
    reading("Plate current", point?.plateCurrentA, "A"),
    reading("Grid current", point?.gridCurrentA, "A"),
    {
      name: "Efficiency",
      number: point === null ? NO_VALUE : (100 * point.efficiency).toFixed(0),
      unit: "%",
    },
    reading("Plate dissipation", point?.plateDissipationW, "W"),
    reading("Plate voltage", point?.plateV, "V"),
    reading("Plate RF, peak", point?.plateRfPeakV, "V"),
    reading("Plate load", here?.problem === "" ? here.plateLoadOhm : undefined, "Ω"),
  ];
  return (
    <section className="point" aria-labelledby="point-title" data-study={shown}>
      <h3 id="point-title">Operating point</h3>
      <dl>
        {readings.map(({ name, number, unit }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <b>{number}</b> <span className="unit">{unit}</span>
            </dd>
          </div>
        ))}
      </dl>
      <p className="summary">
        {failure !== ""
          ? failure
          : here === null
            ? "Being worked out."
            : hereSummary(here) + publishedSentence(station, here.stresses)}
      </p>
    </section>
  );
}
