/** Traces in columns: least and greatest of what was recorded in each, so that no peak disappears. */
import { CHANNEL_COUNT } from "../../simulation/channels";
import type { Recorder } from "../../simulation/recorder";
import { MOST_COLUMNS, type StripColumns, type StripRequest } from "./protocol";
import { readRecord } from "./recordReader";

const pair = new Float64Array(2);
const row = new Float64Array(CHANNEL_COUNT);

/** Columns up to `untilNs`; wide ones are read in whole cells of 5 ms. */
export function stripColumns(
  recorder: Recorder,
  sampleNs: number,
  request: StripRequest,
  untilNs: number,
): StripColumns {
  const { channels } = request;
  const columns = Math.min(Math.max(Math.floor(request.columns), 1), MOST_COLUMNS);
  const columnNs = Math.max((request.toNs - request.fromNs) / columns, 1);
  // on whole multiples of their width, so that a column keeps its content while the window moves
  const firstColumn = Math.floor(request.fromNs / columnNs);
  const minima = new Float32Array(columns * channels.length).fill(Number.NaN);
  const maxima = new Float32Array(columns * channels.length).fill(Number.NaN);
  const coarsely = columnNs >= 2 * recorder.cellSamples * sampleNs;
  const finely = columnNs < sampleNs;
  for (let c = 0; c < columns; c++) {
    const fromNs = (firstColumn + c) * columnNs;
    const toNs = fromNs + columnNs;
    if (fromNs >= untilNs) break;
    if (toNs <= 0) continue;
    if (finely) {
      if (readRecord(recorder, sampleNs, Math.min(toNs, untilNs), row) < 0) continue;
      for (let k = 0; k < channels.length; k++) {
        const v = row[channels[k] as number] as number;
        minima[k * columns + c] = v;
        maxima[k * columns + c] = v;
      }
      continue;
    }
    // samples that end inside the column
    const first = Math.max(Math.ceil(fromNs / sampleNs) - 1, 0);
    const last = Math.ceil(Math.min(toNs, untilNs) / sampleNs) - 1;
    for (let k = 0; k < channels.length; k++) {
      if (!recorder.extremes(channels[k] as number, first, last, pair, coarsely)) continue;
      minima[k * columns + c] = pair[0] as number;
      maxima[k * columns + c] = pair[1] as number;
    }
  }
  return {
    fromNs: firstColumn * columnNs,
    columnNs,
    columns,
    channels,
    minima,
    maxima,
  };
}
