/** Rows of a long source that repeat or step back among those of their own channel, as runs. */
import type { PassInput } from './data-pass';
import { appendDoubles, readDoubles } from './double-chunks';
import { SAMPLES } from './long-samples';
import { sqlText } from './sql-text';
import { countBack, findJumps, findStampFaults, joinRuns, type StampRun } from './stamp-order';

export const LONG_FAULTS = 'long_faults';

/** A faulty row: its channel, and its place among the rows of that. */
type ChannelFault = Readonly<{ fault: StampRun; name: string; at: number }>;

export type LongFaults = Readonly<{
  runs: readonly StampRun[];
  rowsOut: number;
  rowsBack: number;
  isBackwards: boolean;
}>;

/** Channels in which some stamp is not after all those before it. */
async function faultyNames({ connection }: PassInput): Promise<readonly string[]> {
  const reader = await connection.runAndReadAll(
    `SELECT DISTINCT name FROM (
       SELECT name, t, max(t) OVER (PARTITION BY name ORDER BY r ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS latest
       FROM ${SAMPLES} WHERE NOT isnan(t) AND name IS NOT NULL) WHERE t <= latest`,
  );
  return reader.getRows().map(([name]) => String(name));
}

type ChannelFaults = Readonly<{ faults: readonly ChannelFault[]; isBackwards: boolean }>;

async function faultsOf({ connection }: PassInput, name: string): Promise<ChannelFaults> {
  const [rows, stamps] = await readDoubles(
    connection,
    `SELECT r, t FROM ${SAMPLES} WHERE NOT isnan(t) AND name = ${sqlText(name)} ORDER BY r`,
    1 << 10,
  );
  const { faults, isBackwards } = findStampFaults(stamps ?? new Float64Array(0));
  const placed = faults.map((fault) => {
    return { fault: { ...fault, row: rows?.[fault.row] ?? 0 }, name, at: fault.row };
  });
  return { faults: placed, isBackwards };
}

/**
 * Faults of one kind make one run where their rows follow each other in the file or in their
 * channel: rows of several channels stand between each other.
 */
function gatherFaults(faults: readonly ChannelFault[]): readonly StampRun[] {
  const runs: StampRun[] = [];
  const lastOf = new Map<string, Readonly<{ at: number; run: number }>>();
  let before = { row: -2, run: -1 };
  for (const { fault, name, at } of faults) {
    const own = lastOf.get(name);
    const beside = [
      before.row === fault.row - 1 ? before.run : -1,
      own !== undefined && own.at === at - 1 ? own.run : -1,
    ];
    let run = beside.find((each) => runs[each]?.kind === fault.kind) ?? -1;
    const known = runs[run];
    if (known === undefined) run = runs.push(fault) - 1;
    else runs[run] = joinRuns(known, fault);
    lastOf.set(name, { at, run });
    before = { row: fault.row, run };
  }
  return runs;
}

/** Where the stamps of all channels together jump, with the first row of each that comes after. */
async function jumpsOfAll({ connection }: PassInput): Promise<readonly StampRun[]> {
  const [stamps, rows] = await readDoubles(
    connection,
    `SELECT t, min(r) FROM ${SAMPLES} WHERE NOT isnan(t) AND name IS NOT NULL
     AND r NOT IN (SELECT r FROM ${LONG_FAULTS}) GROUP BY t ORDER BY t`,
    1 << 10,
  );
  return findJumps(stamps ?? new Float64Array(0), (at) => rows?.[at] ?? 0);
}

/** Finds the faulty rows, puts them into the table `LONG_FAULTS` and gathers them. */
export async function findLongFaults(input: PassInput): Promise<LongFaults> {
  const { connection } = input;
  const found: ChannelFault[] = [];
  let isBackwards = false;
  for (const name of await faultyNames(input)) {
    const own = await faultsOf(input, name);
    for (const fault of own.faults) found.push(fault);
    isBackwards ||= own.isBackwards;
  }
  found.sort((a, b) => a.fault.row - b.fault.row);
  await connection.run(`CREATE TEMP TABLE ${LONG_FAULTS} (r DOUBLE)`);
  const appender = await connection.createAppender(LONG_FAULTS);
  appendDoubles(appender, [Float64Array.from(found, ({ fault }) => fault.row)]);
  appender.closeSync();
  const jumps = await jumpsOfAll(input);
  const runs = [...gatherFaults(found), ...jumps].sort((a, b) => a.row - b.row);
  const rowsBack = countBack(found.map(({ fault }) => fault));
  return { runs, rowsOut: found.length, rowsBack, isBackwards };
}
