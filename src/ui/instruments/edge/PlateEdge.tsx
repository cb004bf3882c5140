/** The plate edge magnified: this run beside the same fault left to the operator. */
import { useId, useMemo } from "react";
import { formatCelsius, formatNumber, formatQuantity } from "../../../units/format";
import type { SheetVariant } from "../../theme/metrics";
import { DrawingView } from "../drawing/DrawingView";
import { TableReveal } from "../TableReveal";
import { useElementSize } from "../useElementSize";
import { layoutEdge } from "./edgeLayout";
import type { EdgeHalf, EdgeView } from "./edgeView";

export interface PlateEdgeProps {
  readonly view: EdgeView;
  readonly variant: SheetVariant;
}

export function PlateEdge({ view, variant }: PlateEdgeProps) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(272);
  const id = useId();
  const layout = useMemo(
    () => layoutEdge(view, widthPx, variant, id),
    [view, widthPx, variant, id],
  );
  return (
    <section className="edge" aria-labelledby={`${id}-title`}>
      <div className="zone-head">
        <h2 id={`${id}-title`}>{`Plate edge, ×\u00a0${formatNumber(layout.enlargement, 1)}`}</h2>
        <span className="note">{isothermNote(view)}</span>
        <TableReveal label="The plate edge as a table">
          <EdgeTable view={view} />
        </TableReveal>
      </div>
      <div ref={ref} className="drawing-box">
        <svg
          width={widthPx}
          height={layout.heightPx}
          viewBox={`0 0 ${widthPx} ${layout.heightPx}`}
          role="img"
          aria-label={view.summary}
        >
          <DrawingView drawing={layout.drawing} />
        </svg>
      </div>
    </section>
  );
}

/** `rings 100, 200, 400 °C`: the rings too dark to carry a figure are named here. */
function isothermNote(view: EdgeView): string {
  const kelvins = new Set(
    [...view.thisRun.isotherms, ...view.leftAlone.isotherms].map((ring) => ring.temperatureK),
  );
  const figures = [...kelvins].sort((a, b) => a - b).map((kelvin) => (kelvin - 273.15).toFixed(0));
  return figures.length === 0 ? "" : `rings ${figures.join(", ")}\u00a0°C`;
}

function metalWords(half: EdgeHalf): string {
  if (half.bridged) return "bridged";
  return half.beadRadiusM > 0 ? `bead, radius ${formatQuantity(half.beadRadiusM, "m")}` : "no bead";
}

function EdgeTable({ view }: { readonly view: EdgeView }) {
  const temperatures = [
    ...new Set(
      [...view.thisRun.isotherms, ...view.leftAlone.isotherms].map((ring) => ring.temperatureK),
    ),
  ].sort((a, b) => b - a);
  const radius = (half: EdgeHalf, temperatureK: number) => {
    const ring = half.isotherms.find((candidate) => candidate.temperatureK === temperatureK);
    return ring === undefined || ring.radiusM <= 0
      ? "not reached"
      : formatQuantity(ring.radiusM, "m");
  };
  return (
    <table>
      <caption>{view.summary}</caption>
      <thead>
        <tr>
          <th scope="col">Reaches from the spot</th>
          <th scope="col">{view.thisRun.caption}</th>
          <th scope="col">{view.leftAlone.caption}</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">Peak temperature</th>
          <td>{formatCelsius(view.thisRun.peakK)}</td>
          <td>{formatCelsius(view.leftAlone.peakK)}</td>
        </tr>
        <tr>
          <th scope="row">Metal</th>
          <td>{metalWords(view.thisRun)}</td>
          <td>{metalWords(view.leftAlone)}</td>
        </tr>
        {temperatures.map((temperatureK) => (
          <tr key={temperatureK}>
            <th scope="row">{formatCelsius(temperatureK)}</th>
            <td>{radius(view.thisRun, temperatureK)}</td>
            <td>{radius(view.leftAlone, temperatureK)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
