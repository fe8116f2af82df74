/** Level and rate at the end of a series that wanders, seen through noise. */
import { mixtureHalfWidth } from './normal-mixture';
import { lowerBound } from './search';

/**
 * Values over time with the variances of their noise: white, and slow (a first-order process that decays
 * over `slowS`). Columns of one length, times strictly ascending.
 */
export type NoisySeries = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  white: Float64Array;
  slow: Float64Array;
  slowS: number;
}>;

/** At the last value or some time after it, each with the half-width of its 95 % interval. */
export type EndState = Readonly<{
  level: number;
  levelHalf: number;
  rate: number;
  rateHalf: number;
}>;

/** Variance by which the rate wanders in a second, at most: the values then hardly tie it down. */
const MOST_WANDER = 1e-3;
/** From the least to that in factors of ten, or in so many even ones. */
const MOST_FACTORS = 10;
/** A manoeuvre may have ended so long before the last value, s; or goes on. */
const ENDED_S = [120, 85, 58, 40, 28, 20, 13, 9, 6, 4, 2, 0];
/** And lasted so long, its rate wandering by so much a second: from before the first value on, or with calm before it. */
const MANOEUVRES = [
  { lastsS: Number.POSITIVE_INFINITY, perS: 1e-4 },
  { lastsS: 25, perS: 1e-4 },
  { lastsS: 8, perS: 1e-3 },
];
/** Before looking, one has ended in the stretch as likely as not. */
const SHARE_WITHOUT = 0.5;
/** The rate is unknown beforehand by this variance. */
const UNKNOWN = 100;
/** Two values give a rate and nothing to hold it against. */
const LEAST_COUNT = 4;
/** Values go in as means over a share of their age before the last one, or of this, s. */
const RECENT_S = 10;
const ROWS_A_LENGTH = 40;

type Filtered = Readonly<{
  level: number;
  levelSd: number;
  rate: number;
  rateSd: number;
  logLikelihood: number;
}>;

/** Means of neighbours, of the more of them the longer before the last value. */
function averaged(series: NoisySeries, from: number): NoisySeries {
  const { tS, values, white, slow, slowS } = series;
  const lastS = tS[tS.length - 1] ?? Number.NaN;
  const ends: number[] = [tS.length];
  for (let end = tS.length; end > from; ) {
    const ageS = lastS - (tS[end - 1] ?? Number.NaN);
    const forS = Math.max(ageS, RECENT_S) / ROWS_A_LENGTH;
    const start = Math.max(
      from,
      Math.min(end - 1, lowerBound(tS, (tS[end - 1] ?? 0) - forS + 1e-9)),
    );
    ends.push(start);
    end = start;
  }
  ends.reverse();
  const n = ends.length - 1;
  const means = (column: Float64Array): Float64Array =>
    Float64Array.from({ length: n }, (_, k) => {
      const [a, b] = [ends[k] ?? 0, ends[k + 1] ?? 0];
      let sum = 0;
      for (let i = a; i < b; i++) sum += column[i] ?? 0;
      return sum / (b - a);
    });
  return {
    tS: means(tS),
    values: means(values),
    white: means(white).map((each, k) => each / ((ends[k + 1] ?? 0) - (ends[k] ?? 0))),
    slow: means(slow),
    slowS,
  };
}

/** Level, rate and slow noise (in its own deviations) after some values, with their covariance. */
type FilterState = Readonly<{
  level: number;
  rate: number;
  slowly: number;
  p: readonly [p00: number, p01: number, p02: number, p11: number, p12: number, p22: number];
  logLikelihood: number;
}>;

function firstState({ values, white, slow }: NoisySeries): FilterState {
  const p00 = (white[0] ?? 0) + (slow[0] ?? 0);
  return {
    level: values[0] ?? Number.NaN,
    rate: 0,
    slowly: 0,
    p: [p00, 0, 0, UNKNOWN, 0, 1],
    logLikelihood: 0,
  };
}

/** A filter forwards over values `[from, to)`, from the state after the one before; the rate wanders by white steps. */
function advanced(
  series: NoisySeries,
  state: FilterState,
  { from, to, perS }: Readonly<{ from: number; to: number; perS: number }>,
): FilterState {
  const { tS, values, white, slow, slowS } = series;
  let { level, rate, slowly, logLikelihood } = state;
  let [p00, p01, p02, p11, p12, p22] = state.p;
  for (let i = from; i < to; i++) {
    const stepS = (tS[i] ?? 0) - (tS[i - 1] ?? 0);
    const keep = Math.exp(-stepS / slowS);
    level += stepS * rate;
    slowly *= keep;
    p00 += stepS * (2 * p01 + stepS * p11) + (perS * stepS ** 3) / 3;
    p01 += stepS * p11 + (perS * stepS * stepS) / 2;
    p02 = keep * (p02 + stepS * p12);
    p11 += perS * stepS;
    p12 *= keep;
    p22 = keep * keep * p22 + (1 - keep * keep);
    const c = Math.sqrt(slow[i] ?? 0);
    const [h0, h1, h2] = [p00 + c * p02, p01 + c * p12, p02 + c * p22];
    const total = h0 + c * h2 + (white[i] ?? 0);
    const off = (values[i] ?? Number.NaN) - level - c * slowly;
    logLikelihood -= 0.5 * (Math.log(total) + (off * off) / total);
    level += (h0 * off) / total;
    rate += (h1 * off) / total;
    slowly += (h2 * off) / total;
    p00 -= (h0 * h0) / total;
    p01 -= (h0 * h1) / total;
    p02 -= (h0 * h2) / total;
    p11 -= (h1 * h1) / total;
    p12 -= (h1 * h2) / total;
    p22 -= (h2 * h2) / total;
  }
  return { level, rate, slowly, p: [p00, p01, p02, p11, p12, p22], logLikelihood };
}

/** Level and rate some time after the last value, the rate wandering on. */
function carriedAhead(
  { level, rate, p, logLikelihood }: FilterState,
  perS: number,
  aheadS: number,
): Filtered {
  const [p00, p01, , p11] = p;
  const levelVar = p00 + aheadS * (2 * p01 + aheadS * p11) + (perS * aheadS ** 3) / 3;
  const rateVar = p11 + perS * aheadS;
  return {
    level: level + aheadS * rate,
    levelSd: Math.sqrt(Math.max(0, levelVar)),
    rate,
    rateSd: Math.sqrt(Math.max(0, rateVar)),
    logLikelihood,
  };
}

type Weighted = Readonly<{ weight: number; mean: number; sd: number }>;

/** Mean of all together, and the half-width about it that holds 95 %; weights add to 1. */
function mixed(parts: readonly Weighted[]): readonly [mean: number, half: number] {
  const mean = parts.reduce((sum, part) => sum + part.weight * part.mean, 0);
  const half = mixtureHalfWidth(
    parts.map((part) => ({ weight: part.weight, apart: part.mean - mean, sd: part.sd })),
  );
  return [mean, half];
}

/**
 * Variances by which the rate may wander in a second: none, and each size alike by its logarithm, from one that over the
 * whole stretch adds what a straight line through the values leaves unknown.
 */
function wandersIn({ tS, white, slow, slowS }: NoisySeries): readonly number[] {
  const n = tS.length;
  const lastsS = (tS[n - 1] ?? 0) - (tS[0] ?? 0);
  const half = n >> 1;
  const perS = ((white[half] ?? 0) * lastsS) / n + 2 * slowS * (slow[half] ?? 0);
  const least = Math.min(MOST_WANDER, (12 * perS) / lastsS ** 4);
  const factors = Math.log10(MOST_WANDER / least);
  const count = Math.max(1, Math.ceil(Math.min(MOST_FACTORS, factors)));
  return [
    0,
    ...Array.from({ length: count + 1 }, (_, k) => MOST_WANDER * 10 ** ((-k * factors) / count)),
  ];
}

/** A way in which the rate may wander, with how likely it is by itself and by the values together. */
type Course = Readonly<{ found: Filtered; logWeight: number }>;

/** The states after each value; index 1 is that after the first. */
function traceOf(rows: NoisySeries, perS: number): readonly FilterState[] {
  const states = [firstState(rows), firstState(rows)];
  for (let to = 2; to <= rows.tS.length; to++) {
    const before = states[to - 1];
    if (before !== undefined) states.push(advanced(rows, before, { from: to - 1, to, perS }));
  }
  return states;
}

/** All courses: without a manoeuvre, and with one of some strength and length that ended at some instant. */
function coursesOf(rows: NoisySeries, aheadS: number): readonly Course[] {
  const { tS } = rows;
  const n = tS.length;
  const [fromS, toS] = [tS[0] ?? Number.NaN, tS[n - 1] ?? Number.NaN];
  const placeOf = (atS: number): number => Math.max(1, lowerBound(tS, atS + 1e-9));
  const ended = ENDED_S.map((beforeS) => toS - beforeS).filter((endS) => endS > fromS);
  const without = ended.length === 0 ? 1 : SHARE_WITHOUT;
  const each = (1 - without) / (ended.length * MANOEUVRES.length);
  const wanders = wandersIn(rows);
  const restless = new Map(
    MANOEUVRES.filter(({ lastsS }) => lastsS > toS - fromS).map(({ lastsS, perS }) => [
      lastsS,
      traceOf(rows, perS),
    ]),
  );
  return wanders.flatMap((calmPerS) => {
    const calm = traceOf(rows, calmPerS);
    const courseTo = (state: FilterState | undefined, prior: number): readonly Course[] => {
      if (state === undefined) return [];
      const found = carriedAhead(state, calmPerS, aheadS);
      return [{ found, logWeight: Math.log(prior / wanders.length) + found.logLikelihood }];
    };
    const after = (endS: number, { lastsS, perS }: (typeof MANOEUVRES)[number]) => {
      const [from, to] = [placeOf(endS - lastsS), placeOf(endS)];
      const start = calm[from];
      const ending =
        restless.get(lastsS)?.[to] ?? (start && advanced(rows, start, { from, to, perS }));
      return ending && advanced(rows, ending, { from: to, to: n, perS: calmPerS });
    };
    return [
      ...courseTo(calm[n], without),
      ...ended.flatMap((endS) =>
        MANOEUVRES.flatMap((manoeuvre) => courseTo(after(endS, manoeuvre), each)),
      ),
    ];
  });
}

/**
 * Level and rate at the last value, of a series whose rate wanders by an unknown amount, after a manoeuvre that ended
 * some seconds before or none: each such course counts by how likely the values are with it.
 *
 * @param series values with their noise
 * @param from index of the first value to use
 * @param atS an instant after the last value, to which level and rate are carried on and wander on; else the last
 * @returns level (the values' unit) and rate (per second), each with the half-width that holds 95 % of what all
 *   courses say together; `null` with fewer than four values. Of many values the last is the mean of those in its last quarter second
 *
 * Valid: rates under about 10 of the unit per second; a rate that leaps is taken as one that wanders much.
 * Source: an integrated random walk by the Kalman filter, A. C. Harvey, Forecasting, Structural Time Series
 * Models and the Kalman Filter (1989), section 2.3 (from memory); averaging by the likelihood: Hoeting et al.,
 * Statist. Sci. 14 (1999) 382.
 */
export function endState(
  series: NoisySeries,
  from: number,
  atS = Number.NEGATIVE_INFINITY,
): EndState | null {
  if (series.values.length - from < LEAST_COUNT) return null;
  const rows = averaged(series, from);
  const toS = rows.tS[rows.tS.length - 1] ?? Number.NaN;
  const courses = coursesOf(rows, Math.max(0, atS - toS));
  const best = Math.max(...courses.map(({ logWeight }) => logWeight));
  const weights = courses.map(({ logWeight }) => Math.exp(logWeight - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const parts = (take: (found: Filtered) => readonly [mean: number, sd: number]): Weighted[] =>
    courses.map(({ found }, index) => {
      const [mean, sd] = take(found);
      return { weight: (weights[index] ?? 0) / total, mean, sd };
    });
  const [level, levelHalf] = mixed(parts((found) => [found.level, found.levelSd]));
  const [rate, rateHalf] = mixed(parts((found) => [found.rate, found.rateSd]));
  return { level, levelHalf, rate, rateHalf };
}
