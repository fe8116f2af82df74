/** Rows that belong together: between gaps, or where a value is known. */
import type { Samples } from '../series/samples';
import type { MeasuredMotion } from './measured-motion';
import type { RowSpan } from './row-span';

/** Rows between gaps. */
export function stretchesOf(tS: Float64Array, longestStepS: number): readonly RowSpan[] {
  const spans: RowSpan[] = [];
  let from = 0;
  let previousS = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < tS.length; row++) {
    const atS = tS[row] ?? Number.NaN;
    if (row > 0 && atS - previousS > longestStepS) {
      spans.push({ from, to: row });
      from = row;
    }
    previousS = atS;
  }
  if (tS.length > 0) spans.push({ from, to: tS.length });
  return spans;
}

/** The longest step between updates of a channel that is no gap, s. */
export function gapOf(samples: Samples, motion: MeasuredMotion): number {
  const own = Number.isNaN(samples.stepS) ? 0 : 5 * samples.stepS * 1.001;
  return Math.max(own, motion.longestStepS);
}

/** Rows of one stretch for which the velocity is known throughout, in turn. */
export function knownSpans(velocityMps: Float64Array, span: RowSpan): readonly RowSpan[] {
  const spans: RowSpan[] = [];
  let from = -1;
  for (let row = span.from; row <= span.to; row++) {
    const known = row < span.to && !Number.isNaN(velocityMps[row]);
    if (known && from < 0) from = row;
    if (!known && from >= 0) {
      spans.push({ from, to: row });
      from = -1;
    }
  }
  return spans;
}
