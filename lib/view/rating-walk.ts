/** How far a rater has come in a scale's questions, for the form that asks them. */
import {
  type Answer,
  type Question,
  type RatingScale,
  walkTree,
} from '../core/handling/decision-tree';

/** Questions to show, the open one last; the ratings to choose from once all are answered. */
export type RatingWalk = Readonly<{
  asked: readonly Question[];
  ratings: readonly number[] | null;
}>;

export function ratingWalk(
  scale: RatingScale,
  answers: Readonly<Record<string, Answer>>,
): RatingWalk {
  const { asked, open, reached } = walkTree(scale, answers);
  const answered = scale.questions.filter(({ key }) => asked.includes(key));
  // A scale asks its questions in the order in which it lists them.
  return { asked: open === null ? answered : [...answered, open], ratings: reached };
}
