/** Registered tube types with the standing of what is known of them, and the way to a tube of one's own. */
import type { Triode } from "../../../project/station";
import {
  findRegisteredTube,
  REGISTERED_TUBES,
  registeredRatings,
  registeredTriode,
} from "../../../project/tubes";
import { formatNumber } from "../../../units/format";
import { PickField } from "../../forms/PickField";
import { setStation, useEdit, useStation } from "./stationContext";

function registeredNameOf(tube: Triode): string {
  const same = registeredTriode(tube.name, tube.count);
  if (same === null) return "";
  const isSame =
    same.mu === tube.mu &&
    same.perveanceAPerV1p5 === tube.perveanceAPerV1p5 &&
    same.divisionRatio === tube.divisionRatio &&
    same.offsetV === tube.offsetV;
  return isSame ? (findRegisteredTube(tube.name)?.type ?? "") : "";
}

export function TubePicker({ onFit }: { readonly onFit: () => void }) {
  const { edit } = useStation();
  const station = useEdit((s) => s.project.station);
  const { tube } = station;
  const name = registeredNameOf(tube);
  const type = findRegisteredTube(name);
  const rms = type?.fit?.rmsResidual ?? null;
  const error =
    rms === null
      ? "nothing left over to check the fit"
      : `missed by ${formatNumber(100 * rms, 2)} % rms`;
  return (
    <>
      <PickField
        label="Type"
        value={name}
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
          <b>{type.standing}</b>; law fitted to remembered figures, {error}. {type.fitRemark}.
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
