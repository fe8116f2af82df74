/** The rate of a series at each of its values, where it wanders by an amount that all of them tell. */
import type { NoisySeries } from './sway-filter';

/** The rate at each value, and its standard deviation. */
export type SmoothedRate = Readonly<Record<'rate' | 'rateSd', Float64Array>>;

/** Fewest values that tell how much a rate wanders; our own choice. */
const FEWEST_TOLD = 12;
/** Variance by which the rate wanders in a second, at most: of a rate in m/s, 3 cm/s. Our own choice. */
const MOST_WANDER = 1e-3;
/** Amounts that are so much less likely than the best (logarithm) change nothing. */
const LEAST_LIKELY = 8;
/** No value has a smaller variance beside the square of the spread of all, so that doubles hold both. */
const LEAST_SHARE = 1e-10;

/**
 * What the filter expected at each value: how far that was off (`seen`) and its variance (`total`), the rate before the value
 * was seen, and the upper half of the covariance of level, rate and slow noise (0, 1, 2).
 */
type Passed = Readonly<{
  seen: Float64Array;
  total: Float64Array;
  rate: Float64Array;
  p: Readonly<Record<'p00' | 'p01' | 'p02' | 'p11' | 'p12' | 'p22', Float64Array>>;
}>;

function passedOf(n: number): Passed {
  const of = (): Float64Array => new Float64Array(n);
  const p = { p00: of(), p01: of(), p02: of(), p11: of(), p12: of(), p22: of() };
  return { seen: of(), total: of(), rate: of(), p };
}

/** Forwards through the values for a rate that wanders by `perS` a second; the logarithm of their likelihood. */
function filterForwards({ tS, values, white, slow, slowS }: NoisySeries, perS: number, to: Passed) {
  const n = values.length;
  const lastsS = tS[n - 1]! - tS[0]!;
  // Before the first value level and rate are unknown by ten times what the values spread over.
  const wide = 10 * spreadOf(values);
  let [x0, x1, x2] = [values[0]!, 0, 0];
  let [p00, p01, p02] = [wide * wide, 0, 0];
  let [p11, p12, p22] = [(wide / lastsS) ** 2, 0, slow[0]!];
  let logLikelihood = 0;
  for (let k = 0; k < n; k++) {
    if (k > 0) {
      const t = tS[k]! - tS[k - 1]!;
      const keep = Math.exp(-t / slowS);
      x0 += t * x1;
      x2 *= keep;
      p00 += t * (2 * p01 + t * p11) + (perS * t * t * t) / 3;
      p01 += t * p11 + (perS * t * t) / 2;
      p02 = keep * (p02 + t * p12);
      p11 += perS * t;
      p12 *= keep;
      p22 = keep * keep * p22 + slow[k]! * (1 - keep * keep);
    }
    const total = p00 + 2 * p02 + p22 + white[k]!;
    const seen = values[k]! - x0 - x2;
    to.seen[k] = seen;
    to.total[k] = total;
    to.rate[k] = x1;
    [to.p.p00[k], to.p.p01[k], to.p.p02[k]] = [p00, p01, p02];
    [to.p.p11[k], to.p.p12[k], to.p.p22[k]] = [p11, p12, p22];
    // The first two only say where it is and how fast.
    if (k > 1) logLikelihood -= (Math.log(total) + (seen * seen) / total) / 2;
    const [h0, h1, h2] = [p00 + p02, p01 + p12, p02 + p22];
    const [g0, g1, g2] = [h0 / total, h1 / total, h2 / total];
    x0 += g0 * seen;
    x1 += g1 * seen;
    x2 += g2 * seen;
    p00 -= g0 * h0;
    p01 -= g0 * h1;
    p02 -= g0 * h2;
    p11 -= g1 * h1;
    p12 -= g1 * h2;
    p22 -= g2 * h2;
  }
  return logLikelihood;
}

/** Sums over amounts: of the rate, and of its square with its variance. */
type Sums = Readonly<Record<'rate' | 'square', Float64Array>>;

/** Backwards: adds the rate at each value, given all of them, to the sums. */
function addBackwards(
  { seen, total, rate: expected, p }: Passed,
  { tS, slowS }: NoisySeries,
  weight: number,
  sums: Sums,
) {
  let [l0, l1, l2] = [0, 0, 0];
  let [m00, m01, m02, m11, m12, m22] = [0, 0, 0, 0, 0, 0];
  for (let k = seen.length - 1; k >= 0; k--) {
    const [p00, p01, p02] = [p.p00[k]!, p.p01[k]!, p.p02[k]!];
    const [p11, p12, p22] = [p.p11[k]!, p.p12[k]!, p.p22[k]!];
    const over = 1 / total[k]!;
    const [g0, g1, g2] = [(p00 + p02) * over, (p01 + p12) * over, (p02 + p22) * over];
    // With C = I - g h and h = [1 0 1]: C' l - h seen/total, and C' m C + h'h/total.
    const pulled = g0 * l0 + g1 * l1 + g2 * l2 + seen[k]! * over;
    l0 -= pulled;
    l2 -= pulled;
    const a0 = g0 * m00 + g1 * m01 + g2 * m02;
    const a1 = g0 * m01 + g1 * m11 + g2 * m12;
    const a2 = g0 * m02 + g1 * m12 + g2 * m22;
    const all = g0 * a0 + g1 * a1 + g2 * a2 + over;
    m00 += all - 2 * a0;
    m01 -= a1;
    m02 += all - a0 - a2;
    m12 -= a1;
    m22 += all - 2 * a2;
    const rate = expected[k]! - p01 * l0 - p11 * l1 - p12 * l2;
    sums.rate[k]! += weight * rate;
    const taken =
      p01 * (p01 * m00 + 2 * (p11 * m01 + p12 * m02)) +
      p11 * (p11 * m11 + 2 * p12 * m12) +
      p12 * p12 * m22;
    sums.square[k]! += weight * (rate * rate + Math.max(0, p11 - taken));
    if (k === 0) break;
    const t = tS[k]! - tS[k - 1]!;
    const keep = Math.exp(-t / slowS);
    // F' l and F' m F with F = [1 t 0; 0 1 0; 0 0 keep].
    l1 += t * l0;
    l2 *= keep;
    m11 += t * (2 * m01 + t * m00);
    m01 += t * m00;
    m12 = keep * (m12 + t * m02);
    m02 *= keep;
    m22 *= keep * keep;
  }
}

function spreadOf(values: Float64Array): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) [low, high] = [Math.min(low, value), Math.max(high, value)];
  return high - low;
}

/** None, and from an amount on that moves a straight line through all values by what it leaves unknown, by factors of ten. */
function wanders({ tS, white, slow, slowS }: NoisySeries): readonly number[] {
  const n = tS.length;
  const lastsS = tS[n - 1]! - tS[0]!;
  const half = n >> 1;
  const perS = (white[half]! * lastsS) / n + 2 * slowS * slow[half]!;
  const least = Math.min(MOST_WANDER, (12 * perS) / lastsS ** 4);
  const count = Math.ceil(Math.log10(MOST_WANDER / least));
  return [0, ...Array.from({ length: count + 1 }, (_, k) => least * 10 ** k)];
}

/**
 * The rate of a series at each of its values, given all of them. It wanders by some amount a second or not
 * at all (the series is an integrated random walk), each amount as likely as another by its logarithm before
 * looking, and counts by how likely the values are with it.
 *
 * @param given values with the variances of their noise; times strictly ascending
 * @returns `null` with fewer than 12 values, or where all are the same
 *
 * Valid: a rate that goes smoothly; one that leaps is shown as a slope, as long as noise makes it.
 * Source: G. J. Bierman, "Fixed interval smoothing with discrete measurements", Int. J. Control 18 (1973) 65 (modified
 * Bryson-Frazier form); the process: A. C. Harvey, Forecasting, Structural Time Series Models and the Kalman Filter (1989),
 * section 2.3 (both from memory).
 */
export function smoothRate(given: NoisySeries): SmoothedRate | null {
  const n = given.values.length;
  const spread = spreadOf(given.values);
  if (n < FEWEST_TOLD || !(spread > 0)) return null;
  const least = LEAST_SHARE * spread * spread;
  const series = { ...given, white: given.white.map((one) => Math.max(one, least)) };
  const passed = passedOf(n);
  const amounts = wanders(series).map((perS) => ({
    perS,
    logLikelihood: filterForwards(series, perS, passed),
  }));
  const best = Math.max(...amounts.map(({ logLikelihood }) => logLikelihood));
  const sums = { rate: new Float64Array(n), square: new Float64Array(n) };
  let whole = 0;
  for (const { perS, logLikelihood } of amounts) {
    if (logLikelihood < best - LEAST_LIKELY) continue;
    const weight = Math.exp(logLikelihood - best);
    whole += weight;
    filterForwards(series, perS, passed);
    addBackwards(passed, series, weight, sums);
  }
  const rate = sums.rate.map((sum) => sum / whole);
  const rateSd = sums.square.map((sum, k) => Math.sqrt(Math.max(0, sum / whole - rate[k]! ** 2)));
  return { rate, rateSd };
}
