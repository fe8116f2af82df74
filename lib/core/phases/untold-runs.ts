/** Takes away runs that the noise of a derived rate does not let be told. */
import type { MotionEstimate } from '../motion/motion-estimate';
import { mergeShortRuns, type OpenRun, type RunMotion } from './open-runs';
import { isTold, toldByWay } from './told-runs';

/** What a run that noise does not let be told counts as; `null` where it stays what it is. */
function toldBesides(runs: readonly OpenRun[], index: number): RunMotion | null {
  const [before, after] = [runs[index - 1]?.motion, runs[index + 1]?.motion];
  if (before !== undefined && before === after) return before;
  if (runs[index]?.motion === 'hold') return null;
  if (before === 'hold' || after === 'hold') return 'hold';
  return before ?? after ?? null;
}

/**
 * Runs after one another none of which is told by the way over it as one hold, where that is told: noise makes a hold
 * come and go, and the rate of some row lies beyond the threshold now and then.
 */
function joinUntold(
  runs: readonly OpenRun[],
  motion: MotionEstimate,
  holdRateMps: number,
): OpenRun[] {
  const joined: OpenRun[] = [];
  for (let from = 0; from < runs.length; ) {
    const next = runs.findIndex((run, at) => at >= from && toldByWay(motion, run, holdRateMps));
    const to = next < 0 ? runs.length : next;
    const [first, last] = [runs[from], runs[to - 1]];
    const beside = [joined.at(-1), runs[to]] as const;
    if (to - from > 1 && first !== undefined && last !== undefined) {
      const hold: OpenRun = { motion: 'hold', startS: first.startS, endS: last.endS };
      const isHold = isTold(motion, hold, beside, holdRateMps);
      joined.push(...(isHold ? [hold] : runs.slice(from, to)));
    } else joined.push(...runs.slice(from, to));
    joined.push(...runs.slice(to, to + 1));
    from = to + 1;
  }
  return joined;
}

/**
 * Takes away runs that noise does not let be told. One between two alike is as they are; else a move that is not
 * told is a hold where it lies beside one, and joins the earlier run where it does not. Moves come first: what
 * lies between moves of noise is a hold, told or not.
 */
export function mergeUntold(
  runs: readonly OpenRun[],
  motion: MotionEstimate,
  { holdRateMps, holdDwellS }: Readonly<{ holdRateMps: number; holdDwellS: number }>,
): OpenRun[] {
  let merged = mergeShortRuns(joinUntold(runs, motion, holdRateMps), holdDwellS);
  for (;;) {
    const untold = merged.flatMap((run, index) => {
      const beside = [merged[index - 1], merged[index + 1]] as const;
      if (merged.length < 2 || isTold(motion, run, beside, holdRateMps)) return [];
      const as = toldBesides(merged, index);
      return as === null ? [] : [{ index, as, moves: run.motion !== 'hold' }];
    });
    const next = untold.find(({ moves }) => moves) ?? untold[0];
    if (next === undefined) return merged;
    const { index, as } = next;
    merged = mergeShortRuns(
      merged.map((run, at) => (at === index ? { ...run, motion: as } : run)),
      holdDwellS,
    );
  }
}
