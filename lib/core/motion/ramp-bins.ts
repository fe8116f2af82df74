/** A position as means of short bins, in which ramps of its rate are looked for. */
import { meanVarianceFactor, type Samples } from '../series/samples';
import type { RowSpan } from './row-span';

const SHORTEST_BIN_S = 0.5;
const LONGEST_BIN_S = 3;

/**
 * Samples averaged in short bins. Where their noise is slow, each has the share `keep` of the one before
 * taken off, which leaves nearly white noise; ways are held against them in the same manner.
 */
export type Bins = Readonly<{
  tS: Float64Array;
  /** Time of the bin before, s. */
  beforeS: Float64Array;
  values: Float64Array;
  variance: Float64Array;
  keep: number;
  /**
   * Share of that variance which ways see that bend over many bins: quick noise, the share of the bin before taken off,
   * goes up and down from bin to bin, and a way sees what is left of its sum.
   */
  smoothShare: number;
}>;

/** Bins over which quick noise averages down to what slow noise adds from one to the next. */
function binLengthS({ sd, slowSd, slowS, stepS }: Samples): number {
  const middle = sd.length >> 1;
  const slow = slowSd?.[middle] ?? 0;
  if (slow === 0) return SHORTEST_BIN_S;
  const even = ((sd[middle] ?? 0) / slow) * Math.sqrt(stepS * slowS);
  return Math.min(LONGEST_BIN_S, Math.max(SHORTEST_BIN_S, even));
}

/** Averages a stretch of the samples. */
export function binned(samples: Samples, span: RowSpan): Bins {
  const tS: number[] = [];
  const values: number[] = [];
  const variance: number[] = [];
  const binS = binLengthS(samples);
  const keep = samples.slowSd === null ? 0 : Math.exp(-binS / samples.slowS);
  let [whole, seen] = [0, 0];
  for (let i = span.from; i < span.to; ) {
    const startS = samples.tS[i] ?? 0;
    let sumT = 0;
    let sumY = 0;
    let count = 0;
    const first = i;
    while (i < span.to && (count === 0 || (samples.tS[i] ?? 0) < startS + binS * 0.999)) {
      sumT += samples.tS[i] ?? 0;
      sumY += samples.values[i] ?? 0;
      count++;
      i++;
    }
    tS.push(sumT / count);
    values.push(sumY / count);
    const quick = (samples.sd[first] ?? 0) ** 2 * meanVarianceFactor(samples.correlation);
    const slow = (samples.slowSd?.[first] ?? 0) ** 2;
    const fresh = slow * (1 - keep * keep);
    variance.push((quick / count) * (1 + keep * keep) + fresh);
    whole += (quick / count) * (1 + keep * keep) + fresh;
    seen += (quick / count) * (1 - keep) ** 2 + fresh;
  }
  return {
    tS: Float64Array.from(tS.slice(1)),
    beforeS: Float64Array.from(tS.slice(0, -1)),
    values: Float64Array.from(values.slice(1), (value, k) => value - keep * (values[k] ?? 0)),
    variance: Float64Array.from(variance.slice(1)),
    keep,
    smoothShare: seen / whole,
  };
}

/** Way of a ramp of size 1 m/s at a time after its start, m. */
export function rampWayM(lastsS: number, afterS: number): number {
  if (afterS <= 0) return 0;
  return afterS < lastsS ? (afterS * afterS) / (2 * lastsS) : afterS - lastsS / 2;
}

/** What a ramp of size 1 m/s adds to a bin, m. */
export function binWayM(bins: Bins, i: number, atS: number, lastsS: number): number {
  const whole = rampWayM(lastsS, (bins.tS[i] ?? 0) - atS);
  return bins.keep === 0
    ? whole
    : whole - bins.keep * rampWayM(lastsS, (bins.beforeS[i] ?? 0) - atS);
}
