/** Which rows can stand in a series whose stamps ascend, and what is said of the others. */
import type { StampFault } from '@/lib/core/session/session-input';

export type StampRun = Readonly<Omit<StampFault, 'line'> & { row: number }>;

export type StampOrder = Readonly<{
  /** Rows in source order, 0-based. */
  dropped: readonly number[];
  unreadable: readonly number[];
  runs: readonly StampRun[];
}>;

/**
 * Walks the stamps in file order. A row whose stamp equals the latest one so far is a `duplicate`;
 * one before it is `out_of_order`. Rows of one kind that follow each other make one run: `startS`
 * is its smallest stamp, `endS` the latest stamp before it, so that `endS - startS` is the size of
 * the step back.
 *
 * @param tS stamps, s; NaN where a stamp could not be read
 */
export function checkStampOrder(tS: Float64Array): StampOrder {
  const dropped: number[] = [];
  const unreadable: number[] = [];
  const runs: { kind: StampFault['kind']; startS: number; endS: number; row: number }[] = [];
  let latestS = Number.NEGATIVE_INFINITY;
  let lastFaultRow = -2;
  for (let row = 0; row < tS.length; row += 1) {
    const stampS = tS[row] ?? Number.NaN;
    if (stampS > latestS && stampS !== Number.POSITIVE_INFINITY) {
      latestS = stampS;
      continue;
    }
    if (!Number.isFinite(stampS)) {
      unreadable.push(row);
      continue;
    }
    dropped.push(row);
    const kind = stampS === latestS ? 'duplicate' : 'out_of_order';
    const run = runs.at(-1);
    if (run !== undefined && lastFaultRow === row - 1 && run.kind === kind) {
      run.startS = Math.min(run.startS, stampS);
    } else {
      runs.push({ kind, startS: stampS, endS: latestS, row });
    }
    lastFaultRow = row;
  }
  return { dropped, unreadable, runs };
}
