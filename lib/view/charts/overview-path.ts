/** The whole session in one small line: SVG path data from an envelope. */
import { axisRatio, type Plot } from '../../core/debrief/plot';

/** @returns path data of the first series of a plot in a box of its own; empty without one */
export function overviewPath(
  plot: Plot,
  box: Readonly<{ widthPx: number; heightPx: number; padPx: number }>,
): string {
  const series = plot.series[0];
  if (series === undefined) return '';
  const tenths = (px: number): number => Math.round(px * 10) / 10;
  let path = '';
  let joined = false;
  series.y.forEach((value, index) => {
    const at = series.x[index];
    if (value === null || at === undefined) {
      joined = false;
      return;
    }
    const x = tenths(axisRatio(plot.x, at) * box.widthPx);
    const y = tenths(box.padPx + (1 - axisRatio(plot.y, value)) * (box.heightPx - 2 * box.padPx));
    path += `${joined ? 'L' : 'M'}${x} ${y}`;
    joined = true;
  });
  return path;
}
