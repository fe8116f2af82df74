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

type Mean = Readonly<{ mps: number; sdMps: number }>;

/** Mean closing rate over a stretch by the way over it, m/s. */
function meanByWay(motion: MotionEstimate, fromS: number, toS: number): Mean {
  const at = (column: 'rangeM' | 'rangeSdM', atS: number): number =>
    motionThrough(motion, column, atS);
  return {
    mps: (at('rangeM', fromS) - at('rangeM', toS)) / (toS - fromS),
    sdMps: Math.hypot(at('rangeSdM', fromS), at('rangeSdM', toS)) / (toS - fromS),
  };
}

/** True where the way over the run tells its mean rate, by 95 %; of a measured rate it always does. */
export function toldByWay(motion: MotionEstimate, run: Run, holdRateMps: number): boolean {
  if (!motion.rateIsDerived || run.motion === 'crossing') return true;
  const { mps, sdMps } = meanByWay(motion, run.startS, run.endS);
  return beyondMps(run, mps, holdRateMps) > NORMAL_95 * sdMps;
}

/**
 * True of a hold between two moves whose mean rate is that of a hold and, by 95 %, another than theirs as long
 * beside it: then it is no part of them, though noise may not tell that it is under the threshold.
 */
function toldBesideMoves(
  motion: MotionEstimate,
  run: Run,
  [before, after]: readonly [Run | undefined, Run | undefined],
  holdRateMps: number,
): boolean {
  if (run.motion !== 'hold' || before === undefined || after === undefined) return false;
  const own = meanByWay(motion, run.startS, run.endS);
  if (!(beyondMps(run, own.mps, holdRateMps) > 0)) return false;
  const lastsS = run.endS - run.startS;
  const isOther = (fromS: number, toS: number): boolean => {
    const beside = meanByWay(motion, fromS, toS);
    const apartMps = Math.abs(beside.mps) - Math.max(holdRateMps, Math.abs(own.mps));
    return apartMps > NORMAL_95 * Math.hypot(own.sdMps, beside.sdMps);
  };
  return (
    isOther(Math.max(before.startS, run.startS - lastsS), run.startS) &&
    isOther(run.endS, Math.min(after.endS, run.endS + lastsS))
  );
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
 * Whether noise lets a run be told from its neighbours: by the way over it, by the rate at some row, or of a hold by
 * the way over the moves beside it. A rate that was measured tells each run as it is.
 *
 * @param run with another beside it
 * @param beside the runs before and after it, as far as there are any
 * @param holdRateMps the plan's threshold
 */
export function isTold(
  motion: MotionEstimate,
  run: Run,
  beside: readonly [Run | undefined, Run | undefined],
  holdRateMps: number,
): boolean {
  if (!motion.rateIsDerived || run.motion === 'crossing') return true;
  return (
    toldByWay(motion, run, holdRateMps) ||
    toldByRate(motion, run, holdRateMps) ||
    toldBesideMoves(motion, run, beside, holdRateMps)
  );
}
