/** Which rows can stand in a series whose stamps ascend, and what is said of the others. */
import { findGaps } from '@/lib/core/series/faults';
import type { StampFault } from '@/lib/core/session/stamp-fault';

export type StampRun = Readonly<Omit<StampFault, 'line'> & { row: number }>;

export type StampOrder = Readonly<{
  /** Rows in source order, 0-based. */
  dropped: readonly number[];
  unreadable: readonly number[];
  runs: readonly StampRun[];
  /** How many of the rows dropped step back; the others repeat a stamp. */
  back: number;
  /** The source runs from the latest stamp to the earliest; faults are those of its order reversed. */
  isBackwards: boolean;
}>;

type Kept = Readonly<{ row: number; stampS: number }>;

/** Rows that step back but ascend among themselves: perhaps the rows before them ran ahead. */
type Comeback = { firstS: number; lastS: number; count: number; ahead: number };

/** At most this many rows can have run ahead, and this many times more must come after them. */
const MOST_AHEAD = 3;
const COMEBACK_RATIO = 10;

type Walk = {
  readonly faults: StampRun[];
  /** The latest rows kept, enough to take back those that ran ahead. */
  tail: Kept[];
  latestS: number;
  comeback: Comeback | null;
};

function keep(walk: Walk, row: number, stampS: number): void {
  walk.latestS = stampS;
  walk.tail.push({ row, stampS });
  if (walk.tail.length > MOST_AHEAD + 1) walk.tail.shift();
  walk.comeback = null;
}

function nextComeback(walk: Walk, stampS: number): Comeback | null {
  const { comeback, tail } = walk;
  if (comeback !== null && stampS > comeback.lastS) {
    return { ...comeback, lastS: stampS, count: comeback.count + 1 };
  }
  const ahead = tail.filter((kept) => kept.stampS >= stampS).length;
  return ahead > MOST_AHEAD ? null : { firstS: stampS, lastS: stampS, count: 1, ahead };
}

/** Takes back the few rows that ran ahead, so that the many that follow can stand. */
function acceptComeback(walk: Walk, comeback: Comeback): void {
  const back = walk.faults.splice(walk.faults.length - comeback.count, comeback.count);
  const ahead = walk.tail.splice(walk.tail.length - comeback.ahead, comeback.ahead);
  for (const { row, stampS } of ahead) {
    walk.faults.push({ kind: 'out_of_order', startS: comeback.firstS, endS: stampS, row });
  }
  for (const { row, startS } of back.slice(-MOST_AHEAD - 1)) keep(walk, row, startS);
}

/** Jumps beyond this many are not named one by one; the gaps of the series have them all. */
const MOST_JUMPS = 1_000;

/**
 * Where the stamps of a series jump forward: the row after each gap of it.
 *
 * @param tS stamps that ascend, s
 * @param rowOf row in the source of a position in the series
 */
export function findJumps(tS: Float64Array, rowOf: (at: number) => number): StampRun[] {
  const { gaps } = findGaps(tS);
  return gaps.slice(0, MOST_JUMPS).map(({ from, to }) => ({
    kind: 'jump',
    startS: tS[from] ?? Number.NaN,
    endS: tS[to] ?? Number.NaN,
    row: rowOf(to),
  }));
}

/** The jumps among the rows that stand. */
function jumpsOfKept(
  tS: Float64Array,
  out: ReadonlySet<number>,
  { isBackwards }: Pick<StampOrder, 'isBackwards'>,
): StampRun[] {
  if (out.size === 0 && !isBackwards) return findJumps(tS, (at) => at);
  const rows = [...tS.keys()].filter((row) => !out.has(row));
  // Rows that were taken back stand out of order until they are written.
  rows.sort((a, b) => (tS[a] ?? 0) - (tS[b] ?? 0));
  const stamps = Float64Array.from(rows, (row) => tS[row] ?? Number.NaN);
  return findJumps(stamps, (at) => rows[at] ?? at);
}

/** Faults of one kind in rows that follow each other become one. */
function gatherRuns(faults: readonly StampRun[]): StampRun[] {
  const runs: StampRun[] = [];
  let lastRow = -2;
  for (const fault of faults) {
    const run = runs.at(-1);
    if (run !== undefined && lastRow === fault.row - 1 && run.kind === fault.kind) {
      runs[runs.length - 1] = joinRuns(run, fault);
    } else runs.push(fault);
    lastRow = fault.row;
  }
  return runs;
}

/** The two runs as one: the smallest stamp and the latest one that they stand against. */
export function joinRuns<Run extends StampRun>(run: Run, fault: StampRun): Run {
  const startS = Math.min(run.startS, fault.startS);
  return { ...run, startS, endS: Math.max(run.endS, fault.endS) };
}

export function countBack(faults: readonly StampRun[]): number {
  return faults.filter(({ kind }) => kind === 'out_of_order').length;
}

/** A source runs backwards where nearly all of its steps do, and there are some. */
const BACKWARDS_SHARE = 0.95;
const FEWEST_STEPS = 10;

function runsBackwards(tS: Float64Array): boolean {
  let [up, down] = [0, 0];
  for (let row = 1; row < tS.length; row += 1) {
    const stepS = (tS[row] ?? 0) - (tS[row - 1] ?? 0);
    if (stepS > 0) up += 1;
    else if (stepS < 0) down += 1;
  }
  return up + down >= FEWEST_STEPS && down > BACKWARDS_SHARE * (up + down);
}

export type StampFaults = Readonly<{
  faults: readonly StampRun[];
  unreadable: readonly number[];
  isBackwards: boolean;
}>;

/** Each row that repeats or steps back by itself, in file order, and the rows without a stamp. */
export function findStampFaults(tS: Float64Array): StampFaults {
  if (!runsBackwards(tS)) return { ...walkStamps(tS), isBackwards: false };
  const { faults, unreadable } = walkStamps(tS.slice().reverse());
  const turned = (row: number) => tS.length - 1 - row;
  return {
    faults: faults.map((fault) => ({ ...fault, row: turned(fault.row) })).reverse(),
    unreadable: unreadable.map(turned).reverse(),
    isBackwards: true,
  };
}

function walkStamps(tS: Float64Array): Omit<StampFaults, 'isBackwards'> {
  const unreadable: number[] = [];
  const walk: Walk = { faults: [], tail: [], latestS: Number.NEGATIVE_INFINITY, comeback: null };
  for (let row = 0; row < tS.length; row += 1) {
    const stampS = tS[row] ?? Number.NaN;
    if (!Number.isFinite(stampS)) {
      unreadable.push(row);
      walk.comeback = null;
      continue;
    }
    if (stampS > walk.latestS) {
      keep(walk, row, stampS);
      continue;
    }
    const kind = stampS === walk.latestS ? 'duplicate' : 'out_of_order';
    walk.faults.push({ kind, startS: stampS, endS: walk.latestS, row });
    walk.comeback = nextComeback(walk, stampS);
    const { comeback } = walk;
    if (comeback !== null && comeback.count >= COMEBACK_RATIO * comeback.ahead) {
      acceptComeback(walk, comeback);
    }
  }
  return { faults: [...walk.faults].sort((a, b) => a.row - b.row), unreadable };
}

/**
 * Walks the stamps in file order. A row whose stamp equals the latest one so far is a `duplicate`;
 * one before it is `out_of_order`, unless no more than three rows ran ahead of ten times as many that
 * follow: then those few are. Rows of one kind that follow each other make one run: `startS` is its
 * smallest stamp, `endS` the latest stamp it stands against, so that `endS - startS` is the size of
 * the step. A source that runs backwards is walked from its end. Steps forward over a gap are runs of kind `jump`, one a gap.
 *
 * @param tS stamps, s; NaN where a stamp could not be read
 */
export function checkStampOrder(tS: Float64Array): StampOrder {
  const { faults, unreadable, isBackwards } = findStampFaults(tS);
  const dropped = faults.map((fault) => fault.row);
  const jumps = jumpsOfKept(tS, new Set([...dropped, ...unreadable]), { isBackwards });
  const runs = [...gatherRuns(faults), ...jumps].sort((a, b) => a.row - b.row);
  return { dropped, unreadable, runs, back: countBack(faults), isBackwards };
}
