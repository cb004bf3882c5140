/** Drive and SWR that tables and charts are worked out for; no part of the project. */
import { useState } from "react";
import { NumberBox } from "../../forms/NumberBox";
import { scaleOf } from "../../forms/scales";
import { markTyped } from "../../forms/typedMark";

export interface StudySettingsProps {
  readonly driveW: number;
  readonly fullDriveW: number;
  readonly swr: number;
  readonly onDrive: (driveW: number) => void;
  readonly onSwr: (swr: number) => void;
}

const WATTS = scaleOf("W");
const PLAIN = scaleOf("");
const MOST_DRIVE_W = 1000;
const MOST_SWR = 10;

export function StudySettings({ driveW, fullDriveW, swr, onDrive, onSwr }: StudySettingsProps) {
  return (
    <div className="study-settings">
      <SmallField
        label="At a drive of"
        scale={WATTS}
        value={driveW}
        least={0.1}
        most={MOST_DRIVE_W}
        onValue={onDrive}
      />
      <button
        type="button"
        className="button small"
        disabled={driveW === fullDriveW}
        onClick={() => onDrive(fullDriveW)}
      >
        Full drive, {WATTS.full(fullDriveW)}
      </button>
      <SmallField
        label="Circle of SWR"
        scale={PLAIN}
        value={swr}
        least={1}
        most={MOST_SWR}
        onValue={onSwr}
      />
    </div>
  );
}

interface SmallFieldProps {
  readonly label: string;
  readonly scale: typeof WATTS;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly onValue: (value: number) => void;
}

function SmallField({ label, scale, value, least, most, onValue }: SmallFieldProps) {
  const [draft, setDraft] = useState<string | null>(null);
  const [refusal, setRefusal] = useState("");
  const type = (typed: string): void => {
    markTyped();
    setDraft(typed);
    const read = scale.parse(typed);
    if (!read.ok) setRefusal(read.problem);
    else if (read.value < least || read.value > most) {
      setRefusal(`${label} ${read.echo}: give ${scale.full(least)} to ${scale.full(most)}.`);
    } else {
      setRefusal("");
      onValue(read.value);
    }
  };
  return (
    <NumberBox
      label={label}
      text={draft ?? scale.format(value)}
      unit={scale.unit}
      refusal={refusal}
      onType={type}
      onBlur={() => {
        if (refusal === "") setDraft(null);
      }}
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        setDraft(null);
        setRefusal("");
      }}
    />
  );
}
