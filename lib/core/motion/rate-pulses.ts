/** Short changes of rate that positions show although no velocity is measured. */
import { fitColumns } from '../math/least-squares';
import { lowerBound } from '../math/search';
import { meanVarianceFactor, type Samples } from '../series/samples';
import type { RowSpan } from './motion-estimate';

/** A jump of the rate by `sizeMps` at `atS`, taken back along a straight line over `lastsS`. */
export type RatePulse = Readonly<{
  atS: number;
  sizeMps: number;
  lastsS: number;
  /**
   * Covariance (row-major, 3 x 3, SI) of the size, and of the size times the errors of the instant and
   * of the length's logarithm.
   */
  covariance: readonly number[];
}>;

/** The background is fitted over this long on either side of a pulse, s. */
const WINDOW_S = 25;
/** Samples are averaged to this step at the finest, s. */
const BIN_S = 0.2;
const GRID_S = 1;
const LASTING_S = [3, 6, 10] as const;
/** Over this long slow noise has to be told from a pulse, s. */
const PULSE_S = 4;
/** A jump has to take this much off the squares left by a ramp alone, in variances of one sample. */
const LEAST_GAIN = 25;
/** Size and length make up for each other, so that the size alone is never known this well by chance. */
const LEAST_SIZE_OVER_SD = 2.5;
/** What is taken back more slowly than this is no pulse, s. */
const LONGEST_S = 12;
/** What is left over has to be noise: at most this many variances a sample. */
const MOST_LEFT = 2.5;
const FEWEST = 20;

/** Rate of a pulse of size 1 at a time after its start. */
function pulseShape(lastsS: number, afterS: number): number {
  return afterS < 0 ? 0 : Math.max(0, 1 - afterS / lastsS);
}

/** Way of a pulse of size 1 m/s, m: the integral of its rate. */
function pulseWay(lastsS: number, afterS: number): number {
  if (afterS <= 0) return 0;
  const t = Math.min(afterS, lastsS);
  return t - (t * t) / (2 * lastsS);
}

/** Way of a ramp to a new rate, 1 m/s higher, over the same time, m. */
function rampWay(lastsS: number, afterS: number): number {
  return Math.max(0, afterS) - pulseWay(lastsS, afterS);
}

/** Rate that a pulse adds at a time, m/s. */
export function pulseRateMps(pulse: RatePulse, atS: number): number {
  return pulse.sizeMps * pulseShape(pulse.lastsS, atS - pulse.atS);
}

/** Standard deviation of a pulse's instant, s. */
export function pulseInstantSdS({ covariance, sizeMps }: RatePulse): number {
  return Math.sqrt(Math.max(0, covariance[4] ?? 0)) / Math.abs(sizeMps);
}

/**
 * Standard deviation of the rate that a pulse adds at a time, m/s. Near its start the jump may have been or
 * not: there it is that of a value which is the size or nothing, by the instant's own distribution (logistic,
 * which is near enough to the normal one).
 */
export function pulseRateSdMps(pulse: RatePulse, atS: number): number {
  const { lastsS, covariance } = pulse;
  const share = (atS - pulse.atS) / lastsS;
  const chance = 1 / (1 + Math.exp((-1.702 * (atS - pulse.atS)) / pulseInstantSdS(pulse)));
  const jumpMps = Math.abs(pulse.sizeMps) * Math.sqrt(chance * (1 - chance));
  if (share < 0 || share > 1) return share < 0 ? jumpMps : 0;
  const slopes = [1 - share, 1 / lastsS, share];
  let variance = 0;
  slopes.forEach((a, i) => {
    slopes.forEach((b, j) => {
      variance += a * b * (covariance[3 * i + j] ?? 0);
    });
  });
  return Math.max(jumpMps, Math.sqrt(Math.max(0, variance)));
}

/** Way that a pulse has added by a time, m. */
export function pulseWayM(pulse: RatePulse, atS: number): number {
  return pulse.sizeMps * pulseWay(pulse.lastsS, atS - pulse.atS);
}

/**
 * Samples averaged in short bins; `raise` is what the noise's correlation adds to its deviation, `slowSd`
 * the deviation of white noise that parts means of a pulse's length as much as the slow noise does, m.
 */
type Binned = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  raise: number;
  slowSd: Float64Array;
}>;

function binned(samples: Samples, from: number, to: number): Binned {
  const tS: number[] = [];
  const values: number[] = [];
  const slowSd: number[] = [];
  const widen = Math.sqrt((2 * PULSE_S * PULSE_S) / (3 * Math.max(PULSE_S, samples.slowS) * BIN_S));
  for (let i = from; i < to; ) {
    slowSd.push(widen * (samples.slowSd?.[i] ?? 0));
    const startS = samples.tS[i] ?? 0;
    let sumT = 0;
    let sumY = 0;
    let count = 0;
    while (i < to && (count === 0 || (samples.tS[i] ?? 0) < startS + BIN_S * 0.999)) {
      sumT += samples.tS[i] ?? 0;
      sumY += samples.values[i] ?? 0;
      count++;
      i++;
    }
    tS.push(sumT / count);
    values.push(sumY / count);
  }
  const raise = Math.sqrt(meanVarianceFactor(samples.correlation));
  return {
    tS: Float64Array.from(tS),
    values: Float64Array.from(values),
    raise,
    slowSd: Float64Array.from(slowSd),
  };
}

/** The window of a search: a straight background, data and times, all round its middle. */
type Window = Readonly<{
  /** Seconds from the middle. */
  t: Float64Array;
  data: Float64Array;
  background: readonly Float64Array[];
  /** Standard deviation of one of the data, m. */
  sd: number;
  /** Squares left over by the background alone, in variances of one sample. */
  left: number;
}>;

/** Noise of the data, from each one's distance to the line between its neighbours, m. */
function noiseOf(t: Float64Array, data: Float64Array): number {
  let sum = 0;
  for (let i = 1; i + 1 < t.length; i++) {
    const t0 = t[i - 1] ?? 0;
    const share = ((t[i] ?? 0) - t0) / ((t[i + 1] ?? 0) - t0);
    const off = (data[i] ?? 0) - (1 - share) * (data[i - 1] ?? 0) - share * (data[i + 1] ?? 0);
    sum += (off * off) / (1 + share * share + (1 - share) * (1 - share));
  }
  return Math.sqrt(sum / Math.max(1, t.length - 2));
}

function windowAt(bins: Binned, middleS: number): Window | null {
  const from = lowerBound(bins.tS, middleS - WINDOW_S);
  const to = lowerBound(bins.tS, middleS + WINDOW_S);
  const t = bins.tS.slice(from, to);
  const before = lowerBound(t, middleS);
  if (before < FEWEST / 2 || t.length - before < FEWEST / 2) return null;
  const data = bins.values.slice(from, to);
  const originM = data[before] ?? 0;
  for (let i = 0; i < t.length; i++) {
    t[i] = (t[i] ?? 0) - middleS;
    data[i] = (data[i] ?? 0) - originM;
  }
  const background = [t.map(() => 1), t.map((each) => each / WINDOW_S)];
  const sd = Math.hypot(noiseOf(t, data) * bins.raise, bins.slowSd[from + before] ?? 0);
  const fit = fitColumns(background, data);
  if (fit === null || !(sd > 0)) return null;
  return { t, data, background, sd, left: fit.residual / sd ** 2 };
}

/** Squares left over with more columns, in variances of one sample; infinite where it cannot be told. */
function leftWith(window: Window, columns: readonly Float64Array[]): number {
  const fit = fitColumns([...window.background, ...columns], window.data);
  return fit === null ? Number.POSITIVE_INFINITY : fit.residual / window.sd ** 2;
}

type Place = Readonly<{ lastsS: number; atS: number; left: number }>;

/** The places with the least left over: of a ramp alone, and of a jump that a ramp takes back. */
type Places = Readonly<{ ramp: Place | null; jump: Place | null }>;

function bestPlaces(
  window: Window,
  instants: readonly number[],
  lengths: readonly number[],
): Places {
  let ramp: Place | null = null;
  let jump: Place | null = null;
  for (const lastsS of lengths) {
    for (const atS of instants) {
      const pulsed = window.t.map((each) => pulseWay(lastsS, each - atS));
      const ramped = pulsed.map((way, i) => Math.max(0, (window.t[i] ?? 0) - atS) - way);
      const leftRamp = leftWith(window, [ramped]);
      const leftJump = leftWith(window, [pulsed, ramped]);
      if (ramp === null || leftRamp < ramp.left) ramp = { lastsS, atS, left: leftRamp };
      if (jump === null || leftJump < jump.left) jump = { lastsS, atS, left: leftJump };
    }
  }
  return { ramp, jump };
}

function range(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
}

/** Unknowns of the whole fit that a pulse is made of: its size, instant and length. */
const PULSE_UNKNOWNS = [2, 4, 5] as const;

/** Size with its covariance, instant and length free as well (by the slopes of the fit). */
function sized(window: Window, place: Place): Pick<RatePulse, 'sizeMps' | 'covariance'> | null {
  const { lastsS, atS } = place;
  const way = (shiftS: number, factor: number): Float64Array =>
    window.t.map((each) => pulseWay(lastsS * factor, each - atS - shiftS));
  const slope = (high: Float64Array, low: Float64Array, over: number): Float64Array =>
    high.map((each, i) => (each - (low[i] ?? 0)) / over);
  const ramped = window.t.map((each) => rampWay(lastsS, each - atS));
  const jump = [...window.background, way(0, 1), ramped];
  const plain = fitColumns(jump, window.data);
  const byInstant = slope(way(0.05, 1), way(-0.05, 1), 0.1);
  const byLength = slope(way(0, 1.02), way(0, 0.98), 0.04);
  const whole = fitColumns([...jump, byInstant, byLength], window.data);
  const size = plain?.coefficients[2];
  if (plain === null || whole === null || size === undefined) return null;
  // Where the motion is not quite as supposed, what is left over is larger than the noise.
  const spare = Math.max(1, window.t.length - 6);
  const variance = Math.max(window.sd ** 2, plain.residual / spare);
  const covariance = PULSE_UNKNOWNS.flatMap((i) =>
    PULSE_UNKNOWNS.map((j) => variance * (whole.covariance[6 * i + j] ?? 0)),
  );
  return { sizeMps: size, covariance };
}

/** The best ramp alone, anywhere in the window; as finely placed as the jump it is held against. */
function bestRamp(window: Window): Place | null {
  let best: Place | null = null;
  const take = (instants: readonly number[], lengths: readonly number[]): void => {
    for (const lastsS of lengths) {
      for (const atS of instants) {
        const left = leftWith(window, [window.t.map((each) => rampWay(lastsS, each - atS))]);
        if (best === null || left < best.left) best = { lastsS, atS, left };
      }
    }
  };
  take(
    range(-18, 9, 1.5),
    range(0, 10, 1).map((k) => 1.5 * 1.4 ** k),
  );
  for (const stepS of [0.4, 0.1]) {
    const { atS, lastsS } = best ?? { atS: 0, lastsS: 1 };
    take(
      range(atS - 3 * stepS, atS + 3 * stepS, stepS),
      range(-3, 3, 1).map((k) => lastsS * (1 + stepS / 4) ** k),
    );
  }
  return best;
}

/** Looks closely at an instant; `null` where no jump stands out there. */
function settle(bins: Binned, roughS: number, holdRateMps: number): RatePulse | null {
  const wide = windowAt(bins, roughS);
  if (wide === null) return null;
  const lengths = range(0, 8, 1).map((k) => 1.5 * 1.35 ** k);
  const { ramp: first, jump: rough } = bestPlaces(wide, range(-6, 6, 0.75), lengths);
  if (rough === null || first === null || first.left - rough.left < LEAST_GAIN) return null;
  const window = windowAt(bins, roughS + rough.atS);
  if (window === null) return null;
  const finer = range(-2, 2, 1).map((k) => rough.lastsS * 1.1 ** k);
  const { jump } = bestPlaces(window, range(-0.8, 0.8, 0.1), finer);
  const ramp = bestRamp(window);
  if (jump === null || ramp === null) return null;
  const unit = Math.max(1, jump.left / Math.max(1, window.t.length - 6));
  if (unit > MOST_LEFT || jump.lastsS > LONGEST_S) return null;
  if (!((ramp.left - jump.left) / unit > LEAST_GAIN)) return null;
  const found = sized(window, jump);
  if (found === null) return null;
  const sizeSdMps = Math.sqrt(found.covariance[0] ?? 0);
  const least = Math.max(holdRateMps, LEAST_SIZE_OVER_SD * sizeSdMps);
  if (Math.abs(found.sizeMps) < least) return null;
  return { ...found, atS: roughS + rough.atS + jump.atS, lastsS: jump.lastsS };
}

/** What a jump takes off beyond a ramp at the same place, at each instant of a coarse grid. */
function gains(bins: Binned): { atS: number; gain: number }[] {
  const out: { atS: number; gain: number }[] = [];
  const firstS = bins.tS[0] ?? 0;
  const lastS = bins.tS[bins.tS.length - 1] ?? 0;
  for (let atS = firstS + 3; atS <= lastS - 3; atS += GRID_S) {
    const window = windowAt(bins, atS);
    if (window === null || window.left < window.t.length + LEAST_GAIN / 2) continue;
    let best = 0;
    for (const lastsS of LASTING_S) {
      const { ramp, jump } = bestPlaces(window, [0], [lastsS]);
      best = Math.max(best, (ramp?.left ?? 0) - (jump?.left ?? Number.POSITIVE_INFINITY));
    }
    if (best > LEAST_GAIN / 2) out.push({ atS, gain: best });
  }
  return out;
}

/**
 * Finds pulses of the rate in a position: a jump that is taken back within seconds, as a jet and the
 * control after it make. Over 25 s to either side the position is held against a straight line, one
 * with a ramp to another rate, and one with a jump and a ramp; the jump has to explain it much better
 * than any ramp, and to leave little but noise.
 *
 * @param position the position's updates
 * @param spans stretches without a gap, as index ranges of the updates
 * @param holdRateMps pulses smaller than the plan's hold rate are left to smoothing
 * @returns pulses, ascending, at least 12 s apart
 */
export function findRatePulses(
  position: Samples,
  spans: readonly RowSpan[],
  holdRateMps: number,
): readonly RatePulse[] {
  const found: RatePulse[] = [];
  for (const span of spans) {
    if (span.to - span.from < 2 * FEWEST) continue;
    const bins = binned(position, span.from, span.to);
    const taken: number[] = [];
    for (const { atS } of gains(bins).sort((a, b) => b.gain - a.gain)) {
      if (taken.some((other) => Math.abs(other - atS) < WINDOW_S / 2)) continue;
      const pulse = settle(bins, atS, holdRateMps);
      taken.push(pulse?.atS ?? atS);
      if (pulse === null) continue;
      if (found.some((other) => Math.abs(other.atS - pulse.atS) < WINDOW_S / 2)) continue;
      found.push(pulse);
    }
  }
  return found.sort((a, b) => a.atS - b.atS);
}
