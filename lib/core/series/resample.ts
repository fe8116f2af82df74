/** A column at other times. */

/** A column, the asked times, and where their values go. */
type Asked = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  atS: Float64Array;
  longestStepS: number;
  out: Float64Array;
}>;

/** Times a call: a loop that is entered often is compiled with what it does known, one that runs once and long is not. */
const PART = 4096;

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
  const asked: Asked = { tS, values, atS, longestStepS, out };
  let before = -1;
  for (let from = 0; from < out.length; from += PART)
    before = resamplePart(asked, before, from, Math.min(from + PART, out.length));
  return out;
}

/**
 * Values at the asked times `[from, to)`.
 *
 * @param sampleBefore the last sample at or before the asked time before them; -1 for none
 * @returns the same of the last of them
 */
function resamplePart(asked: Asked, sampleBefore: number, from: number, to: number): number {
  const { tS, values, atS, longestStepS, out } = asked;
  const n = values.length;
  let before = sampleBefore;
  let after = nextSample(values, before + 1);
  for (let k = from; k < to; k++) {
    const at = atS[k]!;
    while (after < n && tS[after]! <= at) {
      before = after;
      after = nextSample(values, after + 1);
    }
    let value = Number.NaN;
    if (before >= 0) {
      const offS = at - tS[before]!;
      const low = values[before]!;
      if (offS === 0) value = low;
      else if (after < n) {
        const stepS = tS[after]! - tS[before]!;
        if (!(stepS > longestStepS)) value = low + ((values[after]! - low) / stepS) * offS;
      }
    }
    out[k] = value;
  }
  return before;
}

/** The first row from one on that has a value; the length where none has. */
function nextSample(values: Float64Array, from: number): number {
  let at = from;
  while (at < values.length && Number.isNaN(values[at]!)) at++;
  return at;
}
