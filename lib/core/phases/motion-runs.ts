/** Runs of one kind of motion, with edges where the rate crosses the plan's hold rate. */
import { crossingResolutionS, flattenedCrossingS, spreadLeapS } from '../math/edge-resolution';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import { openEdge } from './edge-by-position';
import { edgeInGap } from './edge-in-gap';
import { mergeShortRuns, type OpenRun, type RunMotion } from './open-runs';
import { pulseHalfMps, REACH_S } from './rate-pulses';
import { mergeUntold } from './untold-runs';

/** One run; `startHalfS` and `endHalfS` are 95 % half-widths of its edges, s. */
export type MotionRun = Readonly<{
  motion: RunMotion;
  startS: number;
  endS: number;
  startHalfS: number;
  endHalfS: number;
}>;

export type RunOptions = Readonly<{
  holdRateMps: number;
  holdDwellS: number;
  holdCrossSpeedMps: number | null;
  /** The plan's acceleration, for a change of rate hidden in a gap, m/s2. */
  accelerationMps2: number;
  /** Where the last run ends: contact, or the last row, s. */
  endS: number;
  endHalfS: number;
}>;

function motionOf(closingMps: number, crossMps: number, options: RunOptions): RunMotion {
  if (closingMps >= options.holdRateMps) return 'closing';
  if (closingMps <= -options.holdRateMps) return 'opening';
  const cross = options.holdCrossSpeedMps;
  return cross !== null && crossMps >= cross ? 'crossing' : 'hold';
}

/** The threshold between two neighbouring kinds of motion, and the column it is on. */
type Threshold = Readonly<{ column: 'closingMps' | 'crossMps'; level: number }>;

/** Thresholds crossed on the way from one row to the next, in the order in which they are met. */
function thresholdsBetween(
  from: RunMotion,
  to: RunMotion,
  options: RunOptions,
): readonly (Threshold & Readonly<{ into: RunMotion }>)[] {
  const { holdRateMps, holdCrossSpeedMps } = options;
  const slow = (motion: RunMotion): boolean => motion === 'hold' || motion === 'crossing';
  const level = (motion: RunMotion): number => (motion === 'closing' ? holdRateMps : -holdRateMps);
  if (slow(from) && slow(to)) {
    return [{ column: 'crossMps', level: holdCrossSpeedMps ?? 0, into: to }];
  }
  if (slow(from)) return [{ column: 'closingMps', level: level(to), into: to }];
  if (slow(to)) return [{ column: 'closingMps', level: level(from), into: to }];
  return [
    { column: 'closingMps', level: level(from), into: 'hold' },
    { column: 'closingMps', level: level(to), into: to },
  ];
}

/** All runs before short ones are merged. Rows without an estimate are passed over. */
function rawRuns(motion: MotionEstimate, options: RunOptions): OpenRun[] {
  const runs: OpenRun[] = [];
  let previous = -1;
  for (let row = 0; row < motion.tS.length; row++) {
    const atS = motion.tS[row] ?? Number.NaN;
    if (atS > options.endS) break;
    const closing = motion.closingMps[row] ?? Number.NaN;
    if (Number.isNaN(closing)) continue;
    const kind = motionOf(closing, motion.crossMps[row] ?? Number.NaN, options);
    const open = runs[runs.length - 1];
    if (open === undefined) {
      runs.push({ motion: kind, startS: motion.tS[0] ?? atS, endS: atS });
    } else if (open.motion !== kind) {
      const beforeS = motion.tS[previous] ?? atS;
      const afterGap = motion.stretches.some((span) => span.from === row);
      for (const step of thresholdsBetween(open.motion, kind, options)) {
        const a = motion[step.column][previous] ?? Number.NaN;
        const b = motion[step.column][row] ?? Number.NaN;
        const share = a === b ? 1 : Math.min(1, Math.max(0, (step.level - a) / (b - a)));
        const hidden =
          afterGap && step.column === 'closingMps'
            ? edgeInGap(motion, previous, step.level, options.accelerationMps2)
            : null;
        const edgeS = hidden?.atS ?? beforeS + share * (atS - beforeS);
        const last = runs[runs.length - 1];
        if (last !== undefined) last.endS = edgeS;
        const edge = hidden === null ? {} : { startHalfS: hidden.halfS };
        runs.push({ motion: step.into, startS: edgeS, endS: edgeS, ...edge });
      }
    }
    const last = runs[runs.length - 1];
    if (last !== undefined) last.endS = atS;
    previous = row;
  }
  const last = runs[runs.length - 1];
  if (last !== undefined) last.endS = Math.max(last.endS, options.endS);
  return runs;
}

/** The level and column that part a run from its neighbours of one kind. */
function partingOf(run: RunMotion, beside: RunMotion, options: RunOptions): Threshold | null {
  const [threshold, second] = thresholdsBetween(beside, run, options);
  return threshold === undefined || second !== undefined ? null : threshold;
}

/**
 * Runs without those that noise alone makes: shorter than the dwell, between two of one kind, and nowhere past the
 * threshold by more than the 95 % of their own rate. They would join their neighbours anyhow, but not before
 * they had parted a longer run into two short ones.
 */
function withoutFlickers(
  runs: readonly OpenRun[],
  motion: MotionEstimate,
  options: RunOptions,
): OpenRun[] {
  const kept: OpenRun[] = [];
  for (let index = 0; index < runs.length; index++) {
    const run = runs[index];
    const last = kept[kept.length - 1];
    const next = runs[index + 1];
    if (run === undefined) break;
    if (
      last !== undefined &&
      last.motion === next?.motion &&
      isFlicker(run, last, motion, options)
    ) {
      last.endS = next.endS;
      index++;
    } else kept.push({ ...run });
  }
  return kept;
}

function isFlicker(
  run: OpenRun,
  beside: OpenRun,
  motion: MotionEstimate,
  options: RunOptions,
): boolean {
  if (run.startHalfS !== undefined || run.endS - run.startS >= options.holdDwellS) return false;
  const parting = partingOf(run.motion, beside.motion, options);
  if (parting === null) return false;
  const values = motion[parting.column];
  const sds = parting.column === 'crossMps' ? motion.crossSdMps : motion.closingSdMps;
  for (let row = lowerBound(motion.tS, run.startS); row < values.length; row++) {
    if ((motion.tS[row] ?? run.endS) >= run.endS) break;
    const past = Math.abs((values[row] ?? Number.NaN) - parting.level);
    if (!Number.isNaN(past) && !(past <= NORMAL_95 * (sds[row] ?? Number.NaN))) return false;
  }
  return true;
}

/** On which side of none a rate is about a row: a short run that was merged leaves an edge at its own threshold. */
function signAt(column: Float64Array, row: number, moving: RunMotion): number {
  const there = Math.sign((column[row - 1] ?? Number.NaN) + (column[row] ?? Number.NaN));
  return Number.isNaN(there) || there === 0 ? (moving === 'closing' ? 1 : -1) : there;
}

/**
 * Half-width of an edge: how far to either side the rate stays within its own 95 % of a threshold, or
 * where it leaps between two rows (a jet, a gap) the distance to the further one.
 */
function edgeHalfWidth(
  motion: MotionEstimate,
  edgeS: number,
  before: RunMotion,
  after: RunMotion,
  options: RunOptions,
): number {
  const slow = (kind: RunMotion): boolean => kind === 'hold' || kind === 'crossing';
  const across = slow(before) && slow(after);
  const column = across ? motion.crossMps : motion.closingMps;
  const columnSd = across ? motion.crossSdMps : motion.closingSdMps;
  const { tS } = motion;
  const right = lowerBound(tS, edgeS);
  const level = across
    ? (options.holdCrossSpeedMps ?? 0)
    : options.holdRateMps * signAt(column, right, slow(before) ? after : before);
  const sd = columnSd[right] ?? 0;
  // The lines stand on either side of a leap.
  const isLeap = crossingResolutionS(tS, column, right, edgeS, sd) > 0;
  const pulseMps = across || isLeap ? 0 : pulseHalfMps(motion, edgeS);
  const side = (start: number, direction: 1 | -1, besideMps: number): number => {
    let nearS = edgeS;
    let nearOff = 0;
    for (let row = start; row >= 0 && row < tS.length; row += direction) {
      const value = column[row] ?? Number.NaN;
      const sd = columnSd[row] ?? Number.NaN;
      const atS = tS[row] ?? edgeS;
      if (Number.isNaN(value)) continue;
      const off = Math.abs(value - level);
      const band = Math.hypot(NORMAL_95 * sd, besideMps);
      if (off > band) {
        const share = off === nearOff ? 1 : (band - nearOff) / (off - nearOff);
        return Math.abs(nearS + Math.min(1, Math.max(0, share)) * (atS - nearS) - edgeS);
      }
      nearS = atS;
      nearOff = off;
    }
    return Math.abs((direction === 1 ? (tS[tS.length - 1] ?? edgeS) : (tS[0] ?? edgeS)) - edgeS);
  };
  // Pulses end within the lines that they stand beside, also where a hold as a whole lies in their height.
  const sideS = (start: number, direction: 1 | -1): number => {
    const noiseS = side(start, direction, 0);
    return pulseMps > 0 ? Math.min(side(start, direction, pulseMps), noiseS + REACH_S) : noiseS;
  };
  // A derived rate hangs together for long: the edge may lie anywhere in the longer of the two sides.
  const sides = [sideS(right - 1, -1), sideS(right, 1)] as const;
  const noise = motion.rateIsDerived ? Math.max(...sides) : (sides[0] + sides[1]) / 2;
  return Math.max(noise, resolutionS(motion, column, edgeS, sd));
}

/** The column at the rows that bring a rate, and the first of these behind an edge: a held rate leaps between them. */
function rateUpdates(
  { tS, samples, channels, rateIsDerived }: MotionEstimate,
  column: Float64Array,
  edgeS: number,
) {
  const measured = rateIsDerived ? undefined : samples.get(channels[1] ?? '');
  if (measured === undefined || measured.tS.length === tS.length)
    return { tS, values: column, row: lowerBound(tS, edgeS) };
  const next = lowerBound(measured.tS, edgeS);
  const near = measured.tS.slice(Math.max(0, next - 2), next + 2);
  const values = near.map((atS) => column[lowerBound(tS, atS)] ?? Number.NaN);
  return { tS: near, values, row: lowerBound(near, edgeS) };
}

/** What the spacing of rows and the lines of a rate leave unknown of an edge, s. */
function resolutionS(
  motion: MotionEstimate,
  column: Float64Array,
  edgeS: number,
  sd: number,
): number {
  const { tS, stepS, rateLinesS, rateIsDerived } = motion;
  const updates = rateUpdates(motion, column, edgeS);
  const rowsS = crossingResolutionS(updates.tS, updates.values, updates.row, edgeS, sd);
  if (rateLinesS === null) return rowsS;
  const lines = { spanS: rateLinesS, stepS, sd };
  // Lines of a measured rate do not run across a leap.
  const leapS = rateIsDerived ? spreadLeapS(tS, column, edgeS, lines) : rowsS;
  return leapS > 0
    ? Math.max(rowsS, leapS)
    : Math.max(rowsS, flattenedCrossingS(tS, column, edgeS, lines));
}

/**
 * The approach as runs of hold, closing, opening (and crossing): a hold where the range rate is
 * smaller in size than the plan's hold rate. A short run that noise alone makes is none. A gap does not end a run; where the motion differs on
 * its two sides, the edge lies in it where the way travelled in it puts it (see `edge-in-gap.ts`), else
 * by straight line with a half-width that reaches the gap's further side. A run of a rate derived from
 * noisy positions has to stand out of the noise (see `told-runs.ts`).
 *
 * @param motion the estimated motion
 * @param options the plan's thresholds and where the last run ends
 * @returns runs one after the other, without holes; empty where no rate is known
 */
export function findMotionRuns(motion: MotionEstimate, options: RunOptions): readonly MotionRun[] {
  const runs = withoutFlickers(rawRuns(motion, options), motion, options);
  const long = mergeShortRuns(runs, options.holdDwellS);
  const merged = mergeUntold(long, motion, options);
  const halves = merged.map((run, index) => {
    const before = merged[index - 1];
    if (before === undefined) return 0;
    if (run.startHalfS !== undefined) return run.startHalfS;
    const half = edgeHalfWidth(motion, run.startS, before.motion, run.motion, options);
    const place = openEdge(motion, before, run, { ...options, halfS: half });
    if (place === null) return half;
    before.endS = place.atS;
    run.startS = place.atS;
    return place.halfS;
  });
  return merged.map((run, index) => ({
    ...run,
    startHalfS: halves[index] ?? 0,
    endHalfS: halves[index + 1] ?? options.endHalfS,
  }));
}
