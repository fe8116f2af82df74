/** The windows that were looked at, to go back to one and on again. */
import { type TimeWindow, windowSpanS } from './charts/time-window';

/** `past` is oldest first, `future` what was gone back from, the next one first. */
export type WindowTrail = Readonly<{
  past: readonly TimeWindow[];
  now: TimeWindow;
  future: readonly TimeWindow[];
}>;

export type TrailWay = 'back' | 'on';

const MOST = 100;
/** A share of the window: nearer ones look the same. */
const SAME_SHARE = 1e-6;

export function trailFrom(window: TimeWindow): WindowTrail {
  return { past: [], now: window, future: [] };
}

function looksAlike(a: TimeWindow, b: TimeWindow): boolean {
  const least = SAME_SHARE * windowSpanS(a);
  return Math.abs(a.fromS - b.fromS) <= least && Math.abs(a.toS - b.toS) <= least;
}

/** A window that came to rest: from now on the one that is looked at. */
export function restedAt(trail: WindowTrail, window: TimeWindow): WindowTrail {
  if (looksAlike(trail.now, window)) return trail;
  return { past: [...trail.past, trail.now].slice(-MOST), now: window, future: [] };
}

/** One step along the trail; null where it ends. */
export function trailStep(trail: WindowTrail, way: TrailWay): WindowTrail | null {
  const { past, now, future } = trail;
  const [next, rest] =
    way === 'back' ? [past.at(-1), past.slice(0, -1)] : [future[0], future.slice(1)];
  if (next === undefined) return null;
  return way === 'back'
    ? { past: rest, now: next, future: [now, ...future] }
    : { past: [...past, now], now: next, future: rest };
}
