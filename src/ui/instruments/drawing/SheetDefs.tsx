import { ARROW_ID, ARROW_PATH, HATCH_STEP_PX, HATCHES, hatchId } from "./hatches";

/** Hatches and arrowhead shared by all drawings of the page; put once near its top. */
export function SheetDefs() {
  return (
    <svg width="0" height="0" className="sheet-defs" aria-hidden="true" focusable="false">
      <defs>
        {HATCHES.map((hatch) => (
          <pattern
            key={hatch.name}
            id={hatchId(hatch.name)}
            width={HATCH_STEP_PX}
            height={HATCH_STEP_PX}
            patternUnits="userSpaceOnUse"
            patternTransform={`rotate(${hatch.turnDeg})`}
          >
            <path
              d={`M0 0V${HATCH_STEP_PX}`}
              style={{ stroke: `var(--${hatch.stroke})`, strokeWidth: hatch.widthPx }}
            />
          </pattern>
        ))}
        <marker
          id={ARROW_ID}
          viewBox="0 0 12 8"
          refX="11.5"
          refY="4"
          markerWidth="12"
          markerHeight="8"
          markerUnits="userSpaceOnUse"
          orient="auto-start-reverse"
        >
          <path d={ARROW_PATH} style={{ fill: "var(--ink)" }} />
        </marker>
      </defs>
    </svg>
  );
}
