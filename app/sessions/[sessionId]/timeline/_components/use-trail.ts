'use client';

import { type Dispatch, useEffect, useState } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { restedAt, type TrailWay, trailFrom, trailStep } from '@/lib/view/timeline-trail';

/** A turn of the wheel or a drag is one way to go back, not a hundred. */
const RESTS_AFTER_MS = 600;

export type Trail = Readonly<{
  /** Whether there is a window on that side. */
  ends: Readonly<Record<TrailWay, 'open' | 'end'>>;
  step: (way: TrailWay) => void;
}>;

/** Back to the windows that were looked at before, and on again. */
export function useTrail(
  window: TimeWindow,
  dispatch: Dispatch<TimelineAction>,
  say: (sentence: string) => void,
): Trail {
  const [trail, setTrail] = useState(() => trailFrom(window));
  useEffect(() => {
    const rest = setTimeout(() => setTrail((before) => restedAt(before, window)), RESTS_AFTER_MS);
    return () => clearTimeout(rest);
  }, [window]);
  const step = (way: TrailWay): void => {
    const next = trailStep(restedAt(trail, window), way);
    if (next === null) {
      say(way === 'back' ? 'No earlier window.' : 'No later window.');
      return;
    }
    setTrail(next);
    dispatch({ kind: 'show', window: next.now });
  };
  const endOf = (way: TrailWay) =>
    trailStep(restedAt(trail, window), way) === null ? 'end' : 'open';
  return { ends: { back: endOf('back'), on: endOf('on') }, step };
}
