/** What a moved solution step leaves unknown about everything before it. */
import { lowerBound } from '../math/search';
import type { MotionColumn, MotionEstimate, MovedStep } from './motion-estimate';
import { motionThrough } from './sample-motion';

const ALONG = { x: 'axialM', y: 'yM', z: 'zM' } as const;

/** Share of a step along an axis that shows in the range: the direction cosine of the position. */
function shareInRange(axis: MovedStep['axis'], at: (column: MotionColumn) => number): number {
  if (axis === 'range') return 1;
  const share = at(ALONG[axis]) / at('rangeM');
  return Number.isFinite(share) ? share : 0;
}

/**
 * Standard deviation that the moved steps after an instant leave in the range at a time: samples before
 * a step were moved by its size as it was estimated, so they all err alike by the error of that size.
 *
 * @param atS time of the range, s
 * @param sinceS only steps after this count, s; later than `atS` for what two times share
 * @returns m; 0 where no step follows
 */
export function stepErrorSdM(motion: MotionEstimate, atS: number, sinceS = atS): number {
  let varianceM2 = 0;
  for (const { axis, sizeSdM, afterS } of motion.steps) {
    if (afterS <= sinceS || afterS <= atS) continue;
    varianceM2 += (shareInRange(axis, (of) => motionThrough(motion, of, atS)) * sizeSdM) ** 2;
  }
  return Math.sqrt(varianceM2);
}

/**
 * The estimate with the error of each moved step's size in the standard deviations of all rows before
 * it: in the axial distance or the lateral offset by its axis, in the range by its direction. Rates
 * hold it not, for a shift that stays adds none.
 */
export function withStepErrors(motion: MotionEstimate): MotionEstimate {
  if (motion.steps.every(({ sizeSdM }) => sizeSdM === 0)) return motion;
  const rangeSdM = motion.rangeSdM.slice();
  const axialSdM = motion.axialSdM.slice();
  const lateralSdM = motion.lateralSdM.slice();
  for (const { axis, sizeSdM, afterS } of motion.steps) {
    const first = lowerBound(motion.tS, afterS);
    for (let row = 0; row < first; row++) {
      const at = (values: Float64Array): number => values[row] ?? Number.NaN;
      const inRange = shareInRange(axis, (of) => at(motion[of])) * sizeSdM;
      rangeSdM[row] = Math.hypot(at(rangeSdM), inRange);
      if (axis === 'x') axialSdM[row] = Math.hypot(at(axialSdM), sizeSdM);
      if (axis !== 'y' && axis !== 'z') continue;
      const lateralM = at(motion.lateralM);
      const share =
        lateralM > 0 ? at(axis === 'y' ? motion.yM : motion.zM) / lateralM : Math.SQRT1_2;
      lateralSdM[row] = Math.hypot(at(lateralSdM), share * sizeSdM);
    }
  }
  return { ...motion, rangeSdM, axialSdM, lateralSdM };
}
