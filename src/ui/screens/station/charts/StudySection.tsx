/** What every study of the station shows: a title, the figures as a table behind a button, one sentence, the charts. */
import { type ReactNode, useId } from "react";
import { ColumnHeads } from "../../../instruments/ColumnHeads";
import { TableReveal } from "../../../instruments/TableReveal";
import { Chart, type ChartProps } from "./Chart";

export interface StudySectionProps {
  readonly title: string;
  readonly tableLabel: string;
  /** Names of the table's columns; a table row is one of `rows`. */
  readonly heads: readonly string[];
  readonly rows: readonly {
    readonly key: number;
    readonly name: string;
    readonly cells: ReactNode;
  }[];
  readonly summary: string;
  /** Between the sentence and the charts. */
  readonly legend?: ReactNode;
  readonly children: ReactNode;
}

export function StudySection(props: StudySectionProps) {
  const { title, tableLabel, heads, rows, summary, legend, children } = props;
  const id = useId();
  return (
    <section aria-labelledby={id}>
      <div className="zone-head">
        <h3 id={id}>{title}</h3>
        <TableReveal label={tableLabel}>
          <table className="figures">
            <ColumnHeads words={heads} />
            <tbody>
              {rows.map(({ key, name, cells }) => (
                <tr key={key}>
                  <th scope="row">{name}</th>
                  {cells}
                </tr>
              ))}
            </tbody>
          </table>
        </TableReveal>
      </div>
      <p className="summary">{summary}</p>
      {legend}
      {children}
    </section>
  );
}

/** Small charts of several quantities against one and the same. */
export function SmallCharts({
  charts,
  common,
  against,
}: {
  readonly charts: readonly Omit<ChartProps, "label" | keyof CommonProps>[];
  readonly common: CommonProps;
  /** Ends each chart's spoken sentence, which begins with its title. */
  readonly against: string;
}) {
  return (
    <div className="charts">
      {charts.map((chart) => (
        <Chart key={chart.title} {...common} {...chart} label={`${chart.title} ${against}`} />
      ))}
    </div>
  );
}

type CommonProps = Pick<ChartProps, "xUnit" | "xDomain" | "xTicks" | "markX" | "heightPx">;
