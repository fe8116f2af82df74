/** How well lines slid over a position tell its rate where fitted ramps are near. */
import { lowerBound } from '../math/search';
import type { Samples } from '../series/samples';
import type { Smoothed } from '../series/smooth';
import type { RampCluster } from './ramp-errors';
import type { RowSpan } from './row-span';

/** Fewest steps of the samples that a line has to itself. */
const LEAST_STEPS = 4;

/** Where ramps begin and end, and the data with them, s. */
type Ramped = Readonly<{ fromS: number; toS: number }>;

/** The clusters of a stretch as times, ascending. */
function rampedIn(clusters: readonly RampCluster[], firstS: number, lastS: number): Ramped[] {
  return clusters.flatMap(({ ramps }) => {
    const [first, last] = [ramps[0], ramps.at(-1)];
    if (first === undefined || last === undefined) return [];
    if (first.atS < firstS || first.atS > lastS) return [];
    return [{ fromS: first.atS, toS: last.atS + last.lastsS }];
  });
}

/**
 * Raises the deviations of slopes beside fitted ramps. A ramp is fitted with its size, place and length free, and takes
 * with it the part of the noise that looks like it: of what a line sees of the ramp and of the data beyond,
 * nothing is left to tell the rate by. A line has only the data between ramps to itself, and its slope's deviation goes
 * with their length to the power -3/2.
 *
 * @param line slopes and their deviations at the rows; changed in place
 * @param clusters fitted ramps, ascending
 * @param spans stretches of the position's updates without a gap
 * @param rows their times, and half the span of each one's line, s
 *
 * Source: elementary; the variance of the slope of a straight line through evenly spaced data, 12 s2 / (n T2).
 */
export function widenBesideRamps(
  line: Smoothed,
  clusters: readonly RampCluster[],
  spans: readonly RowSpan[],
  rows: Readonly<{ position: Samples; tS: Float64Array; halfSpanS: Float64Array }>,
): void {
  const { position, tS, halfSpanS } = rows;
  for (const span of spans) {
    const firstS = position.tS[span.from] ?? Number.NaN;
    const lastS = position.tS[span.to - 1] ?? Number.NaN;
    const ramped = rampedIn(clusters, firstS, lastS);
    let next = 0;
    for (let row = lowerBound(tS, firstS); row < tS.length; row++) {
      const atS = tS[row] ?? Number.NaN;
      if (!(atS <= lastS)) break;
      while (next < ramped.length && (ramped[next]?.toS ?? Number.NaN) <= atS) next++;
      const untilS = ramped[next]?.fromS ?? lastS;
      if (untilS <= atS && next < ramped.length) continue;
      const halfS = halfSpanS[row] ?? 0;
      const [lowS, highS] = [Math.max(firstS, atS - halfS), Math.min(lastS, atS + halfS)];
      const freeS = Math.min(untilS, highS) - Math.max(ramped[next - 1]?.toS ?? firstS, lowS);
      const ownS = Math.max(freeS, LEAST_STEPS * position.stepS);
      line.slopeSd[row] = (line.slopeSd[row] ?? 0) * Math.max(1, (highS - lowS) / ownS) ** 1.5;
    }
  }
}
