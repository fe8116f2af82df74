'use client';

import { createContext, useContext, useMemo } from 'react';
import type { PlotTick } from '@/lib/core/debrief/plot';
import { type AxisWarp, distanceWarp } from '@/lib/view/charts/axis-warp';
import { columnAlong } from '@/lib/view/charts/envelope-column';
import { readStripAt } from '@/lib/view/charts/strip-reading';
import { timeTickCount } from '@/lib/view/charts/time-ticks';
import type { TimelineView } from '@/lib/view/timeline';
import {
  clockAxisName,
  type RangeAt,
  SESSION_AXIS,
  type TimelineClock,
  timelineClock,
} from '@/lib/view/timeline-clock';
import type { TimelineState } from '@/lib/view/timeline-state';
import type { Traces } from './use-traces';

/** The axis under the strips: its clock, its ticks, and where instants stand on it. */
export type ShownAxis = Readonly<{
  clock: TimelineClock;
  warp: AxisWarp | null;
  ticks: readonly PlotTick[];
  name: string;
}>;

const ClockContext = createContext<TimelineClock | null>(null);
export const ClockProvider = ClockContext.Provider;

/** The clock that every read-out below is written by. */
export function useClock(): TimelineClock {
  const clock = useContext(ClockContext);
  if (clock === null) throw new Error('no clock above this component');
  return clock;
}

/** Distance needs a range that closes or opens in the window; where there is none the axis is session time. */
export function useAxis(
  view: TimelineView,
  state: TimelineState,
  traces: Traces,
  widthPx: number,
): ShownAxis {
  const { window, axis } = state;
  const { range } = traces;
  const key = axis.kind === 'distance' ? (range?.series[0]?.key ?? null) : null;
  // Only distance is read from the samples: the other axes stay as they are when some arrive.
  const answers = key === null ? null : traces.envelopes.answers;
  return useMemo(() => {
    const count = timeTickCount(widthPx);
    if (axis.kind !== 'distance') {
      const clock = timelineClock(axis, view);
      return {
        clock,
        warp: null,
        ticks: clock.ticks(window, count),
        name: clockAxisName(clock, window, count),
      };
    }
    const along = columnAlong(answers ?? [], key ?? '', window);
    const warp = distanceWarp({ tS: along.tS, rangeM: along.values }, window);
    const series = range?.series[0];
    const rangeAt: RangeAt = (tS) => {
      if (series === undefined) return null;
      const reading = readStripAt(answers ?? [], series, { tS, window, fromSi: 1 });
      return reading === null ? null : (reading.low + reading.high) / 2;
    };
    if (warp !== null) {
      const clock = timelineClock(axis, view, rangeAt);
      const name = clockAxisName(clock, window, count);
      return { clock, warp, ticks: warp.ticks(count), name };
    }
    const clock = timelineClock(SESSION_AXIS, view);
    // While the range is on its way nothing can be said of it yet.
    const isKnown = along.tS.length > 0 || range === null;
    const why = isKnown ? ': nothing closes or opens here' : '';
    const name = `${clockAxisName(clock, window, count)}${why}`;
    return { clock, warp, ticks: clock.ticks(window, count), name };
  }, [axis, view, window, widthPx, answers, key, range]);
}
