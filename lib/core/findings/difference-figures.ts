/** Two cursors on one column: values at both, their difference, and what lies between as figures. */
import type { EvidenceSource, Figure } from '../figure';
import { interpolate, rowsOf, timeMean } from './stretch-rows';

/** One column about a stretch, with a row beyond each end where there is one; NaN = no valid sample. */
export type DifferenceColumn = Readonly<{
  key: string;
  unit: string;
  tS: Float64Array;
  values: Float64Array;
  sources: readonly EvidenceSource[];
  /** Rows of an estimate share their errors; those of a recorder are taken as independent. */
  rows: 'estimated' | 'measured';
}>;

export type Differences = Readonly<
  Record<'start' | 'end' | 'difference' | 'mean' | 'rms' | 'slope', Figure>
>;

type Stretch = Readonly<{ fromS: number; toS: number }>;

const NOT_AT_BOTH = 'There is no sample on both sides of this instant, or it lies in a gap.';
const NOT_BETWEEN = 'Two samples closer than a gap are needed between the ends.';
/** Half-width of a 95 % interval in standard errors, normal distribution. */
const NORMAL_95 = 1.959964;

/**
 * What two cursors on a column say.
 *
 * Values at the ends are linear between the two samples beside each; mean and root mean square are over
 * time; the slope is that of the straight line of least squares through the samples between the ends.
 *
 * @param column the samples, SI
 * @param stretch both cursors, session time in s, `fromS <= toS`
 * @returns figures in the column's unit; the slope in that unit per second. A half-width is given for the
 *   slope of measured samples only: 1.96 standard errors of the fit.
 *
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, sections 4.1.4.1 and 4.4.3.1.
 */
export function differenceFigures(column: DifferenceColumn, stretch: Stretch): Differences {
  const figure = figureMaker(column, stretch);
  const start = interpolate(column.tS, column.values, stretch.fromS);
  const end = interpolate(column.tS, column.values, stretch.toS);
  const channel = { source: '', name: column.key, as: column.key, ...column };
  const empty = { tS: new Float64Array(), columns: [] };
  const rows = rowsOf({ derived: empty, channels: [channel], ...stretch }, column.key);
  const square = timeMean(rows, (value) => value * value);
  const line = lineThrough(rows.tS, rows.values);
  const beside = 'Linear between the two samples beside the instant.';
  return {
    start: figure(start, beside, NOT_AT_BOTH),
    end: figure(end, beside, NOT_AT_BOTH),
    difference: figure(
      start === null || end === null ? null : end - start,
      'Value at the end minus value at the start, each linear between the samples beside it.',
      NOT_AT_BOTH,
    ),
    mean: figure(
      timeMean(rows, (value) => value),
      'Mean over time by the trapezoid rule, without gaps.',
      NOT_BETWEEN,
    ),
    rms: figure(
      square === null ? null : Math.sqrt(square),
      'Root of the mean square over time by the trapezoid rule, without gaps.',
      NOT_BETWEEN,
    ),
    slope: slopeFigure(column, figure(line?.slope ?? null, SLOPE_METHOD, NOT_BETWEEN), line),
  };
}

const SLOPE_METHOD = 'Slope of the straight line of least squares through the samples.';

function slopeFigure(column: DifferenceColumn, bare: Figure, line: Line | null): Figure {
  const unit = PER_SECOND.get(column.unit) ?? `${column.unit === '' ? '1' : column.unit}/s`;
  if (line === null || line.standardError === null || column.rows === 'estimated')
    return { ...bare, unit };
  return {
    ...bare,
    unit,
    uncertainty: { random: NORMAL_95 * line.standardError, systematic: null },
    method: `${SLOPE_METHOD} Half-width: 1.96 standard errors, samples taken as independent.`,
  };
}

const PER_SECOND: ReadonlyMap<string, string> = new Map([
  ['m/s', 'm/s2'],
  ['rad/s', 'rad/s2'],
]);

function figureMaker(column: DifferenceColumn, stretch: Stretch) {
  return (value: number | null, method: string, reason: string): Figure => ({
    value,
    unit: column.unit,
    uncertainty: null,
    method,
    evidence: { sources: column.sources, channels: [column.key], ...stretch },
    ...(value === null ? { reason } : {}),
  });
}

type Line = Readonly<{ slope: number; standardError: number | null }>;

/** Least squares about the means; the error needs three points. */
function lineThrough(x: readonly number[], y: readonly number[]): Line | null {
  const count = x.length;
  if (count < 2) return null;
  const meanOf = (list: readonly number[]): number => list.reduce((sum, v) => sum + v, 0) / count;
  const [meanX, meanY] = [meanOf(x), meanOf(y)];
  let [xx, xy, yy] = [0, 0, 0];
  for (let index = 0; index < count; index += 1) {
    const [dx, dy] = [(x[index] ?? Number.NaN) - meanX, (y[index] ?? Number.NaN) - meanY];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  if (!(xx > 0)) return null;
  const rest = Math.max(0, yy - (xy * xy) / xx);
  return {
    slope: xy / xx,
    standardError: count < 3 ? null : Math.sqrt(rest / (count - 2) / xx),
  };
}
