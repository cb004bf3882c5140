/** Header of the station screen: name, screens, files, settings. */

import { formatNumber } from "../../../units/format";
import type { SheetVariant } from "../../theme/metrics";
import { Menu } from "../Menu";
import { ScreenLinks } from "../screens";
import { useEdit } from "./stationContext";

export interface StationBarProps {
  readonly variant: SheetVariant;
  readonly onOpen: () => void;
  readonly onSave: () => void;
  readonly onSettings: () => void;
}

export function StationBar(props: StationBarProps) {
  const { variant } = props;
  const isSmall = variant === "projector" || variant === "phone";
  const freqHz = useEdit((s) => s.project.station.freqHz);
  return (
    <header className="bar">
      <h1 className="wordmark">
        <img src="./favicon.svg" alt="" width="22" height="22" />
        Quietarc
      </h1>
      <nav aria-label="Screens and files">
        {isSmall ? (
          <Menu word="Menu">
            <ScreenLinks inMenu />
            <Items {...props} />
            <SettingsItem {...props} />
          </Menu>
        ) : (
          <ul>
            <ScreenLinks />
            <li>
              <Menu word="Project">
                <Items {...props} />
              </Menu>
            </li>
            <li>
              <Menu word="More">
                <SettingsItem {...props} />
              </Menu>
            </li>
          </ul>
        )}
      </nav>
      <p className="where">{formatNumber(freqHz / 1e6, 4)}&nbsp;MHz</p>
    </header>
  );
}

function Items({ onOpen, onSave }: StationBarProps) {
  return (
    <>
      <button type="button" onClick={onOpen}>
        Open project…
      </button>
      <button type="button" onClick={onSave}>
        Save project
      </button>
    </>
  );
}

function SettingsItem({ onSettings }: StationBarProps) {
  return (
    <button type="button" onClick={onSettings}>
      Settings and keys
    </button>
  );
}
