/** Where a column passes zero. */

/** Rows whose sign differs from that of the row before, and when the line between the two is at zero. */
export type ZeroCrossings = Readonly<{ rows: Int32Array; atS: Float64Array }>;

const FIRST_ROOM = 1024;

/**
 * All crossings of zero inside `[from, to)`, by straight lines between rows.
 *
 * Both directions are reported, in time order: the row is the first one on the new side, where 0 and NaN
 * count as not below. Two crossings between neighbouring rows are not seen.
 *
 * @param tS times of the rows, s
 * @param values the column
 * @returns rows and times; the time is NaN beside a value that is NaN. Empty where there is none
 *
 * Source: elementary; linear inverse interpolation.
 */
export function zeroCrossings(
  tS: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
): ZeroCrossings {
  let rows = new Int32Array(FIRST_ROOM);
  let count = 0;
  let row = from;
  while (row < to) {
    // One plain loop for each side: nothing else is looked at until the sign changes.
    if (values[row]! < 0) while (++row < to && values[row]! < 0);
    else while (++row < to && !(values[row]! < 0));
    if (row >= to) break;
    if (count === rows.length) {
      const wider = new Int32Array(2 * count);
      wider.set(rows);
      rows = wider;
    }
    rows[count++] = row;
  }
  const atS = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const at = rows[k]!;
    const before = values[at - 1]!;
    const beforeS = tS[at - 1]!;
    atS[k] = beforeS + (before / (before - values[at]!)) * (tS[at]! - beforeS);
  }
  return { rows: rows.subarray(0, count), atS };
}
