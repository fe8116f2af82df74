/** Samples of a stretch: rows inside it, values between rows, means over time. */

import type { DerivedColumns } from '../reconstruction/reconstruction';
import { GAP_STEPS } from '../series/faults';

/** Samples of one channel on session time; NaN = no valid sample. */
export type ChannelSamples = Readonly<{
  source: string;
  /** As written in the source. */
  name: string;
  /** The quantity, `propellant_mass`. */
  as: string;
  unit: string;
  tS: Float64Array;
  values: Float64Array;
}>;

/** Where the samples are and which of them count. */
export type StretchSamples = Readonly<{
  derived: DerivedColumns;
  channels: readonly ChannelSamples[];
  fromS: number;
  toS: number;
}>;

/** Rows of one quantity that lie inside the stretch. */
type Rows = Readonly<{ tS: readonly number[]; values: readonly number[]; gapS: number }>;

/**
 * Rows of one quantity inside a stretch: of the derived column, else of the channel that is it.
 *
 * @param input the samples and the stretch, session time in s
 * @param quantity as `closing_rate`
 * At an instant between two rows, the value there stands for a row.
 *
 * @returns rows without NaN, in SI, with the step above which two rows are a gap; empty if absent
 */
export function rowsOf(input: StretchSamples, quantity: string): Rows {
  const column = input.derived.columns.find((each) => each.name === quantity);
  const channel = input.channels.find((each) => each.as === quantity);
  const tS = column === undefined ? (channel?.tS ?? new Float64Array()) : input.derived.tS;
  const values = column?.values ?? channel?.values ?? new Float64Array();
  const inside = { tS: [] as number[], values: [] as number[] };
  tS.forEach((t, index) => {
    const value = values[index];
    if (t < input.fromS || t > input.toS || value === undefined || Number.isNaN(value)) return;
    inside.tS.push(t);
    inside.values.push(value);
  });
  if (input.fromS === input.toS && inside.tS.length === 0) {
    const between = interpolate(tS, values, input.fromS);
    if (between !== null) return { tS: [input.fromS], values: [between], gapS: 0 };
  }
  return { ...inside, gapS: GAP_STEPS * medianStepS(tS) };
}

/**
 * Unit of the samples that `rowsOf` gives.
 *
 * @param quantity as `closing_rate`
 * @returns the SI unit; empty where the session has no such samples
 */
export function siUnitOf(input: StretchSamples, quantity: string): string {
  return (
    input.derived.columns.find((each) => each.name === quantity)?.unit ??
    input.channels.find((each) => each.as === quantity)?.unit ??
    ''
  );
}

/**
 * A derived quantity at one time.
 *
 * @param name of the derived column
 * @param tS session time, s
 * @returns its value in SI, as `interpolate`; null where there is no such column
 */
export function valueAt(derived: DerivedColumns, name: string, tS: number): number | null {
  const column = derived.columns.find((each) => each.name === name);
  return column === undefined ? null : interpolate(derived.tS, column.values, tS);
}

/**
 * Value between samples, linear between the two beside a time.
 *
 * @param times session time, s, ascending
 * @param values the samples, NaN = no valid one
 * @param tS where it is wanted, s
 * @returns in the unit of `values`; null outside the samples, beside NaN and in a gap
 *
 * Valid: a gap is a step over five median steps.
 */
export function interpolate(times: Float64Array, values: Float64Array, tS: number): number | null {
  let low = 0;
  let high = times.length - 1;
  if (high < 0 || tS < (times[0] ?? Number.NaN) || tS > (times[high] ?? Number.NaN)) return null;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) <= tS) low = middle;
    else high = middle;
  }
  const [t0, t1, v0, v1] = [times[low], times[high], values[low], values[high]];
  if (t0 === undefined || t1 === undefined || v0 === undefined || v1 === undefined) return null;
  if (tS === t0) return finite(v0);
  if (tS === t1) return finite(v1);
  if (t1 - t0 > GAP_STEPS * medianStepS(times)) return null;
  return finite(v0 + ((tS - t0) / (t1 - t0)) * (v1 - v0));
}

const stepOf = new WeakMap<Float64Array, number>();

function medianStepS(tS: Float64Array): number {
  const known = stepOf.get(tS);
  if (known !== undefined) return known;
  const steps = tS.slice(1).map((t, index) => t - (tS[index] ?? Number.NaN));
  steps.sort();
  const median = steps[steps.length >> 1] ?? Number.POSITIVE_INFINITY;
  stepOf.set(tS, median);
  return median;
}

/**
 * Mean over time by the trapezoid rule over pairs of rows closer than a gap.
 *
 * @param rows from `rowsOf`
 * @param of what is averaged of each value, such as its square
 * @returns in the unit of `of`; null where no two rows are close enough
 */
export function timeMean(rows: Rows, of: (value: number) => number): number | null {
  let area = 0;
  let time = 0;
  for (let index = 1; index < rows.tS.length; index += 1) {
    const step = (rows.tS[index] ?? Number.NaN) - (rows.tS[index - 1] ?? Number.NaN);
    if (!(step <= rows.gapS)) continue;
    area +=
      (step * (of(rows.values[index] ?? Number.NaN) + of(rows.values[index - 1] ?? Number.NaN))) /
      2;
    time += step;
  }
  return time > 0 ? finite(area / time) : null;
}

/**
 * Smallest of values without NaN.
 *
 * @returns in their unit; null of none
 */
export function least(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((a, b) => Math.min(a, b));
}

/**
 * Largest of values without NaN.
 *
 * @returns in their unit; null of none
 */
export function greatest(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((a, b) => Math.max(a, b));
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
