import type { Instant } from '../time/instant';

/**
 * Samples of one channel as columns. Invariants are checked once, in `makeSeries`, and relied on.
 */
export type Series = Readonly<{
  channelId: string;
  /** The instant of t = 0. */
  epoch: Instant;
  /** Seconds after epoch, strictly ascending. */
  tS: Float64Array;
  /** Same length, the channel's SI unit; NaN = no valid sample. */
  values: Float64Array;
}>;
