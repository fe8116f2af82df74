/** What a flight is held against, counted: simulator runs, other flights, or both. */
import type { Comparison } from '../core/reconstruction/comparison';
import { plural } from './format-number';

type Against = Pick<Comparison, 'runs' | 'groups' | 'order'>;

/** How many of those that make the bands were flown. */
function flightsAmong({ groups, order }: Against): number {
  const flown = new Set(groups.flatMap(({ isFlight, names }) => (isFlight === true ? names : [])));
  return order.filter(({ name }) => flown.has(name)).length;
}

/** `200 simulator runs`, `1 other flight`, or `200 simulator runs and 1 other flight`. */
export function againstWords(comparison: Against): string {
  const flights = flightsAmong(comparison);
  const runs = comparison.runs - flights;
  const parts = [
    ...(runs > 0 || flights === 0 ? [plural(runs, 'simulator run')] : []),
    ...(flights > 0 ? [plural(flights, 'other flight')] : []),
  ];
  return parts.join(' and ');
}
