/** A change of rate that a gap hides, placed by the way travelled in the gap. */
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';

/** Where the threshold was crossed, with its 95 % half-width, s. */
export type HiddenEdge = Readonly<{ atS: number; halfS: number }>;

/**
 * When the closing rate crossed a level inside a gap.
 *
 * The rates on both sides and the way between them fix the middle of one change of rate:
 * v0 (tm - t0) + v1 (t1 - tm) = way. Around it the rate is taken to change at the plan's acceleration;
 * a sharper change moves the crossing towards the middle, which the half-width reaches.
 *
 * @param row last row before the gap
 * @param levelMps the threshold, between the rates on the two sides
 * @param accelerationMps2 the plan's acceleration
 * @returns `null` where one change of rate inside the gap cannot have given the way
 *
 * Valid: the rate changed once in the gap, not checked beyond the way.
 * Source: elementary.
 */
export function edgeInGap(
  motion: MotionEstimate,
  row: number,
  levelMps: number,
  accelerationMps2: number,
): HiddenEdge | null {
  const next = row + 1;
  const at = (values: Float64Array, index: number): number => values[index] ?? Number.NaN;
  const t0 = at(motion.tS, row);
  const t1 = at(motion.tS, next);
  const v0 = at(motion.closingMps, row);
  const v1 = at(motion.closingMps, next);
  const wayM = at(motion.rangeM, row) - at(motion.rangeM, next);
  const change = v1 - v0;
  const middleS = (v1 * t1 - v0 * t0 - wayM) / change;
  const wayHalfM = NORMAL_95 * Math.hypot(at(motion.rangeSdM, row), at(motion.rangeSdM, next));
  const rateHalfM =
    NORMAL_95 *
    Math.hypot(
      at(motion.closingSdMps, row) * (middleS - t0),
      at(motion.closingSdMps, next) * (t1 - middleS),
    );
  const noiseS = Math.hypot(wayHalfM, rateHalfM) / Math.abs(change);
  if (!(middleS >= t0 - noiseS && middleS <= t1 + noiseS)) return null;
  const rampS =
    accelerationMps2 > 0 ? (levelMps - (v0 + v1) / 2) / (Math.sign(change) * accelerationMps2) : 0;
  const atS = Math.min(t1, Math.max(t0, middleS + rampS));
  const halfS = Math.max(Math.hypot(noiseS, atS - middleS), 0.475 * motion.stepS);
  return { atS, halfS: Math.min(halfS, Math.max(atS - t0, t1 - atS)) };
}
