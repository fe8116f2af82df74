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
