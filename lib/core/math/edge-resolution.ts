/** How well rows, and lines over several of them, resolve the time at which a threshold is crossed. */
import { lowerBound } from './search';

/** A change that is so many times as large as those beside it, beyond so many times the noise, is a leap. Our own choice. */
const LEAP_TIMES = 3;
const LEAP_NOISE = 4;

/**
 * True where a value leaps between two rows, as after a jet: far more than beside them.
 *
 * @param change its change between the two, without sign
 * @param beside the larger change of the two beside it, without sign
 * @param sd the values' standard deviation there; all three in one unit
 */
export function isLeap(change: number, beside: number, sd: number): boolean {
  return change > LEAP_TIMES * beside + LEAP_NOISE * sd;
}

/**
 * Half-width that the spacing of rows adds to an interpolated crossing between `row - 1` and `row`.
 *
 * Where the value changes between the two rows as it does beside them, the straight line resolves
 * the crossing, and this is 0. Where it leaps (a jet between two rows), the crossing may lie anywhere
 * between them, and this is the distance to the further one.
 *
 * @param tS times of the rows, s
 * @param values the crossing column
 * @param row the row after the crossing
 * @param edgeS the interpolated crossing, s
 * @param sd the values' standard deviation there
 */
export function crossingResolutionS(
  tS: Float64Array,
  values: Float64Array,
  row: number,
  edgeS: number,
  sd: number,
): number {
  const beforeS = tS[row - 1];
  const afterS = tS[row];
  if (beforeS === undefined || afterS === undefined) return 0;
  const change = (at: number): number => {
    const step = Math.abs((values[at] ?? Number.NaN) - (values[at - 1] ?? Number.NaN));
    return Number.isNaN(step) ? 0 : step;
  };
  const beside = Math.max(change(row - 1), change(row + 1));
  // Of noise that is not known nothing tells a leap from an even change.
  if (!Number.isNaN(sd) && !isLeap(change(row), beside, sd)) return 0;
  return Math.max(edgeS - beforeS, afterS - edgeS);
}

/** A bend under so many times the noise is none. */
const NOISE = 4;
/** A change that lines show nearly all of within their span is a leap for them. Our own choice. */
const LEAP_SHARE = 0.8;
const LEAP_PLACES = 8;

/** Lines that smooth a value: their span, time between rows, s, and the standard deviation of what they give. */
type LinesOver = Readonly<{ spanS: number; stepS: number; sd: number }>;

/** The column so long after an instant, linear between rows; NaN where rows are missing. */
function besideEdge(
  tS: Float64Array,
  values: Float64Array,
  edgeS: number,
  longestS: number,
): (awayS: number) => number {
  return (awayS) => {
    const whenS = edgeS + awayS;
    const after = Math.max(1, lowerBound(tS, whenS));
    const [t0, t1] = [tS[after - 1] ?? Number.NaN, tS[after] ?? Number.NaN];
    if (!(t1 - t0 <= longestS)) return Number.NaN;
    const low = values[after - 1] ?? Number.NaN;
    return low + (((values[after] ?? Number.NaN) - low) * (whenS - t0)) / (t1 - t0);
  };
}

/**
 * Half-width that lines over a span add to the crossing of a threshold by the value they smooth: a bend within them is
 * flattened by less than a quarter of what it bends over half the span.
 *
 * @param tS times of the rows, s
 * @param values the smoothed column
 * @param edgeS the interpolated crossing, s
 * @returns s; 0 where the value goes on evenly, or rows are missing beside the crossing
 *
 * Valid: one bend within the span; of a bend h c from the crossing, lines over h to either side take off its change of
 * slope times h (1 - c)2 / 4, and straight lines between rows up to a quarter of a row of it.
 * Source: elementary; the mean of a kink over a window.
 */
export function flattenedCrossingS(
  tS: Float64Array,
  values: Float64Array,
  edgeS: number,
  { spanS, stepS, sd }: LinesOver,
): number {
  const reachS = spanS / 2 + stepS;
  const at = besideEdge(tS, values, edgeS, reachS);
  const [before, here, behind] = [at(-reachS), at(0), at(reachS)];
  const change = Math.abs(behind - before);
  const bend = Math.sqrt(Math.max(0, (before - 2 * here + behind) ** 2 - (NOISE * sd) ** 2));
  return change > 0 ? Math.min(reachS, ((bend / 4) * 2 * reachS) / change) : 0;
}

/**
 * Half-width of a crossing in a leap that lines over a span run across, as those of a rate from positions do: they spread it
 * over all of their span.
 *
 * @returns s; 0 where the change of which the crossing is part takes longer than the lines
 */
export function spreadLeapS(
  tS: Float64Array,
  values: Float64Array,
  edgeS: number,
  { spanS, stepS, sd }: LinesOver,
): number {
  const wideS = spanS + stepS;
  const at = besideEdge(tS, values, edgeS, wideS);
  const whole = Math.abs(at(2 * wideS) - at(-2 * wideS));
  if (!(whole > NOISE * sd)) return 0;
  for (let place = 0; place <= LEAP_PLACES; place++) {
    const fromS = -wideS + (place * wideS) / LEAP_PLACES;
    if (Math.abs(at(fromS + wideS) - at(fromS)) >= LEAP_SHARE * whole) return spanS / 2 + stepS;
  }
  return 0;
}
