/** Faults that a column of samples shows by itself: gaps, frozen stretches, spikes. */
import { median, medianInPlace, SD_PER_MAD } from '../math/statistics';
import type { Rhythm } from './rhythm';
import { medianStep, STAMP_SLACK } from './row-steps';
import { roundingSd } from './written-digits';

/** Rows `from` to `to`, both of them part of it (of a gap: the last before and the first after). */
export type RowStretch = Readonly<{ from: number; to: number }>;

/** A step longer than this many median steps is a gap. */
export const GAP_STEPS = 5;

export type Gaps = Readonly<{ stepS: number; longestStepS: number; gaps: readonly RowStretch[] }>;

/**
 * Where rows are missing: a step longer than five median steps.
 *
 * @param tS times of the rows, strictly ascending, s
 * @returns the gaps, each from the last row before to the first after, with the median step and the
 *   longest step that is no gap, s
 */
export function findGaps(tS: Float64Array): Gaps {
  const stepS = medianStep(tS);
  const longestStepS = GAP_STEPS * stepS * STAMP_SLACK;
  const gaps: RowStretch[] = [];
  for (let i = 1; i < tS.length; i++) {
    if (tS[i]! - tS[i - 1]! > longestStepS) gaps.push({ from: i - 1, to: i });
  }
  return { stepS, longestStepS, gaps };
}

/**
 * Stretches in which a channel that normally changes repeats to the digit. Never for a channel that
 * changes only now and then (a counter, a mode, a controller). A held channel counts when the
 * repeat lasts five of its periods as well.
 *
 * @param tS times of the rows, s
 * @param values the column
 * @param rhythm how the channel is renewed
 * @param longestStepS a repeat does not run through a gap, s
 * @returns stretches from the first row of the repeated value to the last, each 10 s or longer
 */
export function findFrozen(
  tS: Float64Array,
  values: Float64Array,
  rhythm: Rhythm,
  longestStepS: number,
): readonly RowStretch[] {
  if (rhythm.kind === 'now-and-then' || rhythm.longestRun < 2) return [];
  const leastS = Math.max(10, rhythm.kind === 'held' ? GAP_STEPS * rhythm.periodS : 0);
  const frozen: RowStretch[] = [];
  let first = -1;
  let last = -1;
  const close = (): void => {
    if (first >= 0 && tS[last]! - tS[first]! >= leastS * (1 - 1e-9))
      frozen.push({ from: first, to: last });
  };
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value)) continue;
    if (first >= 0 && value === values[last]! && tS[i]! - tS[last]! <= longestStepS) {
      last = i;
      continue;
    }
    close();
    first = i;
    last = i;
  }
  close();
  return frozen;
}

const SPIKE_DEVIATIONS = 8;
const LONGEST_SPIKE_ROWS = 3;
const SPIKE_NEIGHBOURS = 8;

/** Line through the given rows by least squares, as value at a time. */
function fitAround(
  tS: Float64Array,
  values: Float64Array,
  rows: readonly number[],
  originS: number,
) {
  let sumT = 0;
  let sumY = 0;
  for (const row of rows) {
    sumT += tS[row]! - originS;
    sumY += values[row]!;
  }
  const meanT = sumT / rows.length;
  const meanY = sumY / rows.length;
  let spread = 0;
  let product = 0;
  for (const row of rows) {
    const t = tS[row]! - originS - meanT;
    spread += t * t;
    product += t * (values[row]! - meanY);
  }
  const slope = spread === 0 ? 0 : product / spread;
  return (row: number): number => meanY + slope * (tS[row]! - originS - meanT);
}

/** Rows with a value next to `from`..`to`, on both sides, that are within reach in time. */
function neighbours(
  tS: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
  reachS: number,
): { before: number[]; after: number[] } {
  const before: number[] = [];
  const after: number[] = [];
  for (
    let i = from - 1;
    i >= 0 && before.length < SPIKE_NEIGHBOURS && tS[from]! - tS[i]! <= reachS;
    i--
  ) {
    if (!Number.isNaN(values[i]!)) before.push(i);
  }
  for (
    let i = to + 1;
    i < values.length && after.length < SPIKE_NEIGHBOURS && tS[i]! - tS[to]! <= reachS;
    i++
  ) {
    if (!Number.isNaN(values[i]!)) after.push(i);
  }
  return { before, after };
}

/** True when rows `from`..`to` stand off a line through their neighbours, which agree with it. */
function isSpike(
  tS: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
  stepS: number,
  scatter: number,
): boolean {
  const { before, after } = neighbours(tS, values, from, to, 3 * SPIKE_NEIGHBOURS * stepS);
  if (before.length < 4 || after.length < 4) return false;
  const rows = [...before, ...after];
  const line = fitAround(tS, values, rows, tS[from]!);
  const distances = rows.map((row) => Math.abs(values[row]! - line(row)));
  // Sixteen distances alone would be too small now and then by chance.
  const sd = Math.max(SD_PER_MAD * median(distances) * 1.1, scatter / Math.SQRT2);
  if (sd === 0) return false;
  for (let row = from; row <= to; row++) {
    if (
      !Number.isNaN(values[row]!) &&
      !(Math.abs(values[row]! - line(row)) > SPIKE_DEVIATIONS * sd)
    )
      return false;
  }
  return Math.max(...distances) < 5 * sd;
}

/** Steps of a block that its scatter is taken from, and how many scatters a candidate's step exceeds. */
const MOST_STEPS = 128;
const CANDIDATE_SCATTERS = 5.5;

/**
 * True where a block holds no candidate for a spike, told without sorting: half of its steps and one more are
 * so large that their middle one makes a limit no step exceeds. False where that does not tell.
 */
function isCalm(values: Float64Array, start: number, end: number): boolean {
  let largest = 0;
  let before = values[Math.max(0, start - 1)]!;
  for (let i = start; i < end; i++) {
    const value = values[i]!;
    const step = Math.abs(value - before);
    if (step > largest) largest = step;
    before = value;
  }
  const stride = Math.max(1, Math.floor((end - start) / MOST_STEPS));
  let known = 0;
  let large = 0;
  for (let i = Math.max(1, start); i < end && known < MOST_STEPS; i += stride) {
    const step = Math.abs(values[i]! - values[i - 1]!);
    if (Number.isNaN(step)) continue;
    known++;
    if (CANDIDATE_SCATTERS * (SD_PER_MAD * step) >= largest) large++;
  }
  return large > known >> 1;
}

/**
 * Single samples, or up to three in a row, that leave the signal and return.
 *
 * Candidates are steps larger than 5.5 times the local scatter of steps (never under that of rounding); each is then held against
 * a line through eight rows on either side: all its rows more than eight robust standard deviations
 * off, the neighbours within five (else the signal itself moved, and it is no spike).
 *
 * @param tS times of the rows, s
 * @param values the column; NaN cells are passed over
 * @param stepS median step of the rows, s
 * @returns the spikes found, ascending
 *
 * Valid: for a channel that changes with each row; the caller leaves others out.
 */
export function findSpikes(
  tS: Float64Array,
  values: Float64Array,
  stepS = medianStep(tS),
): readonly RowStretch[] {
  const n = values.length;
  const spikes: RowStretch[] = [];
  const block = 512;
  const work = new Float64Array(MOST_STEPS);
  // Of a step, which is the difference of two values; formed where a block is not calm.
  let writtenSd: number | null = null;
  for (let start = 0; start < n; start += block) {
    const end = Math.min(n, start + block);
    if (isCalm(values, start, end)) continue;
    const stride = Math.max(1, Math.floor((end - start) / MOST_STEPS));
    let count = 0;
    for (let i = Math.max(1, start); i < end && count < MOST_STEPS; i += stride) {
      const step = values[i]! - values[i - 1]!;
      if (!Number.isNaN(step)) work[count++] = Math.abs(step);
    }
    if (count === 0) continue;
    writtenSd ??= Math.SQRT2 * roundingSd(values);
    const scatter = Math.max(SD_PER_MAD * medianInPlace(work, count), writtenSd);
    const limit = CANDIDATE_SCATTERS * scatter;
    let value = values[Math.max(0, start - 1)]!;
    for (let i = Math.max(1, start); i < end; i++) {
      const before = value;
      value = values[i]!;
      if (!(Math.abs(value - before) > limit)) continue;
      const last = spikes[spikes.length - 1];
      if (last !== undefined && i <= last.to + 1) continue;
      for (let length = 1; length <= LONGEST_SPIKE_ROWS; length++) {
        if (i + length - 1 >= n) break;
        if (!isSpike(tS, values, i, i + length - 1, stepS, scatter)) continue;
        spikes.push({ from: i, to: i + length - 1 });
        break;
      }
    }
  }
  return spikes;
}
