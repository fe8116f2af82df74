/** A noisy channel estimated at asked times, without smearing jumps or running over gaps. */
import { slidingLine } from '../math/sliding-line';
import { findJumps } from './jumps';
import { lineVariance, meanVarianceFactor, type Samples, slopeVariance } from './samples';

/** An estimate at asked times; NaN where nothing is known (in a gap of the channel). */
export type Smoothed = Readonly<{
  value: Float64Array;
  /** Slope, per second. */
  slope: Float64Array;
  /** Standard deviation of `value`, the noise's correlation counted. */
  sd: Float64Array;
  /** Standard deviation of `slope`, per second. */
  slopeSd: Float64Array;
  /** Times half-way through each jump found, ascending. */
  jumpsS: Float64Array;
}>;

export type SmoothingOptions = Readonly<{
  /** Half the span of the sliding line, s; one number or one per asked time. */
  halfSpanS: number | Float64Array;
  /** Updates further apart than this have a gap between them, s. */
  gapS: number;
  /** Jump over its standard error from which it is kept sharp; Infinity never looks. */
  jumpThreshold: number;
}>;

const FEWEST_IN_FIT = 3;

/** First samples of the pieces between gaps, and between jumps inside them; ends with the length. */
function pieceStarts(
  samples: Samples,
  options: SmoothingOptions,
): { starts: number[]; afterGap: Uint8Array } {
  const n = samples.tS.length;
  const starts: number[] = [0];
  const gapStarts: number[] = [0];
  let from = 0;
  const spanS = typeof options.halfSpanS === 'number' ? options.halfSpanS : 1;
  for (let i = 1; i <= n; i++) {
    if (i < n && samples.tS[i]! - samples.tS[i - 1]! <= options.gapS) continue;
    if (options.jumpThreshold < Number.POSITIVE_INFINITY) {
      const search = { spanS, threshold: options.jumpThreshold };
      starts.push(...findJumps(samples, from, i, search));
    }
    starts.push(i);
    gapStarts.push(i);
    from = i;
  }
  const afterGap = new Uint8Array(n + 1);
  for (const start of gapStarts) afterGap[start] = 1;
  return { starts, afterGap };
}

type Piece = Readonly<{ from: number; to: number; row: number; end: number }>;

type Deviations = Readonly<
  Record<'leverage' | 'slopeLeverage' | 'sd' | 'slopeSd' | 'atS', Float64Array>
>;

/** Standard deviations of the lines' values and slopes where all noise is quick. */
function quickDeviations(samples: Samples, out: Deviations, piece: Piece): void {
  const { tS, sd: sampleSd } = samples;
  const { leverage, slopeLeverage, sd, slopeSd, atS } = out;
  const raise = meanVarianceFactor(samples.correlation);
  let near = piece.from;
  for (let i = piece.row; i < piece.end; i++) {
    const at = atS[i]!;
    while (near + 1 < piece.to && tS[near + 1]! <= at) near++;
    const one = sampleSd[near]!;
    sd[i] = one * Math.sqrt(Math.min(1, leverage[i]! * raise));
    slopeSd[i] = one * Math.sqrt(slopeLeverage[i]! * raise);
  }
}

/**
 * Straight lines slid over the samples, cut at gaps and jumps.
 *
 * @param samples one channel's updates with their noise
 * @param atS asked times, ascending
 * @param options span, gap length, jump threshold
 * @returns the estimate; NaN inside the channel's gaps and before and after its samples by more
 *   than half a gap
 */
export function smoothSamples(
  samples: Samples,
  atS: Float64Array,
  options: SmoothingOptions,
): Smoothed {
  const n = atS.length;
  const value = new Float64Array(n);
  const slope = new Float64Array(n);
  const sd = new Float64Array(n);
  const slopeSd = new Float64Array(n);
  const leaveOut = (from: number, to: number): void => {
    for (const column of [value, slope, sd, slopeSd]) column.fill(Number.NaN, from, to);
  };
  const jumps: number[] = [];
  let row = 0;
  if (samples.tS.length > 0) {
    const { starts, afterGap } = pieceStarts(samples, options);
    const leverage = new Float64Array(n);
    const slopeLeverage = new Float64Array(n);
    const out = { leverage, slopeLeverage, sd, slopeSd, atS };
    const reachS = Math.min(options.gapS / 2, 1);
    for (let p = 0; p + 1 < starts.length; p++) {
      const from = starts[p]!;
      const to = starts[p + 1]!;
      if (to <= from) continue;
      const firstS =
        afterGap[from] === 1
          ? samples.tS[from]! - reachS
          : (samples.tS[from - 1]! + samples.tS[from]!) / 2;
      const lastS =
        afterGap[to] === 1
          ? samples.tS[to - 1]! + reachS
          : (samples.tS[to - 1]! + samples.tS[to]!) / 2;
      if (afterGap[from] === 0) jumps.push(firstS);
      const done = row;
      while (row < n && atS[row]! < firstS) row++;
      leaveOut(done, row);
      let end = row;
      while (end < n && (atS[end]! < lastS || (afterGap[to] === 1 && atS[end]! <= lastS))) end++;
      const output = { atS, from: row, to: end, value, slope, leverage, slopeLeverage };
      slidingLine(
        { tS: samples.tS, values: samples.values, from, to },
        options.halfSpanS,
        FEWEST_IN_FIT,
        output,
      );
      if (samples.slowSd === null) quickDeviations(samples, out, { from, to, row, end });
      let near = from;
      const [startS, stopS] = [samples.tS[from]!, samples.tS[to - 1]!];
      for (let i = row; samples.slowSd !== null && i < end; i++) {
        while (near + 1 < to && samples.tS[near + 1]! <= atS[i]!) near++;
        const half =
          typeof options.halfSpanS === 'number' ? options.halfSpanS : options.halfSpanS[i]!;
        const lengthS = Math.min(2 * half, stopS - startS);
        const middleS = Math.min(stopS - lengthS / 2, Math.max(startS + lengthS / 2, atS[i]!));
        const line = { lengthS, offS: atS[i]! - middleS };
        sd[i] = Math.sqrt(lineVariance(samples, near, leverage[i]!, line));
        slopeSd[i] = Math.sqrt(slopeVariance(samples, near, slopeLeverage[i]!, lengthS));
      }
      row = end;
    }
  }
  leaveOut(row, n);
  return { value, slope, sd, slopeSd, jumpsS: Float64Array.from(jumps) };
}
