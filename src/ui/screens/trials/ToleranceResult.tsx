/** Tolerance: how margin and operate time spread over the units drawn, what the spread comes from, and the worst units. */
import { memo, useDeferredValue } from "react";
import { FAULTS } from "../../../project/faults";
import type { ToleranceSummary, WorstCase } from "../../../study/trials/toleranceSummary";
import {
  countOf,
  formatNumber,
  formatPercent,
  formatRatio,
  formatTime,
} from "../../../units/format";
import { PART_WORDS } from "../bench/views/words";
import { inputWords } from "./inputWords";
import { OpenCase } from "./openCase";
import { SpreadCharts } from "./SpreadCharts";
import { useTrial } from "./trialsContext";
import { WideTable } from "./WideTable";

export function ToleranceResult() {
  const summary = useTrial("tolerance", (s) => s.summary) as ToleranceSummary | null;
  const monitors = useTrial("tolerance", (s) => s.asked?.project.monitors) ?? [];
  const standing = useTrial("tolerance", (s) => s.standing);
  // charts and the long table come after the words, in a task of their own
  const later = useDeferredValue(summary, null);
  if (standing === "idle") {
    return (
      <p className="note">
        Nothing has been run. Each unit is drawn with its own parts, sensors, tube, mains, air and
        estimates, and struck by the project&apos;s fault, or by an insect in the tuning capacitor.
      </p>
    );
  }
  if (summary === null) return <p className="note">Nothing is known yet.</p>;
  const { fault, margin, belowRequired, tripInNormalUse, requiredMargin } = summary;
  const nameOf = (id: string | null): string =>
    id === null ? "not operated" : (monitors.find((m) => m.id === id)?.name ?? id);
  return (
    <>
      <p className="summary">
        {summary.done < summary.count &&
          `${summary.done} of ${countOf(summary.count, "unit")} so far. `}
        {FAULTS[fault.fault].name}, {PART_WORDS[fault.part]}: {belowRequired.units} of{" "}
        {countOf(margin.units, "unit")} struck {belowRequired.units === 1 ? "stays" : "stay"} under
        the required margin of {formatRatio(requiredMargin)} ({share(belowRequired.share)}),{" "}
        {summary.belowRequiredEarly.units} by the early edge of the estimates (
        {share(summary.belowRequiredEarly.share)}); {countOf(tripInNormalUse.units, "unit")} (
        {share(tripInNormalUse.share)}) would trip in normal use.
        {summary.heatsOn > 0 &&
          ` In ${countOf(summary.heatsOn, "unit")} a part heats on to its damage after the trip: they count as not ended.`}
      </p>
      {margin.units === 0 ? (
        <p className="note">
          No unit has been struck: nothing is known of margins and times, or of what they follow.
        </p>
      ) : (
        <Percentiles summary={summary} />
      )}
      {later !== null && <SpreadCharts summary={later} />}
      {later !== null && later.margin.units > 0 && <Inputs summary={later} />}
      <section className="moments">
        <h3>Worst units</h3>
        <ul>
          {summary.worst.map((w) => (
            <li key={w.index}>
              <span>
                <b>Unit {w.index + 1}</b>: {worstMargin(w)}, {nameOf(w.first)}
                {w.operateS === null ? "" : ` after ${formatTime(w.operateS)}`}
              </span>
              <OpenCase kind="tolerance" index={w.index} />
            </li>
          ))}
        </ul>
      </section>
    </>
  );
}

/** A margin that protection made, or why there is none. */
function worstMargin({ margin, marginEarly, endedS, heatsOn }: WorstCase): string {
  if (heatsOn)
    return "no margin, a part heats on to its damage although the fault has been cleared";
  if (endedS === null) return "no margin, nothing ends it";
  const words = (m: number | null): string => (m === null ? "endless" : formatRatio(m));
  return `margin ${words(margin)}, early edge ${words(marginEarly)}`;
}

function share(part: number): string {
  return part > 0 && part < 0.01 ? `${formatNumber(100 * part, 2)}\u00a0%` : formatPercent(part);
}

function Percentiles({ summary }: { readonly summary: ToleranceSummary }) {
  const rows = [
    ["Margin", summary.margin, formatRatio],
    ["Margin, early edge", summary.marginEarly, formatRatio],
    ["Operate time", summary.operateS, formatTime],
    ["Clearing time", summary.clearingS, formatTime],
  ] as const;
  return (
    <WideTable caption="So many of a hundred units lie at or under">
      <thead>
        <tr>
          <th scope="col">Of the units struck</th>
          {summary.percentiles.map((p) => (
            <th key={p} scope="col">
              {p} %
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(([name, spread, words]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            {spread.percentiles.map((v, i) => (
              <td key={summary.percentiles[i]}>{v === null ? "endless" : words(v)}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
}

function isNoise(r: number | null, noise: number | null): boolean {
  return r !== null && noise !== null && Math.abs(r) < noise;
}

const Inputs = memo(function Inputs({ summary }: { readonly summary: ToleranceSummary }) {
  const { inputs, rankNoise: noise } = summary;
  const isIndexed = inputs.some((i) => i.sobol !== null);
  return (
    <WideTable
      caption={
        <>
          What the margin follows: rank correlation (Spearman) of each input with it, strongest
          first.{" "}
          {noise !== null &&
            `Within noise is what is smaller than ${formatNumber(noise, 2)}, two standard errors of inputs that have no effect: 2/\u221a(n \u2212 1), n units struck (Kendall).`}
        </>
      }
    >
      <thead>
        <tr>
          <th scope="col">Input</th>
          <th scope="col">Rank correlation</th>
          <th scope="col">
            <span className="unseen">As a length</span>
          </th>
          {isIndexed && <th scope="col">Sobol, first and total</th>}
          <th scope="col">Standing</th>
          <th scope="col">Why so wide</th>
        </tr>
      </thead>
      <tbody>
        {inputs.map((i) => (
          <tr key={i.name}>
            <th scope="row">{inputWords(i)}</th>
            <td>
              {i.rankCorrelation === null
                ? "does not vary"
                : formatNumber(i.rankCorrelation, 2, true)}
              {isNoise(i.rankCorrelation, noise) && <small> within noise</small>}
            </td>
            <td>
              <CorrelationBar value={i.rankCorrelation ?? 0} />
            </td>
            {isIndexed && (
              <td>
                {i.sobol === null
                  ? "none"
                  : `${formatNumber(i.sobol.first, 2)}, ${formatNumber(i.sobol.total, 2)}`}
              </td>
            )}
            <td>{i.standing}</td>
            <td className="wraps">{i.why}</td>
          </tr>
        ))}
      </tbody>
    </WideTable>
  );
});

const BAR_PX = 80;

/** From the middle: to the right the margin rises with the input. */
function CorrelationBar({ value }: { readonly value: number }) {
  const length = (Math.min(Math.abs(value), 1) * BAR_PX) / 2;
  return (
    <svg width={BAR_PX} height="10" aria-hidden="true">
      <rect
        x={value < 0 ? BAR_PX / 2 - length : BAR_PX / 2}
        y="2"
        width={length}
        height="6"
        fill="var(--ink-2)"
      />
      <path d={`M${BAR_PX / 2} 0V10`} stroke="var(--ink)" />
    </svg>
  );
}
