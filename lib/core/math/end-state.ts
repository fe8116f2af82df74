/** Level and rate at the end of a series that wanders or sways, seen through noise. */
import { mixtureHalfWidth } from './normal-mixture';
import { lowerBound } from './search';
import {
  advanced,
  carriedAhead,
  type FilterState,
  firstState,
  type NoisySeries,
  type Sway,
  type SwayRows,
  statesAt,
  swayRows,
  swayRowsFrom,
} from './sway-filter';

/** At the last value or some time after it, each with the half-width of its 95 % interval. */
export type EndState = Readonly<{
  level: number;
  levelHalf: number;
  rate: number;
  rateHalf: number;
}>;

/** Level and rate are taken from the values of the last so many seconds; how much they wander and sway also from those before. */
const TAKEN_S = 150;
/** Variance by which the rate wanders in a second, at most: the values then hardly tie it down. */
const MOST_WANDER = 1e-3;
/** From the least to that in factors of ten, or in so many even ones. */
const MOST_FACTORS = 10;
/** Or it is steady and the value sways by one of these, in metres, each as likely as another; our own choice. */
const NO_SWAY: Sway = { size: 0, periodS: 1 };
const SWAYS: readonly Sway[] = [50, 100, 200].flatMap((periodS) =>
  [0.003, 0.01, 0.03, 0.1].map((size) => ({ size, periodS })),
);
/** A manoeuvre may have ended so long before the last value, s; or goes on. */
const ENDED_S = [252, 174, 120, 85, 58, 40, 28, 20, 13, 9, 6, 4, 2, 0];
/**
 * And lasted so long, its rate wandering by so much a second: from before the first value on, or with calm before it; the
 * last is a jet. What sways has had one of the first kind.
 */
const MANOEUVRES = [
  { lastsS: Number.POSITIVE_INFINITY, perS: 1e-4 },
  { lastsS: 25, perS: 1e-4 },
  { lastsS: 8, perS: 1e-3 },
  { lastsS: 8, perS: 1e-5 },
];
/** Before looking, none has ended in the stretch in so many cases. */
const SHARE_WITHOUT = 0.7;
/** Courses that are so much less likely than the best (logarithm) change nothing. */
const LEAST_LIKELY = 16;
/** No value has a smaller variance: beside what is unknown beforehand, doubles hold no smaller one. */
const LEAST_WHITE = 1e-12;
/** Two values give a rate and nothing to hold it against. */
const LEAST_COUNT = 4;
/** Values go in as means over a share of their age before the last one, or of this, s. */
const RECENT_S = 10;
const ROWS_A_LENGTH = 40;

/** Means of neighbours, of the more of them the longer before the last value. */
function averaged(series: NoisySeries): NoisySeries {
  const { tS, values, white, slow, slowS } = series;
  const lastS = tS[tS.length - 1] ?? Number.NaN;
  const ends: number[] = [tS.length];
  for (let end = tS.length; end > 0; ) {
    const ageS = lastS - (tS[end - 1] ?? Number.NaN);
    const forS = Math.max(ageS, RECENT_S) / ROWS_A_LENGTH;
    const start = Math.min(end - 1, lowerBound(tS, (tS[end - 1] ?? 0) - forS + 1e-9));
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
    white: means(white).map((each, k) =>
      Math.max(LEAST_WHITE, each / ((ends[k + 1] ?? 0) - (ends[k] ?? 0))),
    ),
    slow: means(slow),
    slowS,
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
 * Variances by which the rate may wander in a second, each size alike by its logarithm, from one that over the
 * values that are taken adds what a straight line through the values leaves unknown.
 */
function wandersIn({ tS, white, slow, slowS }: NoisySeries): readonly number[] {
  const from = takenFrom(tS);
  const n = tS.length - from;
  const lastsS = (tS[tS.length - 1] ?? 0) - (tS[from] ?? 0);
  const half = from + (n >> 1);
  const perS = ((white[half] ?? 0) * lastsS) / n + 2 * slowS * (slow[half] ?? 0);
  const least = Math.min(MOST_WANDER, (12 * perS) / lastsS ** 4);
  const factors = Math.log10(MOST_WANDER / least);
  const count = Math.max(1, Math.ceil(Math.min(MOST_FACTORS, factors)));
  return Array.from({ length: count + 1 }, (_, k) => MOST_WANDER * 10 ** ((-k * factors) / count));
}

/** How the rate wanders a second where nothing is flown, and how likely that is before looking. */
type Calm = Readonly<{ perS: number; share: number }>;

/** A way in which rate and value may go, where it is at the last value, and how likely by itself and by the values. */
type Course = Readonly<{
  swaying: SwayRows;
  perS: number;
  state: FilterState;
  logWeight: number;
}>;

/** The first of the values from which level and rate are taken. */
function takenFrom(tS: Float64Array): number {
  return lowerBound(tS, (tS[tS.length - 1] ?? 0) - TAKEN_S - 1e-9);
}

/**
 * All courses with one sway: without a manoeuvre, and with one of some strength and length that ended at some instant.
 * What was before the last seconds tells how likely each is; of where it is, only through a manoeuvre in them.
 */
function coursesWith(rows: NoisySeries, sway: Sway, calms: readonly Calm[]): readonly Course[] {
  const { tS } = rows;
  const n = tS.length;
  const toS = tS[n - 1] ?? Number.NaN;
  const swaying = swayRows(rows, sway);
  const late = swayRowsFrom(swaying, takenFrom(tS));
  const lateS = late.rows.tS[0] ?? Number.NaN;
  const rowsTo = (atS: number): number => Math.max(1, lowerBound(tS, atS + 1e-9));
  const ends = ENDED_S.map((beforeS) => toS - beforeS).filter((endS) => endS > (tS[0] ?? toS));
  const kinds = sway.size > 0 ? MANOEUVRES.slice(0, 1) : MANOEUVRES;
  const without = ends.length === 0 ? 1 : SHARE_WITHOUT;
  const each = (1 - without) / (ends.length * kinds.length);
  const manoeuvres = kinds.flatMap(({ lastsS, perS: by }) => {
    const open =
      lastsS === Number.POSITIVE_INFINITY ? statesAt(swaying, ends.map(rowsTo), by) : null;
    return ends.map((endS) => {
      const to = rowsTo(endS);
      return { by, endS, from: rowsTo(endS - lastsS), to, ending: open?.get(to) ?? null };
    });
  });
  const starts = [...new Set(manoeuvres.map(({ from }) => from)), n].sort((a, b) => a - b);
  return calms.flatMap(({ perS, share }) => {
    const calm = statesAt(swaying, starts, perS);
    const lately = advanced(late, firstState(late), { from: 1, to: late.steps.length, perS });
    const courseOf = (told: FilterState, prior: number, endS: number): Course => ({
      ...{ swaying, perS, state: endS > lateS ? told : lately },
      logWeight: Math.log(share * prior) + told.logLikelihood,
    });
    return [
      courseOf(calm.get(n)!, without, Number.NEGATIVE_INFINITY),
      ...manoeuvres.map(({ by, endS, from, to, ending }) => {
        const flown = ending ?? advanced(swaying, calm.get(from)!, { from, to, perS: by });
        return courseOf(advanced(swaying, flown, { from: to, to: n, perS }), each, endS);
      }),
    ];
  });
}

/** Courses of a series, each with how likely it is; adds to 1. */
export type EndCourses = Readonly<{
  toS: number;
  courses: readonly (Course & Readonly<{ weight: number }>)[];
}>;

/**
 * In what ways the level and rate of a series may have come to its end: the rate steady, wandering by an unknown amount
 * or steady with a sway beside it; after a manoeuvre that ended some seconds before or none. Each counts by how likely
 * the values are with it.
 *
 * @param series values with their noise, m
 * @param steadyShare how likely a rate that neither wanders nor sways is before looking, 0 to 1; the rest is half of each
 * @returns `null` with fewer than four values, those of a quarter second at the end counted as one
 *
 * Valid: rates under about 10 of the unit per second; a rate that leaps is taken as one that wanders much.
 * Source: an integrated random walk by the Kalman filter, A. C. Harvey, Forecasting, Structural Time Series
 * Models and the Kalman Filter (1989), section 2.3; the sway is the harmonically bound particle of G. E. Uhlenbeck and
 * L. S. Ornstein, Phys. Rev. 36 (1930) 823 (both from memory); averaging by the likelihood: Hoeting et al.,
 * Statist. Sci. 14 (1999) 382.
 */
export function endCourses(series: NoisySeries, steadyShare: number): EndCourses | null {
  const rows = averaged(series);
  if (rows.values.length < LEAST_COUNT) return null;
  const wanders = wandersIn(rows);
  const rest = (1 - steadyShare) / 2;
  const wandering = wanders.map((perS): Calm => ({ perS, share: rest / wanders.length }));
  const steady: readonly Calm[] = steadyShare > 0 ? [{ perS: 0, share: steadyShare }] : [];
  const swaying: Calm = { perS: 0, share: rest / SWAYS.length };
  const courses = [
    ...coursesWith(rows, NO_SWAY, [...steady, ...wandering]),
    ...SWAYS.flatMap((sway) => coursesWith(rows, sway, [swaying])),
  ];
  const best = Math.max(...courses.map(({ logWeight }) => logWeight));
  const likely = courses.filter(({ logWeight }) => logWeight > best - LEAST_LIKELY);
  const weights = likely.map(({ logWeight }) => Math.exp(logWeight - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return {
    toS: rows.tS[rows.tS.length - 1] ?? Number.NaN,
    courses: likely.map((course, k) => ({ ...course, weight: (weights[k] ?? 0) / total })),
  };
}

/**
 * Level and rate at the last value, or as they are carried on to an instant after it, wandering and swaying on.
 *
 * @returns level (m) and rate (m/s), each with the half-width that holds 95 % of what all courses say
 *   together. Of many values the last is the mean of those in its last quarter second
 */
export function endState({ toS, courses }: EndCourses, atS = Number.NEGATIVE_INFINITY): EndState {
  const aheadS = Math.max(0, atS - toS);
  const found = courses.map(({ swaying, state, perS, weight }) => ({
    ...{ weight, at: carriedAhead(swaying, state, { perS, aheadS }) },
  }));
  const [level, levelHalf] = mixed(
    found.map(({ weight, at }) => ({ weight, mean: at.level, sd: at.levelSd })),
  );
  const [rate, rateHalf] = mixed(
    found.map(({ weight, at }) => ({ weight, mean: at.rate, sd: at.rateSd })),
  );
  return { level, levelHalf, rate, rateHalf };
}
