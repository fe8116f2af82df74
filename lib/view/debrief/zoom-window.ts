/** What part of a figure is looked at, and its strips drawn over that part from the record's points. */
import type { Plot, PlotAxis } from '../../core/debrief/plot';
import { axisRatio } from '../../core/debrief/plot';
import { linearTicks, timeTicks, valueAxis } from '../../core/debrief/plot-axis';

/** A part of the axis along the bottom, as shares of its length from the left: 0 to 1 is the whole. */
export type ZoomWindow = Readonly<{ left: number; right: number }>;

/** The figure as it was published. */
export const WHOLE: ZoomWindow = { left: 0, right: 1 };

/** No part is looked at more than so many times enlarged: there are no more points to see. */
const MOST_TIMES = 200;

/** The window enlarged about a place in it, or made smaller; never beyond the whole. @param at share of the window */
export function zoomed(window: ZoomWindow, times: number, at: number): ZoomWindow {
  const length = window.right - window.left;
  const next = Math.min(1, Math.max(1 / MOST_TIMES, length / times));
  return within(window.left + (length - next) * at, next);
}

/** The window moved along by a share of its own length. */
export function moved(window: ZoomWindow, share: number): ZoomWindow {
  const length = window.right - window.left;
  return within(window.left + share * length, length);
}

function within(left: number, length: number): ZoomWindow {
  const from = Math.min(Math.max(0, left), 1 - length);
  return { left: from, right: from + length };
}

function cutAxis(axis: PlotAxis, { left, right }: ZoomWindow): PlotAxis {
  const from = axis.from + (axis.to - axis.from) * left;
  const to = axis.from + (axis.to - axis.from) * right;
  const [low, high] = from < to ? [from, to] : [to, from];
  // An axis without a unit is session time as a clock.
  const ticks = axis.unit === '' ? timeTicks(low, high, 8) : linearTicks(low, high, 8);
  return { ...axis, from, to, ticks };
}

/** Values of the traces that lie in the part, and those on the way into it and out of it. */
function valuesIn({ series }: Plot, x: PlotAxis): readonly (number | null)[] {
  return series.flatMap((trace) => {
    const side = trace.x.map((at) => Math.floor(axisRatio(x, at) === 1 ? 0 : axisRatio(x, at)));
    return trace.y.filter((_, index) => {
      const [before, here, after] = [side[index - 1], side[index], side[index + 1]];
      return here === 0 || (before ?? here) !== here || (after ?? here) !== here;
    });
  });
}

/**
 * Strips over a part of their common axis; the values that are seen there fill each strip.
 *
 * @returns the strips themselves for the whole
 */
export function plotsIn(plots: readonly Plot[], window: ZoomWindow): readonly Plot[] {
  if (window.left <= 0 && window.right >= 1) return plots;
  return plots.map((plot) => {
    const x = cutAxis(plot.x, window);
    const { label, unit } = plot.y;
    return { ...plot, x, y: valueAxis(valuesIn(plot, x), { label, unit }) };
  });
}
