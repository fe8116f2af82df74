/** Settling of the relative motion after first touch. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';

/** When the speed came to stay under a limit, and how large it was before. */
export type Settling = Readonly<{
  atS: number;
  /** Half-width of the 95 % interval, s. */
  halfS: number;
  /** Largest speed after first touch, m/s, and when. */
  peakMps: number;
  peakHalfMps: number;
  peakS: number;
}>;

/** Why there is no settling: nothing was recorded, it never came to rest, or noise hides it. */
export type NotSettled = 'no-data' | 'never' | 'under-noise';

export type SettlingSpan = Readonly<{
  /** First touch, s. */
  fromS: number;
  /** End of what is looked at: the ring draws in, or the data end, s. */
  toS: number;
  /** Speed under which the motion counts as settled, m/s. */
  limitMps: number;
  /** How long it must stay under it, s. */
  forS: number;
}>;

/** Speed of the relative motion at a row, m/s: along the line of sight and across it. */
function speedAt(motion: MotionEstimate, row: number): number {
  const closing = motion.closingMps[row] ?? Number.NaN;
  const cross = motion.crossMps[row] ?? 0;
  return Math.hypot(closing, Number.isNaN(cross) ? 0 : cross);
}

/**
 * The first instant from which the speed stays under a limit for a stated time.
 *
 * A speed is a size, so noise alone lifts it: a limit under three of its standard deviations tells
 * nothing, and that is returned instead of an instant. A gap ends a stretch.
 *
 * @param motion the estimated motion
 * @param span where to look and for what
 * @returns the instant, interpolated between rows, or why there is none
 *
 * Source: settling time as in control practice (the response enters a band and stays in it); common
 * practice, no source.
 */
export function findSettling(motion: MotionEstimate, span: SettlingSpan): Settling | NotSettled {
  const { tS } = motion;
  const from = lowerBound(tS, span.fromS);
  const to = lowerBound(tS, span.toS + 1e-9);
  if (to - from < 2 || (tS[from] ?? 0) - span.fromS > 5) return 'no-data';
  let peak = { mps: 0, row: from };
  for (let row = from; row < to; row++) {
    const speed = speedAt(motion, row);
    if (speed > peak.mps) peak = { mps: speed, row };
  }
  const sd = motion.closingSdMps[peak.row] ?? 0;
  if (span.limitMps < 3 * sd) return 'under-noise';
  const entry = entryRow(motion, from, to, span);
  if (entry === null) return 'never';
  const atS = crossingS(motion, entry, span);
  const band = NORMAL_95 * sd;
  return {
    atS,
    halfS: halfAt(motion, { entry, from, to, atS }, span.limitMps, band),
    peakMps: peak.mps,
    peakHalfMps: NORMAL_95 * (motion.closingSdMps[peak.row] ?? 0),
    peakS: tS[peak.row] ?? Number.NaN,
  };
}

/** First row from which the speed stays under the limit for long enough; `null` for none. */
function entryRow(
  motion: MotionEstimate,
  from: number,
  to: number,
  { limitMps, forS }: SettlingSpan,
): number | null {
  const { tS, stretches } = motion;
  const starts = new Set(stretches.map((stretch) => stretch.from));
  let entry: number | null = null;
  for (let row = from; row < to; row++) {
    const isUnder = speedAt(motion, row) < limitMps;
    if (!isUnder || (starts.has(row) && row > from)) entry = isUnder ? row : null;
    else entry ??= row;
    if (entry !== null && (tS[row] ?? 0) - (tS[entry] ?? 0) >= forS - 1e-9) return entry;
  }
  return null;
}

function crossingS(motion: MotionEstimate, entry: number, { fromS, limitMps }: SettlingSpan) {
  const here = speedAt(motion, entry);
  const before = speedAt(motion, entry - 1);
  const hereS = motion.tS[entry] ?? Number.NaN;
  const beforeS = motion.tS[entry - 1] ?? Number.NaN;
  if (!(before >= limitMps) || beforeS < fromS) return hereS;
  return beforeS + ((before - limitMps) / (before - here)) * (hereS - beforeS);
}

type Around = Readonly<{ entry: number; from: number; to: number; atS: number }>;

/** Half of the time the speed takes to pass through its own noise about the limit, s. */
function halfAt(motion: MotionEstimate, around: Around, limitMps: number, band: number): number {
  let high = around.entry;
  while (high > around.from && speedAt(motion, high) < limitMps + band) high--;
  let low = around.entry;
  while (low + 1 < around.to && speedAt(motion, low) > limitMps - band) low++;
  const widthS = (motion.tS[low] ?? 0) - (motion.tS[high] ?? 0);
  return Math.max(widthS / 2, 0.475 * motion.stepS);
}
