/** Root mean square of a deviation, and how well it is known. */
import { biased95 } from '../math/extreme-interval';
import { NORMAL_95 } from '../math/statistics';
import type { HiddenExcursions } from '../motion/hidden-excursions';
import type { MotionEstimate } from '../motion/motion-estimate';
import { noiseVarianceError } from '../series/samples';
import { derivedNoise, derivedSquareVariance } from './derived-square';
import { hiddenRms } from './hidden-deviation';
import { flattenedSquare, noiseTimes } from './mean-square';
import type { Measured } from './run-quantities';

/** Sums over a span, over its time: mean and its standard deviation, mean square, mean variance of the noise. */
type Found = Readonly<{
  first: number;
  last: number;
  s: number;
  meanMps: number;
  meanSd: number;
  square: number;
  noise: number;
}>;

/**
 * Root mean square of a measured rate: the noise taken out, what lines took off put back. The interval of the square is
 * carried through the root: down to nothing where it holds 0.
 */
export function measuredRms(
  motion: MotionEstimate,
  deviation: Float64Array,
  found: Found,
): Measured {
  const { s, meanMps, noise } = found;
  const flattened = flattenedSquare(motion, deviation, found);
  // No root mean square is smaller than the mean, whatever the noise.
  const square = Math.max(meanMps * meanMps, found.square - noise + flattened);
  const own = noiseTimes(motion) * noise;
  // The noise that is taken out is itself known by so many rows only.
  const taken = own * noiseVarianceError(s / motion.stepS);
  const share = Math.min(1, motion.rateSpanS / s);
  const squareSd = Math.hypot(Math.sqrt(share * (2 * own * own + 4 * square * noise)), taken);
  const half = biased95(squareSd, Math.max(0, flattened) / 2);
  const value = Math.sqrt(square);
  const down = value - Math.sqrt(Math.max(0, square - half));
  return { value, half: Math.max(down, Math.sqrt(square + half) - value) };
}

/**
 * Root mean square of a derived rate, with what its positions may hide. Its mean is known as its ranges are: the rate's
 * own noise moves only what varies about it.
 */
export function derivedRms(
  motion: MotionEstimate,
  deviation: Float64Array,
  found: Found,
  hidden: HiddenExcursions,
): Measured {
  const { first, last, s, meanMps, meanSd } = found;
  const { value, half } = hiddenRms(hidden, {
    meanMps,
    meanSd,
    variedSquare: found.square - derivedNoise(motion, deviation, found) - meanMps * meanMps,
    variedSd: Math.sqrt(derivedSquareVariance(motion, deviation, found)) / s,
    durationS: s,
    linesHalfS: motion.rateHalfSpanS?.[(first + last) >> 1] ?? motion.rateSpanS,
  });
  const ofMean = value > 0 ? (NORMAL_95 * meanSd * Math.abs(meanMps)) / value : 0;
  return { value, half: Math.hypot(half, ofMean) };
}
