/** Columns that grow as rows arrive in chunks. */

/** A growing column of numbers. */
export type ColumnBuilder = {
  readonly length: number;
  /** Adds one value. */
  push: (value: number) => void;
  /** Adds a chunk of values. */
  append: (chunk: ArrayLike<number>) => void;
  /** The column so far, a copy of exactly its length. */
  finish: () => Float64Array;
};

/**
 * Starts an empty column. Room doubles as it fills, so that rows cost the same however they are cut
 * into chunks, and the finished column does not depend on the cuts.
 *
 * @param expected number of values to make room for at once; a guess, not a limit
 */
export function columnBuilder(expected: number): ColumnBuilder {
  let room = new Float64Array(Math.max(16, expected));
  let length = 0;
  const reserve = (wanted: number): void => {
    if (wanted <= room.length) return;
    const wider = new Float64Array(Math.max(wanted, 2 * room.length));
    wider.set(room.subarray(0, length));
    room = wider;
  };
  return {
    get length() {
      return length;
    },
    push(value) {
      reserve(length + 1);
      room[length++] = value;
    },
    append(chunk) {
      reserve(length + chunk.length);
      room.set(chunk, length);
      length += chunk.length;
    },
    finish: () => room.slice(0, length),
  };
}
