/** A run of rows of a column. */

/** Rows `from` up to, not including, `to`. */
export type RowSpan = Readonly<{ from: number; to: number }>;
