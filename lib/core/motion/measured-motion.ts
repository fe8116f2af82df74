/** What the motion is estimated from. */

/** A column and the rows of it not to use. */
export type MeasuredColumn = Readonly<{
  name: string;
  values: Float64Array;
  rejected: Uint8Array | null;
}>;

/** Measured components by quantity (`position.x`, `velocity.x`, `range`, `range_rate`). */
export type MeasuredMotion = Readonly<{
  /** Session time of the rows, s, strictly ascending. */
  tS: Float64Array;
  columns: ReadonlyMap<string, MeasuredColumn>;
  /** A longer step is a gap, s. */
  longestStepS: number;
  stepS: number;
  /** Rate under which the plan calls it a hold, m/s; sets how sharp a derived rate must be. */
  holdRateMps: number;
  /** The plan's acceleration, m/s2; `null` without a plan. */
  accelerationMps2: number | null;
}>;
