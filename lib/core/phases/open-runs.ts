/** Runs of motion while they are formed; short ones join their neighbours. */

/** `crossing` is a hold with a larger speed across, where the plan gives a speed for it. */
export type RunMotion = 'hold' | 'closing' | 'opening' | 'crossing';

/** `startHalfS` stands only where the start lies in a gap and was placed by the way travelled in it. */
export type OpenRun = { motion: RunMotion; startS: number; endS: number; startHalfS?: number };

/**
 * Merges short runs in the contract's order: always the earliest run shorter than the dwell; where
 * its two neighbours move alike all three become one, else it joins the earlier; the first run of
 * all joins the next. Everything before the earliest short run is long, so one pass from left to
 * right meets the runs in that very order.
 */
export function mergeShortRuns(runs: readonly OpenRun[], holdDwellS: number): OpenRun[] {
  const merged: OpenRun[] = [];
  const isShort = (run: OpenRun): boolean => run.endS - run.startS < holdDwellS;
  for (const run of runs) {
    const last = merged[merged.length - 1];
    if (last === undefined) {
      merged.push({ ...run });
    } else if (merged.length === 1 && isShort(last)) {
      merged[0] = { motion: run.motion, startS: last.startS, endS: run.endS };
    } else if (run.motion === last.motion || isShort(run)) {
      last.endS = run.endS;
    } else {
      merged.push({ ...run });
    }
  }
  return merged;
}
