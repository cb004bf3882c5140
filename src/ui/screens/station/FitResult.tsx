/** What a fit found: the law with its uncertainty, warnings, and each figure of the sheet beside the law's. */
import type { FittedTube, TubeFit, TubeParameter } from "../../../study/tubeFit";
import { POOR_FIT_RMS } from "../../../study/tubeFit";
import { formatNumber, formatQuantity } from "../../../units/format";
import { scaleOf } from "../../forms/scales";
import { ColumnHeads } from "../../instruments/ColumnHeads";
import { QUANTITY_WORDS } from "./fitRows";

const PARAMETERS: readonly (readonly [TubeParameter, string, string])[] = [
  ["mu", "Amplification factor", ""],
  ["perveanceAPerV1p5", "Perveance", "mA/V^1.5"],
  ["divisionRatio", "Current division", ""],
  ["offsetV", "Offset voltage", "V"],
];

export interface FitResultProps {
  readonly fit: TubeFit;
  readonly onUse: (tube: FittedTube) => void;
}

export function FitResult({ fit, onUse }: FitResultProps) {
  if (!fit.ok) {
    return (
      <div role="alert">
        <p>There is no fit.</p>
        <ul className="fit-words">
          {fit.problems.map(({ point, message, remedy }) => (
            <li key={`${point} ${message}`}>
              {point === null ? "" : `Point ${point + 1}: `}
              {message}; {remedy}.
            </li>
          ))}
        </ul>
      </div>
    );
  }
  const { tube, residuals, rmsResidual, uncertainty, warnings } = fit;
  const isPoor = rmsResidual > POOR_FIT_RMS;
  return (
    <div className="fit-result" role="status">
      <h3>{isPoor ? "Poor fit" : "The law"}</h3>
      <p className="summary">
        {residuals.length} figures, missed by {percent(rmsResidual)} rms.
      </p>
      <dl className="components">
        {PARAMETERS.map(([name, words, unit]) => (
          <div key={name}>
            <dt>{words}</dt>
            <dd>
              {scaleOf(unit).full(Number(tube[name].toPrecision(5)))}{" "}
              <small>{uncertaintyWords(name, uncertainty[name])}</small>
            </dd>
          </div>
        ))}
      </dl>
      {warnings.length > 0 && (
        <ul className="fit-words">
          {warnings.map(({ message }) => (
            <li key={message}>{message.charAt(0).toUpperCase() + message.slice(1)}.</li>
          ))}
        </ul>
      )}
      <table className="figures">
        <caption>Each figure of the sheet beside the law's</caption>
        <ColumnHeads words={["Point", "Figure", "Sheet", "Law", "Off by"]} />
        <tbody>
          {residuals.map(({ point, quantity, stated, modelled }) => {
            const [words, unit] = QUANTITY_WORDS[quantity];
            return (
              <tr key={`${point} ${quantity}`}>
                <th scope="row">{point + 1}</th>
                <td>{words}</td>
                <td>{formatQuantity(stated, unit)}</td>
                <td>
                  {Number.isFinite(modelled) ? formatQuantity(modelled, unit) : "not reached"}
                </td>
                <td>{stated > 0 ? percent(modelled / stated - 1, true) : "from zero"}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <div className="field-buttons">
        <button type="button" className="button solid" onClick={() => onUse(tube)}>
          {isPoor ? "Use this tube all the same" : "Use this tube"}
        </button>
      </div>
    </div>
  );
}

function percent(ratio: number, signed = false): string {
  return Number.isFinite(ratio) ? `${formatNumber(100 * ratio, 2, signed)}\u00a0%` : "\u2013";
}

function uncertaintyWords(name: TubeParameter, error: number | null): string {
  if (error === null) return "held or open";
  return name === "offsetV" ? `± ${formatNumber(error, 2)}\u00a0V` : `± ${percent(error)}`;
}
