/** What manoeuvres leave of a position. */
import type { Samples } from '../series/samples';
import type { RampCluster } from './ramp-errors';
import type { RowSpan } from './row-span';

/** What is left of a position once ramps and excursions of its rate are taken out, and what lines slid over it showed. */
export type BetweenRamps = Readonly<{
  position: Samples;
  /** Stretches of the updates without a gap. */
  spans: readonly RowSpan[];
  clusters: readonly RampCluster[];
  /** Slopes of the lines at the rows, ramps and excursions not put back, m/s. */
  slopeMps: Float64Array;
}>;
