/** The estimated motion of the chaser's port relative to the target's, at each row. */
import type { Samples } from '../series/samples';
import type { BetweenRamps } from './between-ramps';
import type { RateCourses } from './rate-courses';
import type { RowSpan } from './row-span';

/**
 * Columns over the rows used. Position and velocity in the target port's axes: x along the docking
 * axis away from the port, y and z across it. NaN = not known. `…Sd` are standard deviations.
 * Columns that need all three components are NaN throughout where only range is measured.
 */
export type MotionEstimate = Readonly<{
  /** Session time, s, strictly ascending. */
  tS: Float64Array;
  rangeM: Float64Array;
  rangeSdM: Float64Array;
  /** -d range/dt, m/s, positive while closing. */
  closingMps: Float64Array;
  closingSdMps: Float64Array;
  axialM: Float64Array;
  axialSdM: Float64Array;
  axialClosingMps: Float64Array;
  axialClosingSdMps: Float64Array;
  lateralM: Float64Array;
  lateralSdM: Float64Array;
  /** Speed across the line of sight, m/s. */
  crossMps: Float64Array;
  crossSdMps: Float64Array;
  yM: Float64Array;
  zM: Float64Array;
  /** Rows `[from, to)` between gaps, ascending, together covering all rows. */
  stretches: readonly RowSpan[];
  /** What it was estimated from. */
  basis: MotionBasis;
  /** Names of the channels used, as written in the file. */
  channels: readonly string[];
  /** One sentence on how position and rate were estimated. */
  positionMethod: string;
  rateMethod: string;
  /** Median time between rows, s. */
  stepS: number;
  /** Time over which errors of neighbouring rows' rates hang together (the span of the fit), s. */
  rateSpanS: number;
  /** How fast the correlation of the rates' errors falls with the time between rows, 1/s. */
  ratePartingPerS: number;
  /** Half the span of the lines whose slope a derived rate is, at each row, s; `null` where the rate is measured. */
  rateHalfSpanS: Float64Array | null;
  /**
   * Span of the lines that smoothed a rate, s, where they show it nearly as it is: a measured one, or one from positions with
   * hardly any noise; `null` where noisy positions ask for longer ones.
   */
  rateLinesS: number | null;
  /**
   * Largest excursion of a derived rate that would not stand out of the noise, at each row, m/s; `null`
   * where the rate is measured, where `rateLinesS` is known, or without a plan.
   */
  unseenMps: Float64Array | null;
  /** Largest jump that would not, taken back along a line (`unseen-rates.ts`); `null` as above, or where an excursion stands out. */
  unseenJumpMps: Float64Array | null;
  /** The acceleration at which such an excursion rises and falls, m/s2; `null` as above. */
  unseenMps2: number | null;
  /** What manoeuvres leave of the first component (`steadyRates`); `null` where its rate is measured, or clean positions tell it. */
  between: BetweenRamps | null;
  /** Courses that a derived closing rate may have taken where an excursion stands out, ascending; empty of a measured one. */
  rateCourses: readonly RateCourses[];
  /** Time over which errors of positions hang together, s. */
  positionSpanS: number;
  /** True where the rate comes from the position: its mean is then as good as the ranges at its ends. */
  rateIsDerived: boolean;
  /** The updates used and their noise, by channel. */
  samples: ReadonlyMap<string, Samples>;
  /** Steps in a position that its velocity does not carry; samples before were moved by `sizeM`. */
  steps: readonly MovedStep[];
}>;

/**
 * A step between two rows of a channel, new minus old, m, with the standard deviation of its size: what
 * was moved by it is known no better. A size of 0: nothing was moved, since the vehicle may have flown it unseen.
 */
export type MovedStep = Readonly<{
  channel: string;
  axis: 'x' | 'y' | 'z' | 'range';
  beforeS: number;
  afterS: number;
  sizeM: number;
  sizeSdM: number;
}>;

export const isMovedStep = ({ sizeM }: MovedStep): boolean => sizeM !== 0;

export type MotionBasis = 'measured-velocity' | 'position-only' | 'range-and-rate' | 'range-only';

/** The columns of a motion estimate that are values over time. */
export type MotionColumn =
  | 'rangeM'
  | 'rangeSdM'
  | 'closingMps'
  | 'closingSdMps'
  | 'axialM'
  | 'axialSdM'
  | 'axialClosingMps'
  | 'axialClosingSdMps'
  | 'lateralM'
  | 'lateralSdM'
  | 'crossMps'
  | 'crossSdMps'
  | 'yM'
  | 'zM';
