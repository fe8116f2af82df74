/** How far the rows of a column of times are apart. */
import { medianInPlace } from '../math/statistics';

/** Stamps are written to the millisecond at best: a step this much over a bound is none. */
export const STAMP_SLACK = 1.001;

/** Median step of a column of times, s; NaN for fewer than two. */
export function medianStep(tS: Float64Array): number {
  const n = tS.length - 1;
  if (n < 1) return Number.NaN;
  const stride = Math.max(1, Math.floor(n / 200_001));
  const work = new Float64Array(Math.ceil(n / stride));
  let count = 0;
  for (let i = 0; i < n; i += stride) work[count++] = tS[i + 1]! - tS[i]!;
  return medianInPlace(work, count);
}
