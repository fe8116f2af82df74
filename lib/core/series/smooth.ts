/** A noisy channel estimated at asked times, without smearing jumps or running over gaps. */
import { slidingLine } from '../math/sliding-line';
import { bentRows, SHORTER, singleSamples, takeLongest } from './bends';
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

/** First samples of pieces, the length at the end; `afterGap` is 1 where one begins behind a gap. */
type Pieces = Readonly<{ starts: readonly number[]; afterGap: Uint8Array }>;

/** First samples of the pieces between gaps, and between jumps inside them; ends with the length. */
function pieceStarts(samples: Samples, options: SmoothingOptions): Pieces {
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

/** Values and slopes with their standard deviations; slopes are `null` where nobody asks for them. */
type Lines = Readonly<{
  atS: Float64Array;
  value: Float64Array;
  sd: Float64Array;
  slope: Float64Array | null;
  slopeSd: Float64Array | null;
}>;

/** From the lines' leverages, which stand in the place of the deviations, to these where all noise is quick. */
function quickDeviations(samples: Samples, { sd, slopeSd, atS }: Lines, piece: Piece): void {
  const { tS, sd: sampleSd } = samples;
  const raise = meanVarianceFactor(samples.correlation);
  let near = piece.from;
  for (let i = piece.row; i < piece.end; i++) {
    const at = atS[i]!;
    while (near + 1 < piece.to && tS[near + 1]! <= at) near++;
    const one = sampleSd[near]!;
    sd[i] = one * Math.sqrt(Math.min(1, sd[i]! * raise));
    if (slopeSd !== null) slopeSd[i] = one * Math.sqrt(slopeSd[i]! * raise);
  }
}

/** As `quickDeviations`, with noise in two parts. */
function partedDeviations(
  samples: Samples,
  { sd, slopeSd, atS }: Lines,
  { from, to, row, end }: Piece,
  halfSpanS: number | Float64Array,
): void {
  let near = from;
  const [startS, stopS] = [samples.tS[from]!, samples.tS[to - 1]!];
  for (let i = row; i < end; i++) {
    while (near + 1 < to && samples.tS[near + 1]! <= atS[i]!) near++;
    const half = typeof halfSpanS === 'number' ? halfSpanS : halfSpanS[i]!;
    const lengthS = Math.min(2 * half, stopS - startS);
    const middleS = Math.min(stopS - lengthS / 2, Math.max(startS + lengthS / 2, atS[i]!));
    const line = { lengthS, offS: atS[i]! - middleS };
    sd[i] = Math.sqrt(lineVariance(samples, near, sd[i]!, line));
    if (slopeSd !== null) {
      slopeSd[i] = Math.sqrt(slopeVariance(samples, near, slopeSd[i]!, lengthS));
    }
  }
}

/** Fills the lines' columns; returns the times of the jumps. */
function fillLines(
  samples: Samples,
  lines: Lines,
  options: SmoothingOptions,
  { starts, afterGap }: Pieces,
): number[] {
  const { atS, value, sd, slope, slopeSd } = lines;
  const n = atS.length;
  const leaveOut = (from: number, to: number): void => {
    for (const column of [value, slope, sd, slopeSd]) column?.fill(Number.NaN, from, to);
  };
  const jumps: number[] = [];
  let row = 0;
  if (samples.tS.length > 0) {
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
      slidingLine(
        { tS: samples.tS, values: samples.values, from, to },
        options.halfSpanS,
        FEWEST_IN_FIT,
        // The deviations are formed from the leverages in their place.
        { atS, from: row, to: end, value, slope, leverage: sd, slopeLeverage: slopeSd },
      );
      const piece = { from, to, row, end };
      if (samples.slowSd === null) quickDeviations(samples, lines, piece);
      else partedDeviations(samples, lines, piece, options.halfSpanS);
      row = end;
    }
  }
  leaveOut(row, n);
  return jumps;
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
  const column = (): Float64Array => new Float64Array(atS.length);
  const lines = { value: column(), slope: column(), sd: column(), slopeSd: column() };
  const pieces = pieceStarts(samples, options);
  const jumps = fillLines(samples, { atS, ...lines }, options, pieces);
  return { ...lines, jumpsS: Float64Array.from(jumps) };
}

/** The values of `smoothSamples` without the slopes. */
export function smoothValues(
  samples: Samples,
  atS: Float64Array,
  options: SmoothingOptions,
): Pick<Smoothed, 'value' | 'sd'> {
  const lines = { value: new Float64Array(atS.length), sd: new Float64Array(atS.length) };
  fillLines(samples, valuesOf(atS, lines), options, pieceStarts(samples, options));
  return lines;
}

const valuesOf = (atS: Float64Array, lines: Pick<Smoothed, 'value' | 'sd'>): Lines => ({
  atS,
  ...lines,
  slope: null,
  slopeSd: null,
});

/**
 * `smoothValues` with shorter lines where the signal bends within them by more than its quick noise: half and a quarter of
 * the span, in the end single samples, the longest that agrees with all shorter ones (`series/bends.ts`).
 */
export function smoothBends(
  samples: Samples,
  atS: Float64Array,
  options: SmoothingOptions & Readonly<{ halfSpanS: number }>,
): Pick<Smoothed, 'value' | 'sd'> {
  const pieces = pieceStarts(samples, options);
  const lines = { value: new Float64Array(atS.length), sd: new Float64Array(atS.length) };
  fillLines(samples, valuesOf(atS, lines), options, pieces);
  const rows = bentRows(samples, atS, lines.value, options.halfSpanS);
  if (rows.length === 0) return lines;
  const bentS = Float64Array.from(rows, (row) => atS[row]!);
  const shorter = SHORTER.map((share) => {
    const halfSpanS = share * options.halfSpanS;
    const out = { value: new Float64Array(rows.length), sd: new Float64Array(rows.length) };
    fillLines(samples, valuesOf(bentS, out), { ...options, halfSpanS }, pieces);
    return { ...out, halfSpanS };
  });
  const single = singleSamples(samples, bentS, new Set(pieces.starts));
  takeLongest(samples, { rows, bentS }, lines, [single, ...shorter]);
  return lines;
}
