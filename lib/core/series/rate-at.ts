/** How fast a channel changes at an instant, from the samples about it. */
import { GAP_STEPS } from './faults';
import { RATE_REACH_S, slopeThrough } from './seek-stretches';

type Samples = Readonly<{ tS: Float64Array; values: Float64Array }>;

/** A channel slower than this many samples within the reach is looked at over as many of its steps. */
const FEWEST_ON_A_SIDE = 2;
/** A change from one sample to the next that is so many times the usual one stands out. */
const STANDS_OUT = 8;
/** And it is a step where it is more than this share of all that the samples span. */
const STEP_SHARE = 0.5;

/**
 * Half of the span over which the rate of a channel is taken: a second, as for the search by rate, or two of
 * the channel's own steps where it is slower.
 *
 * @param stepS usual time between two samples, s; null = not known
 */
export function rateReachS(stepS: number | null): number {
  return Math.max(RATE_REACH_S, FEWEST_ON_A_SIDE * (stepS ?? 0));
}

/**
 * Rate of change of a channel at an instant: slope of the straight line of least squares through the samples
 * within the reach on both sides, each weighed alike.
 *
 * The noise of the rate is that of one sample times sqrt(12/n) over the whole span for n evenly spaced samples.
 *
 * @param samples about the instant, ascending; NaN = no sample. Those beyond the reach are left out
 * @param atS the instant, on the clock of the samples
 * @param stepS usual time between two samples, s; null = not known
 * @returns unit of the values per second; NaN where fewer than three samples lie there, where a gap (more
 *   than five usual steps without a sample) lies in the span or the instant beyond the samples by one, and
 *   across a step, which has no rate
 *
 * Valid: a change that is about linear over the span; what is quicker is smoothed. A step is one change that
 * is over eight times the usual one (the median) and over half of all that the samples span: our own choice.
 * Source: least squares as `slopes`; its variance is sigma^2 over the sum of squared distances in time, as in
 * any textbook of regression (from memory).
 */
export function rateAt(samples: Samples, atS: number, stepS: number | null): number {
  const reachS = rateReachS(stepS);
  const gapS = stepS === null ? Number.POSITIVE_INFINITY : GAP_STEPS * stepS;
  const rows: number[] = [];
  samples.tS.forEach((tS, row) => {
    // Stamps are doubles: a sample a second away may stand a rounding farther off.
    const isNear = Math.abs(tS - atS) <= reachS * (1 + 1e-9);
    if (isNear && !Number.isNaN(samples.values[row] ?? Number.NaN)) rows.push(row);
  });
  if (rows.length < 3) return Number.NaN;
  const times = rows.map((row) => samples.tS[row] ?? Number.NaN);
  const values = rows.map((row) => samples.values[row] ?? Number.NaN);
  const firstS = times[0] ?? Number.NaN;
  const lastS = times.at(-1) ?? Number.NaN;
  const isBeyond = atS < firstS - gapS || atS > lastS + gapS;
  const isCut = times.some((tS, index) => tS - (times[index - 1] ?? tS) > gapS);
  if (isBeyond || isCut || hasStep(values)) return Number.NaN;
  return slopeThrough(atS, samples, rows, 0);
}

function hasStep(values: readonly number[]): boolean {
  const changes = values.slice(1).map((value, index) => Math.abs(value - (values[index] ?? value)));
  const sorted = [...changes].sort((a, b) => a - b);
  const usual = sorted[sorted.length >> 1] ?? 0;
  const greatest = sorted.at(-1) ?? 0;
  const most = values.reduce((so, value) => Math.max(so, value), Number.NEGATIVE_INFINITY);
  const least = values.reduce((so, value) => Math.min(so, value), Number.POSITIVE_INFINITY);
  const span = most - least;
  return greatest > STANDS_OUT * usual && greatest > STEP_SHARE * span;
}
