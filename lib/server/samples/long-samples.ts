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

/**
 * A counter carried on over its end. Where channels stand one under the other each begins at its own
 * start, which is no end of a counter: the channel after a turn must have come before it.
 */
async function carryCounters(input: PassInput): Promise<Omit<StampDays, 'tS'>> {
  const { connection } = input;
  const [rows = new Float64Array(0), stamps = rows] = await readDoubles(
    connection,
    `SELECT r, t FROM ${SAMPLES} WHERE NOT isnan(t) ORDER BY r`,
    1 << 16,
  );
  const { tS, ...days } = carryStamps(input, stamps);
  const turns = days.turns.map((turn) => ({ ...turn, row: rows[turn.row] ?? 0 }));
  for (const { row } of turns) {
    const [[before = 0] = []] = await readDoubles(
      connection,
      `SELECT CAST(count(*) AS DOUBLE) FROM ${SAMPLES}
       WHERE r < ${row} AND name = (SELECT name FROM ${SAMPLES} WHERE r = ${row})`,
      1,
    );
    if (before === 0) return NO_DAYS;
  }
  if (turns.length > 0) await replaceStamps(input, rows, tS);
  return { ...days, turns };
}

/** Reads again the stamps that SQL did not read; takes remarks out and tells what stays unread. */
export async function patchStamps(input: PassInput): Promise<Unread> {
  const { rows, stamps: read, remarks, unreadable, count } = await readAgain(input);
  const isCounter = isCounterCode(input.time.code) || isUnixCode(input.time.code);
  const again = Float64Array.from(read);
  const { tS: stamps, ...found } = isCounter
    ? { tS: again, ...NO_DAYS }
    : carryStamps(input, again);
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
