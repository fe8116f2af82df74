/** A stretch of session time shown on an axis, and where its instants fall on the screen. */

/** Elapsed SI seconds from the session's zero; `fromS < toS`. */
export type TimeWindow = Readonly<{ fromS: number; toS: number }>;

/** Width of the value axis left of every plot, and of the margin with labels right of it: all strips line up. */
export const AXIS_WIDTH_PX = 56;
export const MARGIN_RIGHT_PX = 124;

/** Narrower than this no plot can be read. */
const NARROWEST_PX = 120;

/** Width of a plot inside a cell that also holds its axis and its labels. */
export function plotWidthPx(cellPx: number): number {
  return Math.max(NARROWEST_PX, cellPx - AXIS_WIDTH_PX - MARGIN_RIGHT_PX);
}

/** The shortest window: below it the screen has more pixels than any recorder has samples. */
const SHORTEST_S = 0.2;

export function windowSpanS(window: TimeWindow): number {
  return window.toS - window.fromS;
}

/**
 * Where an instant falls on a plot.
 *
 * @param widthPx width of the plot, without its axis
 * @returns pixels from the plot's left edge; outside 0 to `widthPx` when outside the window
 */
export function xAtTime(window: TimeWindow, widthPx: number, tS: number): number {
  return ((tS - window.fromS) / windowSpanS(window)) * widthPx;
}

export function timeAtX(window: TimeWindow, widthPx: number, xPx: number): number {
  return window.fromS + (xPx / Math.max(1, widthPx)) * windowSpanS(window);
}

export function clampTime(window: TimeWindow, tS: number): number {
  return Math.min(window.toS, Math.max(window.fromS, tS));
}

/** Moves and shortens a window until it lies inside the session; keeps its span where it can. */
export function fitWindow(window: TimeWindow, session: TimeWindow): TimeWindow {
  const span = Math.min(
    windowSpanS(session),
    Math.max(Math.min(SHORTEST_S, windowSpanS(session)), windowSpanS(window)),
  );
  const fromS = Math.min(session.toS - span, Math.max(session.fromS, window.fromS));
  return { fromS, toS: fromS + span };
}

/**
 * The window scaled about an instant that stays where it is on the screen.
 *
 * @param factor new span over old span; under 1 zooms in
 */
export function zoomWindow(
  window: TimeWindow,
  session: TimeWindow,
  zoom: Readonly<{ aroundS: number; factor: number }>,
): TimeWindow {
  const around = clampTime(window, zoom.aroundS);
  const span = Math.min(
    windowSpanS(session),
    Math.max(SHORTEST_S, windowSpanS(window) * zoom.factor),
  );
  const share = (around - window.fromS) / windowSpanS(window);
  const fromS = around - share * span;
  return fitWindow({ fromS, toS: fromS + span }, session);
}

/** The window moved by a share of its own span; stops at the session's ends. */
export function panWindow(window: TimeWindow, session: TimeWindow, share: number): TimeWindow {
  const byS = windowSpanS(window) * share;
  return fitWindow({ fromS: window.fromS + byS, toS: window.toS + byS }, session);
}

/** The window with the least move that shows an instant, with a tenth of room beside it. */
export function revealTime(window: TimeWindow, session: TimeWindow, tS: number): TimeWindow {
  const span = windowSpanS(window);
  if (tS >= window.fromS && tS <= window.toS) return window;
  const fromS = tS < window.fromS ? tS - span * 0.1 : tS - span * 0.9;
  return fitWindow({ fromS, toS: fromS + span }, session);
}

/** The window that shows a stretch with room on both sides; an instant gets two seconds. */
export function frameStretch(stretch: TimeWindow, session: TimeWindow): TimeWindow {
  const span = Math.max(windowSpanS(stretch) * 1.4, 2);
  const middle = (stretch.fromS + stretch.toS) / 2;
  return fitWindow({ fromS: middle - span / 2, toS: middle + span / 2 }, session);
}
