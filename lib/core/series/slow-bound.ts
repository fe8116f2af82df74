/** How much slow noise there is room for: no more than an offset scatters, or neighbours differ. */
import { bendOfSlow } from '../math/noise-shape';
import { medianInPlace } from '../math/statistics';
import type { ScaledColumn } from './bend-cells';

/** Position less the way its velocity travels, and the middle of that velocity's scale squared. */
type Offset = Readonly<{ offset: ScaledColumn; typical2: number }>;

/** Largest slow parts in units of the scales squared; of the velocity's for a time constant, s. */
export type SlowBound = Readonly<{ position: number; velocity: (timeS: number) => number }>;

/**
 * A stretch as short as its time constant scatters by a quarter of the variance of a first-order process,
 * a random walk seldom by less than a tenth of what is to be expected. Our own choice.
 */
const ROOM_POSITION = 4;
const ROOM_VELOCITY = 10;

/** Neighbours show a slow part as it changes from one to the next; how much they differ is told this well. Our own choice. */
const ROOM_NEIGHBOURS = 1.5;

/**
 * The largest slow part that goes with what neighbours show, in units of their scale squared. Smooth motion without noise
 * bends ever more with the distance, as no first-order process does, and would be taken for one of any size.
 *
 * @param timeS its time constant, s
 * @param stepS time between samples, s
 */
export function neighbourBound(timeS: number, stepS: number): number {
  return ROOM_NEIGHBOURS / bendOfSlow(stepS / timeS);
}

/** Variance of an offset about its mean, and its middle scale squared. */
function scatterOf({ values, sd, over }: ScaledColumn) {
  let [mean, sum] = [0, 0];
  const scales = new Float64Array(values.length);
  for (let k = 0; k < values.length; k++) {
    const value = values[k] ?? Number.NaN;
    const off = value - mean;
    mean += off / (k + 1);
    sum += off * (value - mean);
    scales[k] = ((sd[k] ?? Number.NaN) / over) ** 2;
  }
  return { variance: sum / values.length, scale2: medianInPlace(scales, scales.length) };
}

/**
 * The largest slow parts that the offsets of some axes have room for. Data without noise have a scale of next to
 * nothing, of which any size of slow noise would be a likely multiple.
 *
 * @param axes the axes of one source
 * @returns infinite where no axis shows a scale
 */
export function slowBound(axes: readonly Offset[]): SlowBound {
  let [position, walk] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const { offset, typical2 } of axes) {
    const { tS } = offset;
    const lastsS = (tS[tS.length - 1] ?? Number.NaN) - (tS[0] ?? Number.NaN);
    const { variance, scale2 } = scatterOf(offset);
    if (scale2 > 0) position = Math.min(position, (ROOM_POSITION * variance) / scale2);
    // A slow rate walks by 2 x its variance x its time constant a second; a walk of T seconds scatters by T / 6.
    if (typical2 > 0 && lastsS > 0)
      walk = Math.min(walk, (ROOM_VELOCITY * 6 * variance) / (2 * lastsS * typical2));
  }
  return { position, velocity: (timeS) => walk / timeS };
}
