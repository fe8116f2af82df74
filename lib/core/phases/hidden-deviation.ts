/** What an excursion that noise may hide does to the deviation of a rate that comes from positions. */
import { mixtureHalfWidth, normalTail } from '../math/normal-mixture';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import { type HiddenExcursions, hiddenExcursions } from '../motion/hidden-excursions';
import type { MotionEstimate } from '../motion/motion-estimate';
import { coursesEndS } from '../motion/rate-courses';
import type { Samples } from '../series/samples';
import { type PositionBins, positionBins } from '../series/whitened-window';
import type { Measured } from './run-quantities';

type Rows = Readonly<{ first: number; last: number }>;

const NOTHING: HiddenExcursions = { none: 1, some: [] };
/** Samples are averaged to this, s; shorter stretches tell nothing of an excursion beside its background. */
const BIN_S = 0.5;
const SHORTEST_S = 10;
/** So far beside an excursion that stands out its shapes are done, s. */
const BESIDE_SEEN_S = 2;
const HALVINGS = 40;
const LEAST_WEIGHT = 1e-6;
const INSIDE = 0.95;
/**
 * A jump that is taken back along a line has this many times the height of a flat one with its area and second moment
 * (lengths as the square root of 18 to that of 12).
 */
const FALLS_FROM = 2 * Math.sqrt(12 / 18);

/** Whether an excursion that is fitted by itself lies among rows. */
export function standsOut({ tS, rateCourses }: MotionEstimate, { first, last }: Rows): boolean {
  const [fromS, toS] = [tS[first] ?? Number.NaN, tS[last] ?? Number.NaN];
  return rateCourses.some((one) => one.fromS <= toS && coursesEndS(one) >= fromS);
}

/** Stretches of rows with a deviation, no gap and no excursion that stands out. */
function calmRows(motion: MotionEstimate, deviation: Float64Array, rows: Rows): readonly Rows[] {
  const { tS, stretches, rateCourses } = motion;
  const isSeen = (atS: number): boolean =>
    rateCourses.some(
      (one) => atS > one.fromS - BESIDE_SEEN_S && atS < coursesEndS(one) + BESIDE_SEEN_S,
    );
  const found: Rows[] = [];
  for (const { from, to } of stretches) {
    let first = -1;
    const end = Math.min(to, rows.last + 1);
    for (let row = Math.max(from, rows.first); row <= end; row++) {
      const isCalm =
        row < end && !Number.isNaN(deviation[row] ?? Number.NaN) && !isSeen(tS[row] ?? 0);
      if (isCalm && first < 0) first = row;
      if (isCalm || first < 0) continue;
      if ((tS[row - 1] ?? 0) - (tS[first] ?? 0) > SHORTEST_S) found.push({ first, last: row - 1 });
      first = -1;
    }
  }
  return found;
}

/** Positions of a stretch with the planned way taken out, so that a rate as planned leaves them as they are. */
function offPlan(
  { tS, closingMps }: MotionEstimate,
  deviation: Float64Array,
  position: Samples,
  { first, last, share }: Rows & Readonly<{ share: number }>,
): PositionBins {
  const [fromS, toS] = [tS[first] ?? 0, tS[last] ?? 0];
  const span = { from: lowerBound(position.tS, fromS), to: lowerBound(position.tS, toS) };
  const bins = positionBins(position, span, BIN_S);
  const planned = (row: number): number => (closingMps[row] ?? 0) - (deviation[row] ?? 0);
  let [row, wayM] = [first, 0];
  bins.tS.forEach((atS, k) => {
    while (row < last && (tS[row + 1] ?? atS) <= atS) {
      wayM += planned(row) * ((tS[row + 1] ?? 0) - (tS[row] ?? 0));
      row++;
    }
    bins.values[k] = (bins.values[k] ?? 0) + share * (wayM + planned(row) * (atS - (tS[row] ?? 0)));
  });
  return bins;
}

/**
 * Excursions that a step's positions may hide beside those that stand out.
 *
 * @param deviation closing rate minus the planned one, m/s; NaN where nothing is compared
 * @param rows first and last row of it
 * @returns heights in the sign of the closing rate
 */
export function hiddenDeviations(
  motion: MotionEstimate,
  deviation: Float64Array,
  rows: Rows,
): HiddenExcursions {
  const position = motion.samples.get(motion.channels[0] ?? '');
  const calm = calmRows(motion, deviation, rows);
  const at = calm[0]?.first ?? -1;
  const plannedMps = Math.abs((motion.closingMps[at] ?? 0) - (deviation[at] ?? 0));
  if (position === undefined || !(plannedMps > 0)) return NOTHING;
  const axial = (motion.axialM[at] ?? Number.NaN) / (motion.rangeM[at] ?? Number.NaN);
  const share = Number.isNaN(axial) ? 1 : axial;
  const stretches = calm.map((one) => offPlan(motion, deviation, position, { ...one, share }));
  const { none, some } = hiddenExcursions(stretches, plannedMps);
  return { none, some: some.map((one) => ({ ...one, heightMps: -one.heightMps * share })) };
}

/**
 * Half-width of 95 % of the largest deviation, where the positions may hide a larger one: it then is what that adds to the mean.
 * Hidden ones do not tell their kind, and one vehicle makes one kind: all fall or all are flat, whichever reaches farther.
 *
 * @param peak the largest seen, its half-width by noise alone, the mean beside what stands out, and what the largest is without a
 *   hidden one, m/s: of noise alone the mean, so that what is hidden to the other side is the peak where it passes that
 */
export function hiddenPeakHalf(
  { some }: HiddenExcursions,
  { value, half, besideMps, elseMps }: Measured & Readonly<{ besideMps: number; elseMps: number }>,
): number {
  const halfOfKind = (timesHeight: number): number => {
    const larger = some
      .map(({ weight, heightMps }) => ({ weight, peakMps: besideMps + timesHeight * heightMps }))
      .filter(({ peakMps }) => Math.abs(peakMps) > Math.abs(elseMps))
      .map(({ weight, peakMps }) => ({ weight, apart: peakMps - value, sd: 0 }));
    const rest = larger.reduce((sum, { weight }) => sum - weight, 1);
    return mixtureHalfWidth([{ weight: rest, apart: 0, sd: half / NORMAL_95 }, ...larger]);
  };
  return Math.max(halfOfKind(1), halfOfKind(FALLS_FROM));
}

/** Mean square about the mean, m2/s2, that an excursion adds over so many seconds. */
function addedSquare(heightMps: number, lastsS: number, durationS: number): number {
  const share = Math.min(1, lastsS / durationS);
  return heightMps * heightMps * share * (1 - share);
}

/** Half-width about a value that holds 95 % by the share below a number, found by halving. */
function halfHolding(below: (at: number) => number, value: number, highest: number): number {
  let [low, high] = [0, highest];
  for (let round = 0; round < HALVINGS; round++) {
    const middle = (low + high) / 2;
    if (below(value + middle) - below(value - middle) < INSIDE) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * Root mean square of a deviation by its mean, what the lines show it to vary by, and what the positions may hide beside.
 *
 * The value holds what lines do not show of it: they smooth a rate over their span, and keep of the square of an excursion of
 * D s about 1 - exp(-0.6 D / half the span). The interval holds all of it, for noise takes from what is shown as
 * well as it adds, and nothing under the mean.
 *
 * @param of the mean with its standard deviation; the variation's mean square and its standard deviation, m2/s2; how long, and half the lines' span, s
 * @returns value and 95 % half-width but for the mean's own error, m/s
 *
 * Source: elementary; a level seen through weights 3 (1 - u2) / 4H keeps 3 D / 5H of its square where it is short.
 */
export function hiddenRms(
  { none, some }: HiddenExcursions,
  of: Readonly<{
    meanMps: number;
    meanSd: number;
    variedSquare: number;
    variedSd: number;
    durationS: number;
    linesHalfS: number;
  }>,
): Measured {
  const { meanMps, variedSd, durationS } = of;
  const seen = meanMps * meanMps + Math.max(0, of.variedSquare);
  const hidden = some
    .filter(({ weight }) => weight > LEAST_WEIGHT)
    .map(({ weight, heightMps, lastsS }) => ({
      weight,
      square: addedSquare(heightMps, lastsS, durationS),
      unshown: Math.exp((-0.6 * lastsS) / of.linesHalfS),
    }));
  const missing = hidden.reduce((sum, one) => sum + one.weight * one.square * one.unshown, 0);
  const value = Math.sqrt(seen + missing);
  const may = [{ weight: none, square: 0 }, ...hidden];
  const all = may.reduce((sum, { weight }) => sum + weight, 0);
  const leastMps = Math.max(0, Math.abs(meanMps) - NORMAL_95 * of.meanSd);
  // Below the mean's square there is none; up to a square the lines' noise and what is hidden go together.
  const below = (rmsMps: number): number => {
    if (!(rmsMps > 0)) return 0;
    return may.reduce((sum, { weight, square }) => {
      const roomM2ps2 = rmsMps * rmsMps - square;
      if (roomM2ps2 < leastMps * leastMps) return sum;
      return sum + (weight / all) * (1 - normalTail((roomM2ps2 - seen) / variedSd));
    }, 0);
  };
  const largest = may.reduce((most, { square }) => Math.max(most, square), 0);
  const highest = value + Math.sqrt(seen + 6 * variedSd + largest);
  return { value, half: halfHolding(below, value, highest) };
}
