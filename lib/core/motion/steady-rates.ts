/** Closing rates by all positions between manoeuvres, where lines slid over a short span take noise for motion. */
import { smoothRate } from '../math/rate-smoother';
import { lowerBound } from '../math/search';
import type { NoisySeries } from '../math/sway-filter';
import { meanVarianceFactor, type Samples } from '../series/samples';
import type { BetweenRamps } from './between-ramps';
import type { MotionEstimate } from './motion-estimate';
import type { RowSpan } from './row-span';

/** At the rows: how much larger a rate is than its lines', and its standard deviation; NaN where all positions tell nothing. */
type RateChange = Readonly<Record<'changeMps' | 'sdMps', Float64Array>>;

/** Closing rates in place of those of the motion, m/s. */
export type SteadyRates = Readonly<
  Pick<MotionEstimate, 'closingMps' | 'closingSdMps' | 'axialClosingMps' | 'axialClosingSdMps'>
>;

/** A stretch of time, s. */
type TimeSpan = Readonly<{ fromS: number; toS: number }>;

/** Updates go in as means over this at least, and at most so many of them from a manoeuvre to the next. Our own choice. */
const SHORTEST_MEAN_S = 1;
const MOST_MEANS = 300;

/** Means of updates `[from, to)`. */
function meansOf(samples: Samples, from: number, to: number): NoisySeries {
  const { tS, values, sd, slowSd, slowS, correlation } = samples;
  const lastsS = (tS[to - 1] ?? 0) - (tS[from] ?? 0);
  const forS = Math.max(SHORTEST_MEAN_S, lastsS / MOST_MEANS);
  const rows: { atS: number; value: number; white: number; slow: number }[] = [];
  for (let i = from; i < to; ) {
    const first = i;
    const untilS = (tS[first] ?? 0) + 0.999 * forS;
    let [sumS, sum] = [0, 0];
    for (; i < to && (i === first || (tS[i] ?? 0) < untilS); i++) {
      sumS += tS[i] ?? 0;
      sum += values[i] ?? 0;
    }
    const count = i - first;
    const white = ((sd[first] ?? 0) ** 2 * meanVarianceFactor(correlation)) / count;
    const slow = (slowSd?.[first] ?? 0) ** 2;
    rows.push({ atS: sumS / count, value: sum / count, white, slow });
  }
  return {
    tS: Float64Array.from(rows, ({ atS }) => atS),
    values: Float64Array.from(rows, ({ value }) => value),
    white: Float64Array.from(rows, ({ white }) => white),
    slow: Float64Array.from(rows, ({ slow }) => slow),
    slowS,
  };
}

/** A column at an instant, straight between its times; held before the first and after the last. */
function valueAt(tS: Float64Array, atS: number, near: number): (column: Float64Array) => number {
  const lowS = tS[near] ?? atS;
  const highS = tS[near + 1] ?? lowS;
  const share = highS > lowS ? Math.min(1, Math.max(0, (atS - lowS) / (highS - lowS))) : 0;
  return (column) => {
    const low = column[near] ?? Number.NaN;
    return share === 0 ? low : low + share * ((column[near + 1] ?? low) - low);
  };
}

/** Where nothing is flown in a stretch of the updates, s, in turn. */
function calmIn(
  { position, clusters }: BetweenRamps,
  span: RowSpan,
): (readonly [number, number])[] {
  const lastS = position.tS[span.to - 1] ?? Number.NaN;
  const calm: (readonly [number, number])[] = [];
  let fromS = position.tS[span.from] ?? Number.NaN;
  const ramps = clusters.flatMap((cluster) => cluster.ramps).toSorted((a, b) => a.atS - b.atS);
  for (const { atS, lastsS } of ramps) {
    if (atS > fromS) calm.push([fromS, Math.min(atS, lastS)]);
    fromS = Math.max(fromS, atS + lastsS);
  }
  if (fromS < lastS) calm.push([fromS, lastS]);
  return calm;
}

function rateChange(between: BetweenRamps, tS: Float64Array, within: TimeSpan): RateChange {
  const { position, spans, slopeMps } = between;
  const blank = (): Float64Array => new Float64Array(tS.length).fill(Number.NaN);
  const out = { changeMps: blank(), sdMps: blank() };
  for (const [startS, endS] of spans.flatMap((span) => calmIn(between, span))) {
    const [fromS, toS] = [Math.max(startS, within.fromS), Math.min(endS, within.toS)];
    const [from, to] = [lowerBound(position.tS, fromS), lowerBound(position.tS, toS + 1e-9)];
    const means = meansOf(position, from, to);
    const smooth = smoothRate(means);
    if (smooth === null) continue;
    let at = 0;
    for (let row = lowerBound(tS, fromS); row < tS.length; row++) {
      const rowS = tS[row] ?? Number.NaN;
      if (!(rowS <= toS)) break;
      while (at + 2 < means.tS.length && (means.tS[at + 1] ?? rowS) <= rowS) at++;
      const told = valueAt(means.tS, rowS, at);
      out.changeMps[row] = told(smooth.rate) - (slopeMps[row] ?? Number.NaN);
      out.sdMps[row] = told(smooth.rateSd);
    }
  }
  return out;
}

/**
 * Closing rates between manoeuvres of a step, each stretch between two by itself: how much they wander there
 * all its positions tell. Lines that tell a rate to a share of the plan's hold rate take their own noise for motion, which
 * a comparison with other runs would show as such.
 *
 * @param motion rates as lines told them
 * @param within the step, without its manoeuvres at both ends as far as they are known
 * @returns columns at its rows, as they were during manoeuvres and where too few positions lie between two, or outside; `null`
 *   where the rate is measured, or positions tell it without being fitted
 */
export function steadyRates(motion: MotionEstimate, within: TimeSpan): SteadyRates | null {
  const { tS, rangeM, axialM, between } = motion;
  if (between === null) return null;
  const { changeMps, sdMps } = rateChange(between, tS, within);
  const columns = {
    closingMps: motion.closingMps.slice(),
    closingSdMps: motion.closingSdMps.slice(),
    axialClosingMps: motion.axialClosingMps.slice(),
    axialClosingSdMps: motion.axialClosingSdMps.slice(),
  };
  for (let row = 0; row < tS.length; row++) {
    const change = changeMps[row] ?? Number.NaN;
    const sd = sdMps[row] ?? Number.NaN;
    const hasAxis = !Number.isNaN(axialM[row] ?? Number.NaN);
    const lines = hasAxis ? columns.axialClosingSdMps : columns.closingSdMps;
    const linesSd = lines[row] ?? Number.NaN;
    if (Number.isNaN(change) || !(sd < linesSd)) continue;
    const share = hasAxis ? (axialM[row] ?? Number.NaN) / (rangeM[row] ?? Number.NaN) : 1;
    const others = Math.max(0, (columns.closingSdMps[row] ?? 0) ** 2 - (share * linesSd) ** 2);
    columns.closingMps[row] = (columns.closingMps[row] ?? Number.NaN) - share * change;
    columns.closingSdMps[row] = Math.sqrt(others + (share * sd) ** 2);
    columns.axialClosingMps[row] = (columns.axialClosingMps[row] ?? Number.NaN) - change;
    if (hasAxis) columns.axialClosingSdMps[row] = sd;
  }
  return columns;
}
