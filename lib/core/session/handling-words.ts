/** What people say about handling: tasks with their bounds, and ratings given to them. */

/**
 * A task that somebody flew by hand: from when to when, what was to be kept where, and how closely.
 *
 * `quantity` is one that the session has (`z`, `lateral_offset`, `attitude_error.roll`, ...); `target`,
 * `desired` and `adequate` are in its SI unit, the last two half-widths about the target. `name` tells
 * tasks of a session apart.
 */
export type HandlingTask = Readonly<{
  name: string;
  pilot: string;
  fromS: number;
  toS: number;
  quantity: string;
  target: number;
  desired: number;
  adequate: number;
  by: string | null;
  reason: string | null;
}>;

/** Six sub-scales of task load, each 0 to 100 in steps of 5. */
export type TaskLoadWords = Readonly<{
  mental: number;
  physical: number;
  temporal: number;
  performance: number;
  effort: number;
  frustration: number;
}>;

/**
 * One rater's rating of a task, with the answers that led to it. A task load has no answers but six
 * sub-scales, and its rating is their plain mean.
 */
export type HandlingRating = Readonly<{
  task: string;
  scale: string;
  answers: Readonly<Record<string, 'yes' | 'no'>>;
  rating: number;
  load?: TaskLoadWords;
  rater: string;
  remark: string | null;
  by: string | null;
  reason: string | null;
}>;
