/** What the data say of tasks flown by hand, beside what raters said; a part of the reconstruction. */

import type { Figure } from '../figure';
import type { PerformanceClaim } from '../handling/rating-scales';
import type { HandlingRating, HandlingTask } from '../session/handling-words';

/** How one hand controller axis was moved in a task; figures are `null` where rows are not even. */
export type AxisActivity = Readonly<{
  axis: string;
  /** Share of rows at which the deflection changed, over all rows. */
  duty: Figure;
  aggressiveness: Figure;
  cutOffHz: Figure;
  /** Rate left after the controller was let go, and how much of what was asked went along another axis. */
  residualRate: Figure | null;
  coupling: Figure | null;
  /** Jets of the same axis: times they came on, and the share of time they were on; null without a channel. */
  firings: Figure | null;
  jetDuty: Figure | null;
}>;

/** A rating with what the data say of it. `fault`: why it cannot stand; `against`: how it differs from the data. */
export type RatingResult = HandlingRating &
  Readonly<{ claim: PerformanceClaim | null; fault: string | null; against: string | null }>;

/** The measures of a task in the median of the `runs` that cover its part of the plan. */
export type SimulatedTask = Readonly<{
  runs: number;
  insideDesired: Figure;
  insideAdequate: Figure;
  overshoots: Figure;
  bias: Figure;
  rms: Figure;
  peak: Figure;
}>;

/**
 * A task with its measures. `pilotInLoop` tells whether a hand controller was moved in it: `not recorded`
 * where there is no such channel. `met` is the better of the bounds that were kept for `KEPT_SHARE` of the
 * time. Figures are `null` where the quantity has no value there, and `fault` then says why.
 */
export type TaskResult = HandlingTask &
  Readonly<{
    unit: string;
    pilotInLoop: 'moved' | 'at rest' | 'not recorded';
    insideDesired: Figure | null;
    insideAdequate: Figure | null;
    overshoots: Figure | null;
    bias: Figure | null;
    rms: Figure | null;
    peak: Figure | null;
    /** null where no run covers the stretch; absent in an older reconstruction. */
    simulator?: SimulatedTask | null;
    met: 'desired' | 'adequate only' | 'neither' | null;
    activity: readonly AxisActivity[];
    ratings: readonly RatingResult[];
    fault: string | null;
    /** What to know about the task itself: its name is used twice. */
    note: string | null;
  }>;

/** A stretch that looks flown by hand; `about` says by what, as a clause. */
export type ManualStretch = Readonly<{
  fromS: number;
  toS: number;
  basis: 'log' | 'mode' | 'controller';
  about: string;
}>;

export type HandlingReport = Readonly<{
  tasks: readonly TaskResult[];
  /** Ratings of tasks that nobody named. */
  astray: readonly RatingResult[];
  /** What a task's stretch may be; absent in an older reconstruction. */
  manual?: readonly ManualStretch[];
}>;
