/** Sudden changes of level in a noisy signal, which smoothing must not run across. */
import type { Samples } from './samples';

/** How far to look on either side, and how sure to be. */
export type JumpSearch = Readonly<{
  /** Span of the one-sided lines, s. */
  spanS: number;
  /** Jump over its own standard error from which it counts. */
  threshold: number;
}>;

const FEWEST = 3;
const MOST = 40;

type Edge = Readonly<{ value: number; leverage: number }>;

/** A line through `count` samples from `first` on, carried to `atS`. */
function lineAt(samples: Samples, first: number, count: number, atS: number): Edge {
  let sumT = 0;
  let sumY = 0;
  for (let i = first; i < first + count; i++) {
    sumT += samples.tS[i]! - atS;
    sumY += samples.values[i]!;
  }
  const meanT = sumT / count;
  const meanY = sumY / count;
  let spread = 0;
  let product = 0;
  for (let i = first; i < first + count; i++) {
    const t = samples.tS[i]! - atS - meanT;
    spread += t * t;
    product += t * (samples.values[i]! - meanY);
  }
  if (spread === 0) return { value: meanY, leverage: 1 / count };
  return {
    value: meanY - (product / spread) * meanT,
    leverage: 1 / count + (meanT * meanT) / spread,
  };
}

/** Samples from `start` on, in one direction, within the span and inside `[from, to)`. */
function countWithin(
  samples: Samples,
  start: number,
  direction: 1 | -1,
  spanS: number,
  from: number,
  to: number,
): number {
  let count = 0;
  for (let i = start; i >= from && i < to && count < MOST; i += direction) {
    const awayS = Math.abs(samples.tS[i]! - samples.tS[start]!);
    if (awayS > spanS * (1 + 1e-5) && count >= FEWEST) break;
    count++;
  }
  return count;
}

/** Jump between samples `left` and `right`, over its standard error; 0 with too few samples. */
function jumpScore(
  samples: Samples,
  left: number,
  right: number,
  spanS: number,
  from: number,
  to: number,
): number {
  const before = countWithin(samples, left, -1, spanS, from, to);
  const after = countWithin(samples, right, 1, spanS, from, to);
  if (before < FEWEST || after < FEWEST) return 0;
  const atS = (samples.tS[left]! + samples.tS[right]!) / 2;
  const old = lineAt(samples, left - before + 1, before, atS);
  const next = lineAt(samples, right, after, atS);
  const sd = Math.max(samples.sd[left]!, samples.sd[right]!, 1e-12 * Math.abs(old.value));
  const jump = Math.abs(next.value - old.value);
  if (jump === 0) return 0;
  // Slow noise wanders by this much from the middle of one line to that of the other.
  const slowSd = Math.max(samples.slowSd?.[left] ?? 0, samples.slowSd?.[right] ?? 0);
  const wander = 2 * slowSd * slowSd * Math.min(1, spanS / samples.slowS);
  const variance = sd * sd * (old.leverage + next.leverage) + wander;
  return variance === 0 ? Number.POSITIVE_INFINITY : jump / Math.sqrt(variance);
}

/**
 * Where the signal jumps: lines fitted on either side, carried to the middle between two samples,
 * differ by more than noise explains. A slope that changes is no jump. A sample caught half-way
 * through a jump is set apart from both sides.
 *
 * @param samples one channel's updates
 * @param from first sample of the stretch searched (a stretch has no gap)
 * @param to one past its last
 * @param search span and threshold; of jumps closer together than the span the surest is found first, then those that stand
 *   beside it with three samples between
 * @returns ascending indices at which a new piece begins (never `from`)
 */
export function findJumps(
  samples: Samples,
  from: number,
  to: number,
  search: JumpSearch,
): readonly number[] {
  const found = jumpsWithin(samples, from, to, search);
  const starts = new Set(found);
  for (let k = 0; k < found.length; k++) {
    const start = found[k]!;
    const before = Math.max(from, found[k - 1] ?? from);
    for (const near of jumpsBeside(samples, { before, start, after: found[k + 1] ?? to }, search))
      starts.add(near);
  }
  return starts.size === found.length ? found : [...starts].sort((a, b) => a - b);
}

/** Further jumps in the spans on either side of one: with the samples cut there, lines do not run across it. */
function jumpsBeside(
  samples: Samples,
  { before, start, after }: Readonly<{ before: number; start: number; after: number }>,
  search: JumpSearch,
): readonly number[] {
  const reachS = 2 * search.spanS * (1 + 1e-5);
  let from = start;
  while (from > before && samples.tS[start]! - samples.tS[from - 1]! <= reachS) from--;
  let to = start + 1;
  while (to < after && samples.tS[to]! - samples.tS[start]! <= reachS) to++;
  return [...jumpsWithin(samples, from, start, search), ...jumpsWithin(samples, start, to, search)];
}

/** The surest jump of those closer together than the span. */
function jumpsWithin(
  samples: Samples,
  from: number,
  to: number,
  search: JumpSearch,
): readonly number[] {
  const { tS, values, sd } = samples;
  const starts: number[] = [];
  let best = { score: 0, at: -1, skip: 0 };
  const settle = (): void => {
    if (best.at < 0) return;
    starts.push(best.at);
    if (best.skip === 1) starts.push(best.at + 1);
    best = { score: 0, at: -1, skip: 0 };
  };
  for (let i = from + 1; i < to; i++) {
    const change = Math.abs(values[i]! - values[i - 1]!);
    if (!(change > 5 * sd[i]!)) continue;
    const sharp = jumpScore(samples, i - 1, i, search.spanS, from, to);
    const skipping = i + 1 < to ? jumpScore(samples, i - 1, i + 1, search.spanS, from, to) : 0;
    const skip = skipping > 1.5 * sharp ? 1 : 0;
    const score = skip === 1 ? skipping : sharp;
    if (score < search.threshold) continue;
    if (best.at >= 0 && tS[i]! - tS[best.at]! > search.spanS * (1 + 1e-5)) settle();
    if (score > best.score) best = { score, at: i, skip };
  }
  settle();
  return starts;
}
