/** Theme, projector view, motion, single-letter keys; the list of keys; cautions. */
import { StateLabel } from "../../instruments/state/StateMark";
import { STATE_MEANINGS, STATE_WORDS } from "../../instruments/state/stateWord";
import { useBench, useSettings } from "./benchContext";
import { Cautions } from "./Cautions";
import { Sheet } from "./Sheet";

export const KEYS: readonly (readonly [key: string, what: string, letter: boolean])[] = [
  ["Space", "run or pause", false],
  ["K", "key down or up", true],
  ["F", "place or remove the chosen fault", true],
  [".", "one sample forward", true],
  [",", "one sample back", true],
  ["N", "next event", true],
  ["P", "previous event", true],
  ["L", "back to live", true],
  ["S", "slower", true],
  ["Q", "quicker", true],
  ["A", "acknowledge", true],
  ["R", "reset", true],
];

export function SettingsSheet({ onClose }: { readonly onClose: () => void }) {
  const { settings } = useBench();
  const theme = useSettings((s) => s.theme);
  const projector = useSettings((s) => s.projector);
  const motion = useSettings((s) => s.motion);
  const letterKeys = useSettings((s) => s.letterKeys);
  const isKept = useSettings((s) => s.isKept);
  return (
    <Sheet title="Settings and keys" onClose={onClose}>
      <div className="settings">
        <label>
          <span>Theme</span>
          <select
            value={theme}
            onChange={(e) =>
              settings.change({ theme: e.currentTarget.value as "system" | "light" | "dark" })
            }
          >
            <option value="system">as the browser</option>
            <option value="light">light</option>
            <option value="dark">dark</option>
          </select>
        </label>
        <label>
          <input
            type="checkbox"
            checked={projector}
            onChange={(e) => settings.change({ projector: e.currentTarget.checked })}
          />
          <span>Projector: light ground, larger type, thicker lines</span>
        </label>
        <label>
          <span>Motion</span>
          <select
            value={motion}
            onChange={(e) =>
              settings.change({ motion: e.currentTarget.value as "system" | "reduced" | "full" })
            }
          >
            <option value="system">as the browser</option>
            <option value="reduced">reduced</option>
            <option value="full">full</option>
          </select>
        </label>
        <label>
          <input
            type="checkbox"
            checked={letterKeys}
            onChange={(e) => settings.change({ letterKeys: e.currentTarget.checked })}
          />
          <span>Single-letter keys</span>
        </label>
        {!isKept && (
          <p className="note">This browser keeps no settings; they last until the page closes.</p>
        )}
      </div>
      <table className="keys">
        <caption>Keys</caption>
        <tbody>
          {KEYS.map(([key, what, letter]) => (
            <tr key={key}>
              <th scope="row">
                <kbd>{key}</kbd>
              </th>
              <td>
                {what}
                {letter && !letterKeys ? " (off)" : ""}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <table className="keys">
        <caption>State words</caption>
        <tbody>
          {STATE_WORDS.map((word) => (
            <tr key={word}>
              <th scope="row">
                <StateLabel mark={word} />
              </th>
              <td>{STATE_MEANINGS[word]}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Cautions />
    </Sheet>
  );
}
