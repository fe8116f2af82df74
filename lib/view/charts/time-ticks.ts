/** Ticks of session time under the strips: those of the plots, asked for by room. */
import type { PlotTick } from '../../core/debrief/plot';
import { timeAxis } from '../../core/debrief/plot-axis';
import type { TimeWindow } from './time-window';

/** A text such as `00:18:14.05` with room on both sides. */
const TICK_ROOM_PX = 104;

/** Intervals that fit on a plot without their texts touching. */
export function timeTickCount(widthPx: number): number {
  return Math.max(1, Math.floor(widthPx / TICK_ROOM_PX));
}

export function axisTicks(window: TimeWindow, count: number): readonly PlotTick[] {
  return timeAxis(window.fromS, window.toS, count).ticks;
}

/** What the texts of the axis are, so that 00:10 is not taken for ten seconds. */
export function axisName(window: TimeWindow, count: number): string {
  const longest = axisTicks(window, count).reduce((most, tick) => {
    return Math.max(most, tick.text.split(':').length);
  }, 0);
  return longest === 2 ? 'session time, hh:mm' : 'session time, hh:mm:ss';
}
