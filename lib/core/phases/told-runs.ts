/** Runs of motion that a rate derived from noisy positions does not tell from those beside them. */
import { extreme95 } from '../math/extreme-interval';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import { motionThrough } from '../motion/sample-motion';

type Run = Readonly<{
  motion: 'hold' | 'closing' | 'opening' | 'crossing';
  startS: number;
  endS: number;
}>;

/** How far a closing rate lies on the side of the thresholds that a kind of motion asks for, m/s. */
function beyondMps({ motion }: Run, closingMps: number, holdRateMps: number): number {
  if (motion === 'closing') return closingMps - holdRateMps;
  if (motion === 'opening') return -closingMps - holdRateMps;
  return holdRateMps - Math.abs(closingMps);
}

/** True where the way over the run tells its mean rate, by 95 %. */
function toldByWay(motion: MotionEstimate, run: Run, holdRateMps: number): boolean {
  const at = (column: 'rangeM' | 'rangeSdM', atS: number): number =>
    motionThrough(motion, column, atS);
  const durationS = run.endS - run.startS;
  const meanMps = (at('rangeM', run.startS) - at('rangeM', run.endS)) / durationS;
  const sdM = Math.hypot(at('rangeSdM', run.startS), at('rangeSdM', run.endS));
  return beyondMps(run, meanMps, holdRateMps) > (NORMAL_95 * sdM) / durationS;
}

/** True where some row's rate tells it, as the largest of all of the run's noisy rates. */
function toldByRate(motion: MotionEstimate, run: Run, holdRateMps: number): boolean {
  const lastsS = run.endS - run.startS;
  const { tS, stepS, ratePartingPerS: partingPerS } = motion;
  const factor = extreme95({ lastsS, partingPerS, stepS });
  for (let row = lowerBound(tS, run.startS); row < tS.length; row++) {
    if ((tS[row] ?? Number.NaN) > run.endS) return false;
    const beyond = beyondMps(run, motion.closingMps[row] ?? Number.NaN, holdRateMps);
    if (beyond > factor * (motion.closingSdMps[row] ?? Number.NaN)) return true;
  }
  return false;
}

/**
 * Whether noise lets a run be told from its neighbours: by the way over it, or by the rate at some row. A rate
 * that was measured tells each run as it is.
 *
 * @param run with another beside it
 * @param holdRateMps the plan's threshold
 */
export function isTold(motion: MotionEstimate, run: Run, holdRateMps: number): boolean {
  if (!motion.rateIsDerived || run.motion === 'crossing') return true;
  return toldByWay(motion, run, holdRateMps) || toldByRate(motion, run, holdRateMps);
}
