/** The monitors as rows: what each watches, whether it acts, its pickup and delay, and how it stands. */
import { formatNumber, formatQuantity } from "../../../units/format";
import { echoQuantity, parseQuantity } from "../../../units/parseQuantity";
import { PLAIN_UNITS, type Prefix, prefixFactor } from "../../../units/prefixes";
import { ColumnHeads } from "../ColumnHeads";
import { StateLabel } from "../state/StateMark";
import type { MarkName } from "../state/stateWord";
import { QuantityInput } from "./QuantityInput";

/** A setting that can be typed. Numbers in SI. */
export interface MonitorSetting {
  readonly value: number;
  readonly minimum: number;
  readonly maximum: number;
  readonly unit: string;
  /** The field stands in this prefix: milliseconds, milliampere. */
  readonly prefix?: Prefix;
  /** What a share is a share of, behind its unit: `of plate current`. */
  readonly ofWord?: string;
}

export type MonitorMode = "acting" | "shadow" | "off";

export interface MonitorRowView {
  readonly key: string;
  readonly name: string;
  readonly device: string;
  /** What the pickup is of: `forward gain, under expected`. */
  readonly watches: string;
  readonly mode: MonitorMode;
  readonly pickup: MonitorSetting | null;
  readonly delay: MonitorSetting | null;
  readonly state: MarkName;
  readonly stateWord: string;
  readonly isNew: boolean;
  readonly operateCount: number;
}

export interface MonitorTableProps {
  readonly rows: readonly MonitorRowView[];
  readonly onMode: (monitorKey: string, mode: MonitorMode) => void;
  readonly onPickup: (monitorKey: string, value: number) => void;
  readonly onDelay: (monitorKey: string, value: number) => void;
}

const MODES: readonly MonitorMode[] = ["acting", "shadow", "off"];

export function MonitorTable({ rows, onMode, onPickup, onDelay }: MonitorTableProps) {
  const setting = (
    row: MonitorRowView,
    what: "pickup" | "delay",
    commit: (key: string, value: number) => void,
  ) => {
    const chosen = row[what];
    if (chosen === null) return <span className="note">none</span>;
    const { value, minimum, maximum, unit, prefix = "", ofWord = "" } = chosen;
    const plain = PLAIN_UNITS[unit];
    const { factor, offset } = plain ?? { factor: prefixFactor(prefix), offset: 0 };
    return (
      <QuantityInput
        name={`${row.name} ${what}`}
        value={value}
        minimum={minimum}
        maximum={maximum}
        unit={`${prefix}${unit} ${ofWord}`.trim()}
        disabled={row.mode === "off"}
        format={(si) => formatNumber((si - offset) / factor)}
        formatFull={(si) => (plain === undefined ? formatQuantity : echoQuantity)(si, unit)}
        parse={(typed) => parseQuantity(typed, unit, { bare: prefix })}
        onCommit={(next) => commit(row.key, next)}
      />
    );
  };
  return (
    <table className="monitor-table">
      <caption className="unseen">Monitors</caption>
      <ColumnHeads words={["Monitor", "Acts", "Pickup", "Delay", "State", "Operated"]} />
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row">
              {row.name} <small>{row.device}</small>
              <span className="note">{row.watches}</span>
            </th>
            <td>
              <select
                value={row.mode}
                aria-label={`${row.name} acts`}
                onChange={(event) => onMode(row.key, event.currentTarget.value as MonitorMode)}
              >
                {MODES.map((mode) => (
                  <option key={mode} value={mode}>
                    {mode}
                  </option>
                ))}
              </select>
            </td>
            <td>{setting(row, "pickup", onPickup)}</td>
            <td>{setting(row, "delay", onDelay)}</td>
            <td>
              <StateLabel mark={row.state} word={row.stateWord} isNew={row.isNew} />
            </td>
            <td className="count">{row.operateCount}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
