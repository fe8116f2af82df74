/** Why a session was held against no runs. */
import { finalMove } from '../core/reconstruction/final-step';
import type { Reconstruction } from '../core/reconstruction/reconstruction';

type Kept = Pick<Reconstruction, 'plan' | 'steps'>;

/**
 * The first thing that a comparison lacks: a plan, a move in it, that move as flown, runs.
 *
 * @returns a sentence
 */
export function whyNoComparison({ plan, steps }: Kept): string {
  if (plan === null)
    return 'The last move of a plan is what is compared, and this session has no plan.';
  const last = finalMove(plan);
  if (last === null) return 'Only a move is compared, and the plan has none.';
  const flown = steps.find(({ id }) => id === last.id);
  if (flown === undefined || flown.startS === null) {
    return 'The last move of the plan was not flown, and it is what is compared.';
  }
  return 'This session names no simulator runs, or none of them could be read.';
}
