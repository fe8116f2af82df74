/** A dense trace on a canvas: a column a pixel from the least to the greatest value there. */
import type { PlotSeries } from '../../core/debrief/plot';
import type { Pen } from './chart-marks';

/** Where a value of an axis lies: `px` at `from`, `pxPerUnit` farther for each unit. */
export type PixelScale = Readonly<{ from: number; px: number; pxPerUnit: number }>;

/** Pixels, `top` above `bottom`. */
type Column = Readonly<{ x: number; top: number; bottom: number }>;

/** A trace with fewer columns than this for a pixel of width is a line that can be seen as one. */
const DENSE_A_PIXEL = 0.4;
/** Columns that are less high on average make a line. */
const LEAST_HEIGHT_PX = 3;
const LINE_PX = 1.5;

/**
 * The columns of a trace whose points are the least and greatest of each pixel in turn.
 *
 * As a line such a trace covers itself hundreds of times, and drawing that takes ten times as long as its columns.
 *
 * @returns runs without a gap; null for a trace that is to be drawn as a line
 */
export function denseColumns(
  { x, y }: PlotSeries,
  [across, up]: readonly [PixelScale, PixelScale],
  widthPx: number,
): readonly (readonly Column[])[] | null {
  const runs: Column[][] = [];
  let run: Column[] = [];
  let heightPx = 0;
  let count = 0;
  for (let index = 0; index < y.length; index += 1) {
    const at = x[index];
    const value = y[index] ?? null;
    if (at === undefined || value === null) {
      if (run.length > 0) runs.push(run);
      run = [];
      continue;
    }
    const first = up.px + (value - up.from) * up.pxPerUnit;
    const other = x[index + 1] === at ? (y[index + 1] ?? value) : value;
    if (x[index + 1] === at) index += 1;
    const second = up.px + (other - up.from) * up.pxPerUnit;
    heightPx += Math.abs(first - second);
    count += 1;
    run.push({
      x: across.px + (at - across.from) * across.pxPerUnit,
      top: Math.min(first, second),
      bottom: Math.max(first, second),
    });
  }
  if (run.length > 0) runs.push(run);
  const isDense = count > DENSE_A_PIXEL * widthPx && heightPx > LEAST_HEIGHT_PX * count;
  return isDense ? runs : null;
}

/** Fills columns up to where the next begins, each so high that it meets the one before. */
export function fillColumns(
  pen: Pick<Pen, 'fillRect'>,
  runs: readonly (readonly Column[])[],
): void {
  for (const run of runs)
    run.forEach(({ x, top, bottom }, index) => {
      const before = run[index - 1];
      const next = run[index + 1];
      const from = Math.min(top, before?.bottom ?? top) - LINE_PX / 2;
      const to = Math.max(bottom, before?.top ?? bottom) + LINE_PX / 2;
      const left = Math.floor(x);
      const width = next === undefined ? 1 : Math.max(1, Math.floor(next.x) - left);
      pen.fillRect(left, from, width, to - from);
    });
}
