/** Registered tube types with the standing of what is known of them, and the way to a tube of one's own. */
import { REGISTERED_TUBES, registeredRatings, registeredTriode } from "../../../project/tubes";
import { PickField } from "../../forms/PickField";
import { setStation, useEdit, useStation } from "./stationContext";
import { lawWords, registeredTypeOf } from "./tubeRatings";

export function TubePicker({ onFit }: { readonly onFit: () => void }) {
  const { edit } = useStation();
  const station = useEdit((s) => s.project.station);
  const { tube } = station;
  const type = registeredTypeOf(tube);
  return (
    <>
      <PickField
        label="Type"
        value={type?.type ?? ""}
        options={[
          { value: "", word: "own values" },
          ...REGISTERED_TUBES.filter(({ fit }) => fit !== null).map((t) => ({
            value: t.type,
            word: [t.type, ...t.otherTypes].join(", "),
          })),
        ]}
        onPick={(to) => {
          const next = registeredTriode(to, tube.count);
          if (next === null) return "";
          const words = { field: "Tube", from: tube.name, to };
          return setStation(edit, { ...station, tube: next }, words);
        }}
      />
      {type !== null && (
        <p className="field-note">
          <b>{type.standing}</b>; law fitted to remembered figures, {lawWords(type)}.{" "}
          {type.fitRemark}.
        </p>
      )}
      <div className="field-buttons">
        {type !== null && (
          <button
            type="button"
            className="button"
            onClick={() => {
              const ratings = { ...station.ratings, ...registeredRatings(type, tube.count) };
              const words = {
                field: `Ratings of ${tube.count} \u00d7 ${type.type}`,
                from: "",
                to: "",
              };
              setStation(edit, { ...station, ratings }, words);
            }}
          >
            Take its ratings, times {tube.count}
          </button>
        )}
        <button type="button" className="button" aria-haspopup="dialog" onClick={onFit}>
          Fit a tube to its data sheet…
        </button>
      </div>
    </>
  );
}
