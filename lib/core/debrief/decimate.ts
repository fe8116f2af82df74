/** Points of a long trace for a figure in print: nothing that sticks out is lost. */

export type PlotPoints = Readonly<{ x: readonly number[]; y: readonly (number | null)[] }>;

export type DecimateOptions = Readonly<{
  fromS: number;
  toS: number;
  /** At most this many buckets; each keeps its smallest and its largest value, in their order. */
  buckets: number;
  /** Two samples further apart than this are not joined, s. */
  gapS: number;
}>;

/** First index whose time is at or after a time; the length where there is none. */
function firstAtOrAfter(tS: ArrayLike<number>, timeS: number): number {
  let low = 0;
  let high = tS.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((tS[middle] ?? Number.POSITIVE_INFINITY) < timeS) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * The longest step between rows that still counts as joined: 5 times the median step.
 *
 * @param tS session time of the rows, s, ascending
 * @returns s; infinite for fewer than two rows
 */
export function joinedStepS(tS: ArrayLike<number>): number {
  const steps = new Float64Array(Math.max(0, tS.length - 1));
  for (let index = 0; index < steps.length; index += 1) {
    steps[index] = (tS[index + 1] ?? 0) - (tS[index] ?? 0);
  }
  if (steps.length === 0) return Number.POSITIVE_INFINITY;
  steps.sort();
  return 5 * (steps[steps.length >>> 1] ?? 0);
}

/** Value kept for drawing: six significant digits, finer than any print or screen shows. */
function drawn(value: number): number {
  return Number(value.toPrecision(6)) + 0;
}

/**
 * Takes at most two samples per bucket of time, the smallest and the largest, and keeps gaps.
 *
 * @param tS session time of the rows, s, ascending
 * @param values same length; NaN = no value
 * @returns points with times to the millisecond and values to six digits; a gap is one null
 */
export function decimateMinMax(
  tS: ArrayLike<number>,
  values: ArrayLike<number>,
  { fromS, toS, buckets, gapS }: DecimateOptions,
): PlotPoints {
  const x: number[] = [];
  const y: (number | null)[] = [];
  const put = (timeS: number, value: number | null) => {
    if (value === null && (y.length === 0 || y[y.length - 1] === null)) return;
    x.push(Math.round(timeS * 1000) / 1000);
    y.push(value === null ? null : drawn(value));
  };
  const widthS = (toS - fromS) / buckets;
  let bucket = -1;
  let smallest = -1;
  let largest = -1;
  let lastS = Number.NaN;
  const at = (index: number) => values[index] ?? Number.NaN;
  const flush = () => {
    if (smallest < 0) return;
    const [first, second] = smallest < largest ? [smallest, largest] : [largest, smallest];
    put(tS[first] ?? 0, at(first));
    if (second !== first) put(tS[second] ?? 0, at(second));
    smallest = -1;
    largest = -1;
  };
  for (let index = firstAtOrAfter(tS, fromS); index < tS.length; index += 1) {
    const timeS = tS[index] ?? 0;
    if (timeS > toS) break;
    const value = at(index);
    const mine = Math.floor((timeS - fromS) / widthS);
    const broken = !Number.isFinite(value) || timeS - lastS > gapS;
    if (mine !== bucket || broken) flush();
    if (broken) put(lastS, null);
    bucket = mine;
    if (!Number.isFinite(value)) continue;
    lastS = timeS;
    if (smallest < 0 || value < at(smallest)) smallest = index;
    if (largest < 0 || value > at(largest)) largest = index;
  }
  flush();
  if (y[y.length - 1] === null) {
    x.pop();
    y.pop();
  }
  return { x, y };
}
