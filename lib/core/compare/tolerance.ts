/** How much of one column lies within a tolerance of another. */

/**
 * `absolute`: within a size; `percent`: within a share of the flight's own value; `either`: within the
 * one or the other, the wider of both; `both`: within the one and the other; `less`: within whichever
 * is less. The last two ask the same at each place; both are named because both are written.
 */
export const TOLERANCE_KINDS = ['absolute', 'percent', 'either', 'both', 'less'] as const;
export type ToleranceKind = (typeof TOLERANCE_KINDS)[number];

/** `absolute` is in the columns' unit, `percent` of the flight's value. */
export type Tolerance = Readonly<{ kind: ToleranceKind; absolute: number; percent: number }>;

function allowed({ kind, absolute, percent }: Tolerance, flown: number): number {
  const share = (Math.abs(flown) * percent) / 100;
  if (kind === 'absolute') return absolute;
  if (kind === 'percent') return share;
  return kind === 'either' ? Math.max(absolute, share) : Math.min(absolute, share);
}

/**
 * Share of the places with both values at which the difference is at most the tolerance; NaN for none.
 *
 * Source: after the manner of 14 CFR Part 60, Appendix A, Attachment 2 (objective tests with tolerances
 * as a size, a percentage, or both), from memory.
 */
export function shareWithin(
  flown: Float64Array,
  simulated: Float64Array,
  tolerance: Tolerance,
): number {
  let there = 0;
  let inside = 0;
  for (let place = 0; place < flown.length; place++) {
    const a = flown[place] ?? Number.NaN;
    const b = simulated[place] ?? Number.NaN;
    if (Number.isNaN(a) || Number.isNaN(b)) continue;
    there++;
    if (Math.abs(a - b) <= allowed(tolerance, a)) inside++;
  }
  return there === 0 ? Number.NaN : inside / there;
}
