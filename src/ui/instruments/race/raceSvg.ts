import { drawingToSvg, type Palette } from "../drawing/drawingToSvg";
import { layoutRace } from "./raceLayout";
import type { RaceBox } from "./racePlan";
import type { RaceView } from "./raceView";

/** The race as a picture file that stands alone. */
export function raceToSvg(view: RaceView, box: RaceBox, palette: Palette): string {
  const { widthPx, heightPx, drawing } = layoutRace(view, box);
  return drawingToSvg(
    { widthPx, heightPx, drawing, title: view.title, description: view.summary },
    palette,
  );
}
