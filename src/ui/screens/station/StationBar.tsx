/** Header of the station screen: files, settings, and the frequency. */

import { formatNumber } from "../../../units/format";
import type { SheetVariant } from "../../theme/metrics";
import { FileItems, type FileItemsProps, ScreenBar } from "../ScreenBar";
import { useEdit } from "./stationContext";

export interface StationBarProps extends FileItemsProps {
  readonly variant: SheetVariant;
  readonly onSettings: () => void;
}

export function StationBar({ variant, onSettings, ...files }: StationBarProps) {
  const freqHz = useEdit((s) => s.project.station.freqHz);
  const settings = (
    <button type="button" onClick={onSettings}>
      Settings and keys
    </button>
  );
  return (
    <ScreenBar
      variant={variant}
      entries={[
        { word: "Project", items: <FileItems {...files} /> },
        { word: "More", items: settings },
      ]}
    >
      <p className="where">{formatNumber(freqHz / 1e6, 4)}&nbsp;MHz</p>
    </ScreenBar>
  );
}
