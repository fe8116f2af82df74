/** Ratings of a task as rows, beside the data, and their spread over raters. */
import { RATING_SCALES, ratingScale } from '../core/handling/rating-scales';
import { TASK_LOAD, TASK_LOAD_SCALES } from '../core/handling/task-load';
import type { RatingResult } from '../core/reconstruction/handling';
import { formatNumber } from '../core/units/number-text';
import { plural } from './format-number';

export type RatingRow = Readonly<{
  key: string;
  scale: string;
  rating: string;
  anchor: string;
  rater: string;
  remark: string | null;
  /** Why it cannot stand, or how it differs from the data. */
  trouble: string | null;
}>;

/** The six sub-scales, each with its value. */
function loadText(load: NonNullable<RatingResult['load']>): string {
  return TASK_LOAD_SCALES.map((scale) => `${scale} ${load[scale]}`).join(', ');
}

export function ratingRow(rating: RatingResult): RatingRow {
  const scale = ratingScale(rating.scale);
  return {
    key: `${rating.task}-${rating.scale}-${rating.rater}-${rating.rating}`,
    scale: scale?.name ?? (rating.load === undefined ? rating.scale : TASK_LOAD.name),
    rating: formatNumber(rating.rating, rating.load === undefined ? 0 : 1),
    anchor:
      rating.load === undefined ? (scale?.anchors[rating.rating] ?? '') : loadText(rating.load),
    rater: rating.rater,
    remark: rating.remark,
    trouble: rating.fault ?? rating.against,
  };
}

/** Spread over raters, never averaged away. */
export function spreadOf(ratings: readonly RatingResult[]): readonly string[] {
  return [...RATING_SCALES, TASK_LOAD].flatMap(({ id, name }) => {
    const given = ratings.filter(({ scale, fault }) => scale === id && fault === null);
    if (given.length < 2) return [];
    const values = given.map(({ rating }) => rating);
    const raters = new Set(given.map(({ rater }) => rater)).size;
    return [
      `${name}: ${Math.min(...values)} to ${Math.max(...values)}, ${plural(given.length, 'rating')} by ${plural(raters, 'rater')}`,
    ];
  });
}
