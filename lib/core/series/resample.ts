/** A column at other times. */

/**
 * Linear between samples, never beyond them and never through a gap.
 *
 * @param tS times of the samples, strictly ascending, s
 * @param values the samples; NaN cells are passed over
 * @param atS asked times, ascending, s
 * @param longestStepS samples further apart than this have a gap between them, s
 * @returns values at the asked times; NaN before the first sample, after the last, and inside gaps
 */
export function resampleLinear(
  tS: Float64Array,
  values: Float64Array,
  atS: Float64Array,
  longestStepS: number,
): Float64Array {
  const out = new Float64Array(atS.length);
  const n = values.length;
  let before = -1;
  let after = 0;
  while (after < n && Number.isNaN(values[after]!)) after++;
  let beforeS = Number.NaN;
  let afterS = after < n ? tS[after]! : Number.POSITIVE_INFINITY;
  let low = Number.NaN;
  let slope = Number.NaN;
  for (let k = 0; k < atS.length; k++) {
    const at = atS[k]!;
    if (afterS <= at) {
      do {
        before = after;
        after++;
        while (after < n && Number.isNaN(values[after]!)) after++;
        afterS = after < n ? tS[after]! : Number.POSITIVE_INFINITY;
      } while (afterS <= at);
      beforeS = tS[before]!;
      low = values[before]!;
      // No slope into a gap, past the last sample, or before the first.
      const stepS = afterS - beforeS;
      slope = after < n && !(stepS > longestStepS) ? (values[after]! - low) / stepS : Number.NaN;
    }
    out[k] = at === beforeS ? low : low + slope * (at - beforeS);
  }
  return out;
}
