/** What the forms of tasks and ratings offer, and what was given, for undoing it. */
import { type RatingScale, walkTree } from '../core/handling/decision-tree';
import { RATING_SCALES, ratingScale } from '../core/handling/rating-scales';
import { TASK_LOAD, TASK_LOAD_SCALES, TASK_LOAD_WORDS } from '../core/handling/task-load';
import { COMPARED_QUANTITIES } from '../core/reconstruction/compared-names';
import type { HandlingRating, HandlingTask } from '../core/session/handling-words';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { type CorrectionRow, type KeptWord, keptRow } from './clock/correction-list';

/** What a task can be about, with the unit in which its bounds are typed. */
export const TASK_QUANTITIES: readonly Readonly<{ value: string; text: string }>[] =
  COMPARED_QUANTITIES.map(({ name, label, unit }) => ({
    value: name,
    text: `${label}, ${readerUnit(unit).unit}`,
  }));

/** SI of a bound typed in the reader's unit of a quantity; null for a quantity that cannot be chosen. */
export function boundInSi(quantity: string, value: number): number | null {
  const found = COMPARED_QUANTITIES.find(({ name }) => name === quantity);
  return found === undefined ? null : value / readerUnit(found.unit).fromSi;
}

/** The six sub-scales of the task load as its form asks them. */
export const LOAD_FORM = {
  ...TASK_LOAD,
  scales: TASK_LOAD_SCALES.map((id) => ({ id, text: TASK_LOAD_WORDS[id] })),
};
export type LoadForm = typeof LOAD_FORM;

/** The scales as their forms ask them. */
export const SCALE_FORMS: readonly RatingScale[] = RATING_SCALES;

type Kept = Readonly<{
  tasks: readonly KeptWord<HandlingTask>[];
  ratings: readonly KeptWord<HandlingRating>[];
}>;

/** Tasks and ratings, for undoing them. */
export function handlingWords({ tasks, ratings }: Kept): readonly CorrectionRow[] {
  return [
    ...tasks.map((one) => keptRow(one, `task ${one.correction.name}`)),
    ...ratings.map((one) => {
      const { task, scale, rating, rater, answers } = one.correction;
      const found = ratingScale(scale);
      const asked = found === null ? [] : walkTree(found, answers).asked;
      return keptRow(
        one,
        found === null
          ? `${scale === TASK_LOAD.id ? TASK_LOAD.name : scale} ${formatNumber(rating, 1)} for ${task} by ${rater}`
          : `${found.name} ${rating} for ${task} by ${rater}, after ${asked.length} answers`,
      );
    }),
  ];
}
