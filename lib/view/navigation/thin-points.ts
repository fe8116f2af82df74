/** Fewer points of a scatter, so that neither its density nor its extremes are lost. */

/** `parts` is how many equal parts of the rows gave their smallest and largest; 0 = all rows are kept. */
type ThinnedRows = Readonly<{ rows: readonly number[]; parts: number }>;

/** Share of the points that goes to extremes: two a part. */
const EXTREMES_SHARE = 0.2;

/**
 * Which rows to draw.
 *
 * Rows evenly apart show how dense the points lie, which extremes alone would not; the extremes of each
 * part show how far they reach, and the smallest and largest of all are among them.
 *
 * @param values a row each, in the order of the flight, without NaN
 * @param most rows wanted at most, at least 10
 * @returns rows ascending, each once; all of them where there are no more than `most`
 */
export function thinRows(values: Float64Array, most: number): ThinnedRows {
  const count = values.length;
  if (count <= most) return { rows: Array.from(values.keys()), parts: 0 };
  const parts = Math.floor((most * EXTREMES_SHARE) / 2);
  const even = most - 2 * parts;
  const kept = new Set<number>();
  for (let place = 0; place < even; place++) kept.add(Math.floor((place * count) / even));
  for (let part = 0; part < parts; part++) {
    const from = Math.floor((part * count) / parts);
    const to = Math.floor(((part + 1) * count) / parts);
    let least = from;
    let most = from;
    for (let row = from; row < to; row++) {
      const value = values[row] ?? Number.NaN;
      if (value < (values[least] ?? Number.NaN)) least = row;
      if (value > (values[most] ?? Number.NaN)) most = row;
    }
    kept.add(least).add(most);
  }
  return { rows: [...kept].sort((a, b) => a - b), parts };
}
