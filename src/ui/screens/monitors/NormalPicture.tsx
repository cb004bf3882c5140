/** What a pickup means in normal use: every band over the drive, the pickup with what lies beyond it, and the same as a table. */
import { memo } from "react";
import { formatReading, QUANTITY_WORDS } from "../../../protection/quantityWords";
import { formatQuantity } from "../../../units/format";
import { TableReveal } from "../../instruments/TableReveal";
import { useElementSize } from "../../instruments/useElementSize";
import { upperFirst } from "../bench/views/words";
import { useEdit, useStudy } from "./monitorsContext";
import { type NormalViewModel, normalView, tableDrives } from "./normalView";

export interface NormalPictureProps {
  readonly index: number;
  readonly criterion: number;
}

export function NormalPicture({ index, criterion }: NormalPictureProps) {
  const project = useEdit((s) => s.project);
  const bands = useStudy((s) => s.bands);
  const def = project.monitors[index];
  const own = def?.criteria[criterion];
  if (def === undefined || own === undefined) return null;
  const view = normalView(def, own, bands, project.sensors);
  return (
    <section aria-labelledby="normal-title" className="normal">
      <h3 id="normal-title">
        The pickup against normal use <span className="unit">tuned, matched, settled</span>
      </h3>
      {bands.length === 0 ? (
        <p className="note normal-wait">The bands are being worked out.</p>
      ) : (
        <>
          <p className="summary">{view.summary}</p>
          <Picture view={view} />
          <TableReveal label="Normal use as a table">
            <ReadingTable view={view} />
          </TableReveal>
        </>
      )}
    </section>
  );
}

const HEIGHT = 168;
const LEFT = 62;
const RIGHT = 10;
const TOP = 8;
const BOTTOM = 26;

const Picture = memo(function Picture({ view }: { readonly view: NormalViewModel }) {
  const { ref, widthPx } = useElementSize<HTMLDivElement>(420);
  const width = Math.max(widthPx, 200);
  const { criterion, low, high, mostW, alarm } = view;
  const x = (w: number): number => LEFT + ((width - LEFT - RIGHT) * w) / mostW;
  const y = (v: number): number =>
    TOP + ((HEIGHT - TOP - BOTTOM) * (high - Math.min(Math.max(v, low), high))) / (high - low);
  const read = (v: number): string => formatReading(criterion.quantity, v);
  const over = criterion.side === "over";
  const pickupY = y(criterion.pickup);
  const beyond = over
    ? { y: TOP, height: pickupY - TOP }
    : { y: pickupY, height: HEIGHT - BOTTOM - pickupY };
  const path = (points: NormalViewModel["bands"][number]["readings"]): string =>
    points
      .filter((p) => Number.isFinite(p.value))
      .map((p, k) => `${k === 0 ? "M" : "L"}${x(p.driveW).toFixed(1)} ${y(p.value).toFixed(1)}`)
      .join("");
  const ends = [low, high].filter((v) => Math.abs(y(v) - pickupY) > 14);
  return (
    <div ref={ref} className="normal-picture">
      <svg
        role="img"
        aria-label={view.summary}
        width={width}
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
      >
        <defs>
          <pattern
            id="beyond"
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <line className="normal-hatch" x1="0" y1="0" x2="0" y2="6" />
          </pattern>
        </defs>
        <rect
          className="normal-ground"
          x={LEFT}
          y={TOP}
          width={width - LEFT - RIGHT}
          height={HEIGHT - TOP - BOTTOM}
        />
        <rect fill="url(#beyond)" x={LEFT} width={width - LEFT - RIGHT} {...beyond} />
        {view.bands.map(({ band, readings }) => (
          <path key={band} className="normal-band" d={path(readings)} />
        ))}
        {alarm !== null && (
          <line className="normal-alarm" x1={LEFT} x2={width - RIGHT} y1={y(alarm)} y2={y(alarm)} />
        )}
        <line className="normal-pickup" x1={LEFT} x2={width - RIGHT} y1={pickupY} y2={pickupY} />
        <path className="normal-mark" d={`M${LEFT} ${pickupY}l-9 -5v10z`} />
        <text className="normal-text strong" x={LEFT - 12} y={pickupY + 4} textAnchor="end">
          {read(criterion.pickup)}
        </text>
        {ends.map((v) => (
          <text
            key={v}
            className="normal-text"
            x={LEFT - 4}
            y={y(v) + (v === high ? 8 : 0)}
            textAnchor="end"
          >
            {read(v)}
          </text>
        ))}
        <text className="normal-text" x={LEFT} y={HEIGHT - 9}>
          0
        </text>
        <text
          className="normal-text"
          x={(LEFT + width - RIGHT) / 2}
          y={HEIGHT - 9}
          textAnchor="middle"
        >
          drive
        </text>
        <text className="normal-text" x={width - RIGHT} y={HEIGHT - 9} textAnchor="end">
          {formatQuantity(mostW, "W")}
        </text>
      </svg>
      <p className="note">
        A line a band. Triangle and hatch: pickup and beyond
        {alarm === null ? "." : "; dashed: alarm."}
      </p>
    </div>
  );
});

function ReadingTable({ view }: { readonly view: NormalViewModel }) {
  const drives = tableDrives(view);
  const { quantity } = view.criterion;
  return (
    <table className="figures">
      <caption className="unseen">
        {upperFirst(QUANTITY_WORDS[quantity].words)} in normal use
      </caption>
      <thead>
        <tr>
          <th scope="col">Band</th>
          {drives.map((w) => (
            <th key={w} scope="col">
              {formatQuantity(w, "W")}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {view.bands.map(({ band, readings }) => (
          <tr key={band}>
            <th scope="row">{band}</th>
            {drives.map((w) => (
              <td key={w}>
                {formatReading(quantity, readings.find((r) => r.driveW === w)?.value ?? Number.NaN)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
