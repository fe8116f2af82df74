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
  const out = new Float64Array(atS.length).fill(Number.NaN);
  let before = -1;
  let after = 0;
  const skip = (): void => {
    while (after < values.length && Number.isNaN(values[after]!)) after++;
  };
  skip();
  for (let k = 0; k < atS.length; k++) {
    const at = atS[k]!;
    while (after < values.length && tS[after]! <= at) {
      before = after;
      after++;
      skip();
    }
    if (before < 0) continue;
    if (tS[before]! === at) {
      out[k] = values[before]!;
      continue;
    }
    if (after >= values.length) continue;
    const stepS = tS[after]! - tS[before]!;
    if (stepS > longestStepS) continue;
    const share = (at - tS[before]!) / stepS;
    out[k] = values[before]! + share * (values[after]! - values[before]!);
  }
  return out;
}
