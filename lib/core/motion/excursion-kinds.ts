/** Excursions of one flight together: what makes one of them made the others, more likely than not. */

import { type ExcursionPosterior, FALLING } from './excursion-posterior';

/** How likely all excursions of a component are of one kind, before looking; else each is what it is. */
const ALIKE = 0.8;

/**
 * Weighs anew whether excursions are jumps that are taken back or have a top. One vehicle under one control makes
 * them: where one by itself tells its kind, those that do not are likely of the same. One alone stays as it is.
 *
 * @param posteriors each weighed by itself
 * @returns the same shapes in the same order, weights of each again adding up to 1
 *
 * Source: Bayes' theorem; either all are of one kind, with as much before looking as one has, or each by itself.
 */
export function weighedTogether(
  posteriors: readonly ExcursionPosterior[],
): readonly ExcursionPosterior[] {
  const falling = posteriors.map(({ members }) =>
    members.reduce((sum, { kind, weight }) => (kind === 'falling' ? sum + weight : sum), 0),
  );
  const allFall = FALLING * falling.reduce((product, share) => product * (share / FALLING), 1);
  const noneFalls =
    (1 - FALLING) * falling.reduce((product, share) => product * ((1 - share) / (1 - FALLING)), 1);
  const any = ALIKE * (allFall + noneFalls) + (1 - ALIKE);
  return posteriors.map((posterior, k) => {
    const own = falling[k] ?? 0;
    const now = (ALIKE * allFall + (1 - ALIKE) * own) / any;
    const factors = {
      falling: own > 0 ? now / own : 0,
      topped: own < 1 ? (1 - now) / (1 - own) : 0,
    };
    const members = posterior.members.map((member) => ({
      ...member,
      weight: member.weight * factors[member.kind],
    }));
    return { ...posterior, members };
  });
}
