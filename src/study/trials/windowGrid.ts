/** The points of a sweep and the monitors in shadow that stand for them. */
import type { MonitorDef } from "../../project/protection";
import type { WindowOptions } from "./windowOptions";
import { withSetting } from "./windowPaths";

/** Points and variants of a sweep: several points may share a variant, where the settings are of two monitors. */
export interface Grid {
  readonly variants: readonly MonitorDef[];
  /** Variants by point, x running fastest; ids. */
  readonly points: readonly {
    readonly x: number;
    readonly y: number;
    readonly ids: readonly string[];
  }[];
}

/** Every setting of the grid as a monitor in shadow. */
export function gridOf({ x, y, monitors }: WindowOptions): Grid {
  const variants = new Map<string, MonitorDef>();
  const shadowOf = (id: string, monitor: string): MonitorDef => {
    const def = monitors.find((m) => m.id === monitor);
    if (def === undefined) throw new Error(`no monitor ${monitor}`);
    // where the monitor itself would not act in tune mode, its variants do not count there
    const tuneRole = def.tuneRole === "acting" ? "shadow" : "off";
    return { ...def, id, name: id, role: "shadow", tuneRole, alarm: null };
  };
  const points = y.values.flatMap((yValue) =>
    x.values.map((xValue) => {
      if (x.path.monitor === y.path.monitor) {
        const id = `${x.name}=${xValue} ${y.name}=${yValue}`;
        const def = withSetting(shadowOf(id, x.path.monitor), x.path, xValue);
        variants.set(id, withSetting(def, y.path, yValue));
        return { x: xValue, y: yValue, ids: [id] };
      }
      const ids = [`${x.name}=${xValue}`, `${y.name}=${yValue}`] as const;
      variants.set(ids[0], withSetting(shadowOf(ids[0], x.path.monitor), x.path, xValue));
      variants.set(ids[1], withSetting(shadowOf(ids[1], y.path.monitor), y.path, yValue));
      return { x: xValue, y: yValue, ids };
    }),
  );
  return { variants: [...variants.values()], points };
}
