/** Whether a measured rate carries the position that is measured beside it. */
import { median, SD_PER_MAD } from '../math/statistics';

/**
 * `slope` = change of position over integrated rate (1 where they agree), with its standard error. `inverse` = integrated
 * rate over change, of the spans whose position changes most, likewise; `offM` = middle size of their difference.
 */
export type RateAgreement = Readonly<{
  slope: number;
  standardError: number;
  spans: number;
  inverse: number;
  inverseError: number;
  offM: number;
}>;

/** Changes are compared over spans this long, s: longer than noise, shorter than a phase. */
const SPAN_S = 30;
const FEWEST_SPANS = 8;
/** Slopes this far from 1 are no matter of calibration, and must stand out from their scatter. */
const LEAST_APART = 0.2;
const LEAST_ERRORS = 6;
/** Noise of a rate is alike along all axes: what is off by so many times another axis is no noise. Our own choice. */
const FAR_OFF = 4;
/** Standard error of a median over that of a mean, normal scatter. */
const MEDIAN_ERROR = 1.2533;

type Span = Readonly<{ changeM: number; carriedM: number }>;

/** Changes of position and what the rate carried, span by span; none runs through a gap. */
function spansOf(
  tS: Float64Array,
  position: Float64Array,
  rate: Float64Array,
  longestStepS: number,
): Span[] {
  const spans: Span[] = [];
  let first = -1;
  let last = -1;
  let carriedM = 0;
  for (let i = 0; i < tS.length; i++) {
    if (Number.isNaN(position[i]!) || Number.isNaN(rate[i]!)) continue;
    if (first < 0 || tS[i]! - tS[last]! > longestStepS) {
      first = i;
      carriedM = 0;
    } else carriedM += 0.5 * (rate[i]! + rate[last]!) * (tS[i]! - tS[last]!);
    last = i;
    if (tS[i]! - tS[first]! < SPAN_S) continue;
    spans.push({ changeM: position[i]! - position[first]!, carriedM });
    first = i;
    carriedM = 0;
  }
  return spans;
}

/**
 * Compares a position with the rate measured beside it: the median over spans of 30 s of change over
 * integrated rate, taken over the half of the spans that move most.
 *
 * @param tS times of the rows, s
 * @param position m; NaN = no sample
 * @param rate its rate as measured, m/s; NaN = no sample
 * @param longestStepS a span does not run through a longer step, s
 * @returns null where too little moves to tell
 *
 * Valid: any sampling; a jump of the position spoils one span, which the median passes over.
 * Source: elementary; the standard error of a median from the MAD, common practice.
 */
export function rateAgreement(
  tS: Float64Array,
  position: Float64Array,
  rate: Float64Array,
  longestStepS: number,
): RateAgreement | null {
  const spans = spansOf(tS, position, rate, longestStepS).filter(({ carriedM }) => carriedM !== 0);
  spans.sort((a, b) => Math.abs(b.carriedM) - Math.abs(a.carriedM));
  const moving = spans.slice(0, Math.ceil(spans.length / 2));
  if (moving.length < FEWEST_SPANS) return null;
  const slope = middleOf(Float64Array.from(moving, (one) => one.changeM / one.carriedM));
  const byChange = spans
    .filter(({ changeM }) => changeM !== 0)
    .sort((a, b) => Math.abs(b.changeM) - Math.abs(a.changeM));
  const changing = byChange.slice(0, Math.ceil(byChange.length / 2));
  const inverse = middleOf(Float64Array.from(changing, (one) => one.carriedM / one.changeM));
  const offM = median(Float64Array.from(spans, (one) => Math.abs(one.changeM - one.carriedM)));
  return {
    slope: slope.value,
    standardError: slope.error,
    spans: moving.length,
    inverse: inverse.value,
    inverseError: inverse.error,
    offM,
  };
}

/** Median with its standard error. */
function middleOf(values: Float64Array): Readonly<{ value: number; error: number }> {
  const value = median(values);
  const scatter = SD_PER_MAD * median(values.map((each) => Math.abs(each - value)));
  return { value, error: (MEDIAN_ERROR * scatter) / Math.sqrt(values.length) };
}

/**
 * True where position and rate cannot both be right. Slow noise of the rate makes the slope smaller, and of the
 * position the inverse: it is no fault, unless both ways lie on one side or no other axis is nearly as far off.
 *
 * @param leastOffM the least `offM` of the other axes of the source; infinite without one
 */
export function disagrees(
  { slope, standardError, inverse, inverseError, offM }: RateAgreement,
  leastOffM = Number.POSITIVE_INFINITY,
): boolean {
  const apart = Math.abs(slope - 1);
  if (!(apart > LEAST_APART && apart > LEAST_ERRORS * standardError)) return false;
  const back = 1 / inverse;
  const isSure = Math.abs(inverse) > LEAST_ERRORS * inverseError;
  const isBoth = isSure && (slope < 1 ? back < 1 - LEAST_APART : back > 1 + LEAST_APART);
  return isBoth || offM > FAR_OFF * leastOffM;
}
