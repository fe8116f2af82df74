/** Axes of a plot: round steps, round ends, and texts that read the same under any locale. */

import { sessionTimeText } from '../time/session-time-text';
import { formatNumber } from '../units/number-text';
import type { PlotAxis, PlotTick } from './plot';

const ROUND_STEPS = [1, 2, 5, 10] as const;

/** Steps of a clock, s: what divides minutes, hours and days evenly. */
const CLOCK_STEPS_S = [
  1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400,
] as const;

/**
 * Smallest round step (1, 2 or 5 times a power of ten) that needs at most `count` intervals.
 *
 * @param span length to be divided, positive and finite
 * @param count intervals wanted at most, at least 1
 */
export function roundStep(span: number, count: number): number {
  const rough = span / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const factor = ROUND_STEPS.find((step) => step * power >= rough * (1 - 1e-9)) ?? 10;
  return factor * power;
}

function decimalsOf(step: number): number {
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
}

/** Takes off the last digits that binary fractions leave; never minus zero. */
function roundedTo12(value: number): number {
  return Number(value.toPrecision(12)) + 0;
}

function multiples(low: number, high: number, step: number): readonly number[] {
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => {
    return roundedTo12((first + index) * step);
  });
}

/**
 * Ticks at round values inside a stretch.
 *
 * @param low lower end
 * @param high upper end, above `low`
 * @param count intervals wanted at most
 */
export function linearTicks(low: number, high: number, count: number): readonly PlotTick[] {
  if (!(high > low)) return [];
  const step = roundStep(high - low, count);
  const decimals = decimalsOf(step);
  return multiples(low, high, step).map((at) => ({ at, text: formatNumber(at, decimals) }));
}

/**
 * Ticks of session time as a clock.
 *
 * @param fromS start of the stretch, s
 * @param toS end of the stretch, s, after `fromS`
 * @param count intervals wanted at most
 * @returns ticks written hh:mm or hh:mm:ss; tenths and finer for stretches of a few seconds
 */
export function timeTicks(fromS: number, toS: number, count: number): readonly PlotTick[] {
  if (!(toS > fromS)) return [];
  const spanS = toS - fromS;
  const stepS =
    spanS < count
      ? roundStep(spanS, count)
      : (CLOCK_STEPS_S.find((step) => step * count >= spanS) ??
        86400 * Math.ceil(spanS / count / 86400));
  const decimals = decimalsOf(stepS);
  return multiples(fromS, toS, stepS).map((at) => ({
    at,
    text: sessionTimeText(at, stepS % 60 === 0 ? 'minutes' : decimals),
  }));
}

/** The axis of session time over a stretch, ends as given. */
export function timeAxis(fromS: number, toS: number, count = 8): PlotAxis {
  const end = toS > fromS ? toS : fromS + 1;
  return {
    label: 'Session time',
    unit: '',
    from: fromS,
    to: end,
    ticks: timeTicks(fromS, end, count),
  };
}

/**
 * An axis that holds all the values, its ends on ticks.
 *
 * @param values in the axis's unit; anything not finite is passed over
 * @param words label and unit
 * @param count intervals wanted at most
 */
export function valueAxis(
  values: Iterable<number | null>,
  words: Readonly<{ label: string; unit: string }>,
  count = 4,
): PlotAxis {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value === null || !Number.isFinite(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (low > high) [low, high] = [0, 1];
  // What binary fractions leave of one value is no stretch to be divided.
  if (high - low <= 1e-9 * Math.max(Math.abs(low), Math.abs(high))) {
    const half = low === 0 ? 1 : Math.abs(low) / 2;
    low -= half;
    high += half;
  }
  const step = roundStep(high - low, count);
  const from = roundedTo12(Math.floor(low / step + 1e-9) * step);
  const to = roundedTo12(Math.ceil(high / step - 1e-9) * step);
  return { ...words, from, to, ticks: linearTicks(from, to, count + 1) };
}
