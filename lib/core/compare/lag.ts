/** By how much one column comes later than another. */

/** `lagS` is positive where the first column comes later; NaN, with a reason, where none can be told. */
export type Lag = Readonly<{ lagS: number; correlation: number; reason: string | null }>;

/** A weaker likeness tells no lag. Our own choice. */
const LEAST_CORRELATION = 0.5;

/** Pearson's correlation of `a[i + shift]` and `b[i]` where both have a value; NaN for fewer than 8. */
function correlationAt(a: Float64Array, b: Float64Array, shift: number): number {
  let [n, sa, sb, saa, sbb, sab] = [0, 0, 0, 0, 0, 0];
  const to = Math.min(b.length, a.length - shift);
  for (let i = Math.max(0, -shift); i < to; i++) {
    const x = a[i + shift] ?? Number.NaN;
    const y = b[i] ?? Number.NaN;
    if (Number.isNaN(x) || Number.isNaN(y)) continue;
    n++;
    sa += x;
    sb += y;
    saa += x * x;
    sbb += y * y;
    sab += x * y;
  }
  if (n < 8) return Number.NaN;
  const spread = (saa - (sa * sa) / n) * (sbb - (sb * sb) / n);
  return spread > 0 ? (sab - (sa * sb) / n) / Math.sqrt(spread) : Number.NaN;
}

/** Both columns about the mean of the first, so that sums of squares keep their digits. */
function centred(a: Float64Array, b: Float64Array): readonly [Float64Array, Float64Array] {
  const there = a.filter((value) => !Number.isNaN(value));
  const mean = there.reduce((sum, value) => sum + value, 0) / there.length;
  return [a.map((value) => value - mean), b.map((value) => value - mean)];
}

/**
 * The shift at which two evenly sampled columns correlate best, within a reach on both sides, refined by
 * a parabola through the best and its neighbours.
 *
 * @param stepS time between samples of both
 * @param reachS largest lag looked for; a best at its edge is no lag
 *
 * Source: cross-correlation; the parabola through three points, elementary.
 */
export function lagBetween(
  a: Float64Array,
  b: Float64Array,
  { stepS, reachS }: Readonly<{ stepS: number; reachS: number }>,
): Lag {
  const [x, y] = centred(a, b);
  const reach = Math.floor(reachS / stepS);
  const found = Float64Array.from({ length: 2 * reach + 1 }, (_, index) =>
    correlationAt(x, y, index - reach),
  );
  let best = -1;
  found.forEach((value, index) => {
    if (!Number.isNaN(value) && (best < 0 || value > (found[best] ?? Number.NaN))) best = index;
  });
  const none = (correlation: number, reason: string): Lag => ({
    lagS: Number.NaN,
    correlation,
    reason,
  });
  const peak = found[best];
  if (peak === undefined) return none(Number.NaN, 'Too little of both to be held together.');
  if (peak < LEAST_CORRELATION) return none(peak, 'The two are too unlike to tell a lag.');
  const before = found[best - 1] ?? Number.NaN;
  const after = found[best + 1] ?? Number.NaN;
  const bend = before - 2 * peak + after;
  if (!(bend < 0)) return none(peak, 'No lag within reach is the best.');
  const shift = best - reach + (before - after) / (2 * bend);
  return { lagS: shift * stepS, correlation: peak, reason: null };
}
