/** How many ticks of time fit under the strips. */

/** A text such as `00:18:14.05` with room on both sides. */
const TICK_ROOM_PX = 104;

/** Intervals that fit on a plot without their texts touching. */
export function timeTickCount(widthPx: number): number {
  return Math.max(1, Math.floor(widthPx / TICK_ROOM_PX));
}
