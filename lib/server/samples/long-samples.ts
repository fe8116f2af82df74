/** The rows of a long source in a table of their own: row, stamp, channel's name, value. */
import { COMMENT } from '@/lib/core/intake/find-table';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { DayTurn } from '@/lib/core/time/carry-days';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import { isCounterCode, isElapsedCode, isUnixCode } from '@/lib/core/time/time-code';
import { badCellSql, cellName, cellNumberSql, csvScanSql } from './csv-scan';
import { type PassInput, provenStampSql } from './data-pass';
import { MOST_REJECTS } from './data-result';
import { appendDoubles, readDoubles } from './double-chunks';
import { sqlName } from './sql-text';
import { carryBlocks } from './stamp-blocks';
import { carryStamps, type StampDays } from './stamp-days';

export const SAMPLES = 'long_samples';

/**
 * Loads the rows in their order, `r`. `t` is NaN where SQL did not read the stamp, `name` NULL where
 * none is given, `number` NULL where the value is none; `bad` tells a value that is no number from
 * one that says "no sample".
 */
export async function loadSamples(input: PassInput, spec: TelemetrySpec): Promise<void> {
  const { connection, plan } = input;
  const at = (name: string | null) => input.header.indexOf(name ?? '');
  const [nameIndex, valueIndex] = [at(spec.nameColumn), at(spec.valueColumn)];
  const isNumber = input.time.code === 'elapsed-seconds';
  const cells = plan.stamps.map((index) => sqlName(cellName(index)));
  const stamp = (await provenStampSql(input)) ?? "'nan'::DOUBLE";
  const types = input.header.map(() => 'VARCHAR' as const);
  const scan = csvScanSql({ ...input, types, rejectsTable: 'long_rejects' });
  const start = `${sqlName(cellName(0))} AS start_text`;
  // The proven form takes elapsed seconds as numbers; here every cell is text.
  const typed = isNumber
    ? `(SELECT * REPLACE (${cellNumberSql(plan.stamps[0] ?? 0, input.dialect.decimal)} AS ${cells[0]}), ${cells[0]} AS stamp_text, ${start} FROM ${scan})`
    : `(SELECT *, ${cells[0]} AS stamp_text, ${start} FROM ${scan})`;
  const second = cells[1] === undefined ? "''" : `coalesce(${cells[1]}, '')`;
  const cell = sqlName(cellName(valueIndex));
  const number = cellNumberSql(valueIndex, input.dialect.decimal);
  await connection.run(
    `CREATE TEMP TABLE ${SAMPLES} AS SELECT CAST(row_number() OVER () - 1 AS DOUBLE) AS r,
       coalesce(${stamp}, 'nan'::DOUBLE) AS t, coalesce(stamp_text, '') AS stamp_text, ${second} AS second_text,
       coalesce(start_text, '') AS start_text, nullif(trim(${sqlName(cellName(nameIndex))}), '') AS name,
       ${cell} AS cell, ${number} AS number, ${badCellSql(cell, number, input.absentWords)} AS bad
     FROM ${typed}`,
  );
}

async function withRows(
  { connection }: PassInput,
  columns: Readonly<{ r: Float64Array; t?: Float64Array }>,
  sql: string,
): Promise<void> {
  const { r, t } = columns;
  await connection.run('CREATE TEMP TABLE long_rows (r DOUBLE, t DOUBLE)');
  const appender = await connection.createAppender('long_rows');
  appendDoubles(appender, [r, t ?? r]);
  appender.closeSync();
  await connection.run(sql);
  await connection.run('DROP TABLE long_rows');
}

export type Unread = Readonly<{
  /** Rows whose stamp is none, the first of them; `count` is of all. */
  unreadable: readonly Readonly<{ row: number; text: string }>[];
  count: number;
  /** Rows that are remarks with as many cells as a sample. */
  remarks: number;
}> &
  Omit<StampDays, 'tS'>;

type Patches = Readonly<{
  rows: number[];
  stamps: number[];
  remarks: number[];
  unreadable: { row: number; text: string }[];
}>;

/** Stamps that SQL did not read, through the core's reader. */
async function readAgain(input: PassInput): Promise<Patches & Readonly<{ count: number }>> {
  const read = makeStampReader(input.time, input.zero);
  const isElapsed = isElapsedCode(input.time.code);
  const comma = input.dialect.decimal === ',' && isElapsed;
  const patches: Patches = { rows: [], stamps: [], remarks: [], unreadable: [] };
  let count = 0;
  const result = await input.connection.stream(
    `SELECT r, stamp_text, second_text, start_text FROM ${SAMPLES} WHERE isnan(t) ORDER BY r`,
  );
  for (;;) {
    const chunk = await result.fetchChunk();
    if (chunk === null || chunk.rowCount === 0) break;
    for (const [row, text, second, start] of chunk.getRows()) {
      const stamp = String(text);
      const stampS = read(comma ? stamp.replace(',', '.') : stamp, String(second));
      if (Number.isFinite(stampS)) {
        patches.rows.push(Number(row));
        patches.stamps.push(stampS);
      } else if (COMMENT.test(String(start))) patches.remarks.push(Number(row));
      else {
        count += 1;
        if (patches.unreadable.length < MOST_REJECTS) {
          patches.unreadable.push({ row: Number(row), text: `${stamp} ${String(second)}`.trim() });
        }
      }
    }
  }
  return { ...patches, count };
}

/** Puts other stamps in the place of those of some rows. */
function replaceStamps(input: PassInput, r: Float64Array, t: Float64Array): Promise<void> {
  return withRows(
    input,
    { r, t },
    `UPDATE ${SAMPLES} SET t = long_rows.t FROM long_rows WHERE ${SAMPLES}.r = long_rows.r`,
  );
}

const NO_DAYS = { turns: [], open: null } as const;

/** The first row of every name, and whether the rows of each stand together, one name under the other. */
type Names = Readonly<{ firstRows: readonly number[]; isOneByOne: boolean }>;

async function namesOf({ connection }: PassInput): Promise<Names> {
  const [first = new Float64Array(0), last = first] = await readDoubles(
    connection,
    `SELECT min(r), max(r) FROM ${SAMPLES} WHERE name IS NOT NULL GROUP BY name ORDER BY 1`,
    1 << 10,
  );
  const firstRows = Array.from(first);
  const isOneByOne = firstRows.every((row, at) => at === 0 || row > (last[at - 1] ?? row));
  return { firstRows, isOneByOne };
}

/** No clock or counter that is carried on begins again sooner, s: half of the shortest. */
const LEAST_STEP_S = 30;

/** True where there may be something to carry, which few files need. */
function mayCarry(input: PassInput, tS: Float64Array): boolean {
  if (isUnixCode(input.time.code)) return carryStamps(input, tS).turns.length > 0;
  return tS.some((stampS, at) => Math.abs((tS[at - 1] ?? stampS) - stampS) > LEAST_STEP_S);
}

/** Where in the rows each channel begins. */
function startsOf(rows: ArrayLike<number>, firstRows: readonly number[]): readonly number[] {
  const starts = [0];
  let next = 1;
  for (let at = 1; at < rows.length; at += 1) {
    const row = rows[at] ?? 0;
    if (row < (firstRows[next] ?? Number.POSITIVE_INFINITY)) continue;
    starts.push(at);
    while (row >= (firstRows[next] ?? Number.POSITIVE_INFINITY)) next += 1;
  }
  return starts;
}

/** Carries stamps on: by channel where these stand one under the other, else all rows together. */
async function carryRows(
  input: PassInput,
  rows: ArrayLike<number>,
  stamps: Float64Array,
): Promise<StampDays> {
  if (!mayCarry(input, stamps)) return { tS: stamps, ...NO_DAYS };
  const { firstRows, isOneByOne } = await namesOf(input);
  if (!isOneByOne || firstRows.length < 2) {
    const carried = carryStamps(input, stamps, isOneByOne ? 'one a stamp' : 'several a stamp');
    // Where blocks of channels follow each other, each begins at its own start, which is no end of a counter.
    const starts = new Set(firstRows);
    const isStart = carried.turns.some(({ row }) => starts.has(rows[row] ?? -1));
    return isCounterCode(input.time.code) && isStart ? { tS: stamps, ...NO_DAYS } : carried;
  }
  return carryBlocks(input, stamps, startsOf(rows, firstRows));
}

/** A counter carried on over its end, or a count of seconds through a leap second. */
async function carryCounters(input: PassInput): Promise<Omit<StampDays, 'tS'>> {
  const { connection } = input;
  const [rows = new Float64Array(0), stamps = rows] = await readDoubles(
    connection,
    `SELECT r, t FROM ${SAMPLES} WHERE NOT isnan(t) ORDER BY r`,
    1 << 16,
  );
  const { tS, ...days } = await carryRows(input, rows, stamps);
  if (days.turns.length > 0) await replaceStamps(input, rows, tS);
  return { ...days, turns: days.turns.map((turn) => ({ ...turn, row: rows[turn.row] ?? 0 })) };
}

/** Reads again the stamps that SQL did not read; takes remarks out and tells what stays unread. */
export async function patchStamps(input: PassInput): Promise<Unread> {
  const { rows, stamps: read, remarks, unreadable, count } = await readAgain(input);
  const isCounter = isCounterCode(input.time.code) || isUnixCode(input.time.code);
  const again = Float64Array.from(read);
  const { tS: stamps, ...found } = isCounter
    ? { tS: again, ...NO_DAYS }
    : await carryRows(input, rows, again);
  const inFile = (turn: DayTurn): DayTurn => ({ ...turn, row: rows[turn.row] ?? 0 });
  if (rows.length > 0) await replaceStamps(input, Float64Array.from(rows), stamps);
  if (remarks.length > 0) {
    await withRows(
      input,
      { r: Float64Array.from(remarks) },
      `DELETE FROM ${SAMPLES} WHERE r IN (SELECT r FROM long_rows)`,
    );
  }
  const days = isCounter
    ? await carryCounters(input)
    : {
        turns: found.turns.map(inFile),
        open: found.open === null ? null : inFile(found.open),
      };
  return { unreadable, count, remarks: remarks.length, ...days };
}

/** Rows with a stamp whose value is no number, of the channels named; and rows without a name. */
export async function listBadRows(
  { connection }: PassInput,
  where: string,
): Promise<readonly Readonly<{ row: number; name: string; text: string }>[]> {
  const reader = await connection.runAndReadAll(
    `SELECT r, coalesce(name, ''), coalesce(cell, '') FROM ${SAMPLES} WHERE NOT isnan(t) AND ${where}
     ORDER BY r LIMIT ${MOST_REJECTS}`,
  );
  return reader.getRows().map(([row, name, text]) => {
    return { row: Number(row), name: String(name), text: String(text) };
  });
}

export type RowCounts = Readonly<{ all: number; nameless: number }>;

/** All rows, and those with a stamp but without a name. */
export async function countRows({ connection }: PassInput): Promise<RowCounts> {
  const [all, nameless] = await readDoubles(
    connection,
    `SELECT CAST(count(*) AS DOUBLE), CAST(count(*) FILTER (WHERE NOT isnan(t) AND name IS NULL) AS DOUBLE)
     FROM ${SAMPLES}`,
    1,
  );
  return { all: all?.[0] ?? 0, nameless: nameless?.[0] ?? 0 };
}
