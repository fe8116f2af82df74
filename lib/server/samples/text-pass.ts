/**
 * The careful pass, for sources in which something did not read: every cell comes as text, stamps go
 * through the core's reader, and what is no number costs its own cell. Slower, and only then.
 */
import type { DuckDBConnection } from '@duckdb/node-api';
import { COMMENT } from '@/lib/core/intake/find-table';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import { isElapsedCode } from '@/lib/core/time/time-code';
import { TIME_COLUMN } from './column-plan';
import { badCellSql, cellName, cellNumberSql, csvScanSql } from './csv-scan';
import { type PassInput, parquetOptions, storedNumberSql } from './data-pass';
import { MOST_REJECTS, type RejectReason } from './data-result';
import { appendDoubles } from './double-chunks';
import { readCounts } from './read-counts';
import { sqlName, sqlText } from './sql-text';
import { carryStamps, type StampDays } from './stamp-days';
import { checkStampOrder, type StampOrder } from './stamp-order';

/** A record with too few or too many cells, or one that could not be taken apart. */
export type SetAsideRecord = Readonly<{ record: number; text: string; reason: RejectReason }>;

/** A cell of row `row` (0-based, records set aside not counted) that is no number. */
export type BadCell = Readonly<{ row: number; channel: number; text: string }>;

export type TextPass = Omit<StampDays, 'tS'> &
  Readonly<{
    rowsScanned: number;
    order: StampOrder;
    unreadableStamps: readonly Readonly<{ row: number; text: string }>[];
    /** Rows that are remarks with as many cells as the header; they have no stamp either. */
    remarks: number;
    setAside: readonly SetAsideRecord[];
    badCells: readonly BadCell[];
    rejectedCells: readonly number[];
    notFinite: readonly number[];
  }>;

const CELLS = 'cells';
const STAMPS = 'stamps';

/** Name of a channel's number beside its cell. */
function numberName(at: number): string {
  return `n${at}`;
}

function reasonOf(errorType: string): RejectReason {
  if (errorType === 'MISSING COLUMNS') return 'too-few-cells';
  if (errorType === 'TOO MANY COLUMNS') return 'too-many-cells';
  return 'row-unreadable';
}

export async function readSetAside(
  connection: DuckDBConnection,
  table: string,
): Promise<SetAsideRecord[]> {
  const reader = await connection.runAndReadAll(
    `SELECT CAST(line AS DOUBLE), first(trim(csv_line, E'\\r\\n')), CAST(first(error_type) AS VARCHAR)
     FROM ${table} GROUP BY line ORDER BY line`,
  );
  return reader.getRows().map(([line, text, type]) => ({
    record: Number(line),
    text: String(text ?? ''),
    reason: reasonOf(String(type)),
  }));
}

type StampTexts = Readonly<{
  tS: Float64Array;
  unreadable: readonly Readonly<{ row: number; text: string }>[];
  remarks: readonly number[];
}>;

/** Every stamp through the core's reader, in file order. */
async function readStampTexts(input: PassInput): Promise<StampTexts> {
  const stamps = input.plan.stamps.map((index) => sqlName(cellName(index)));
  const cells = [...stamps, sqlName(cellName(0))];
  const read = makeStampReader(input.time, input.zero);
  const isElapsed = isElapsedCode(input.time.code);
  const comma = input.dialect.decimal === ',' && isElapsed;
  const result = await input.connection.stream(`SELECT ${cells} FROM ${CELLS} ORDER BY r`);
  const blocks: Float64Array[] = [];
  const unreadable: { row: number; text: string }[] = [];
  const remarks: number[] = [];
  let rows = 0;
  for (;;) {
    const chunk = await result.fetchChunk();
    if (chunk === null || chunk.rowCount === 0) break;
    const first = chunk.getColumnValues(0);
    const second = stamps.length > 1 ? chunk.getColumnValues(1) : [];
    const start = chunk.getColumnValues(stamps.length);
    const block = new Float64Array(chunk.rowCount);
    for (let index = 0; index < block.length; index += 1) {
      const text = String(first[index] ?? '');
      const rest = String(second[index] ?? '');
      const stampS = read(comma ? text.replace(',', '.') : text, rest);
      block[index] = stampS;
      if (!Number.isNaN(stampS)) continue;
      if (COMMENT.test(String(start[index] ?? ''))) remarks.push(rows + index);
      else if (unreadable.length < MOST_REJECTS) {
        unreadable.push({ row: rows + index, text: stamps.length > 1 ? `${text} ${rest}` : text });
      }
    }
    blocks.push(block);
    rows += block.length;
  }
  const tS = new Float64Array(rows);
  let at = 0;
  for (const block of blocks) {
    tS.set(block, at);
    at += block.length;
  }
  return { tS, unreadable, remarks };
}

async function writeStampTable(
  connection: DuckDBConnection,
  tS: Float64Array,
  order: StampOrder,
): Promise<void> {
  await connection.run(`CREATE TEMP TABLE ${STAMPS} (r DOUBLE, t DOUBLE)`);
  const out = new Set([...order.dropped, ...order.unreadable]);
  const rows = Float64Array.from(tS.keys()).filter((row) => !out.has(row));
  const appender = await connection.createAppender(STAMPS);
  appendDoubles(appender, [rows, Float64Array.from(rows, (row) => tS[row] ?? Number.NaN)]);
  appender.closeSync();
}

/** Takes remarks out of the cells; rows keep their numbers. */
async function leaveOutRemarks(connection: DuckDBConnection, rows: readonly number[]) {
  if (rows.length === 0) return;
  await connection.run('CREATE TEMP TABLE remark_rows (r DOUBLE)');
  const appender = await connection.createAppender('remark_rows');
  appendDoubles(appender, [Float64Array.from(rows)]);
  appender.closeSync();
  await connection.run(`DELETE FROM ${CELLS} WHERE r IN (SELECT r FROM remark_rows)`);
  await connection.run('DROP TABLE remark_rows');
}

/** What each channel's cells hold: those that are no number, and numbers that are not finite. */
async function countCells(
  { connection, plan }: PassInput,
  bad: readonly string[],
  numbers: readonly string[],
): Promise<Pick<TextPass, 'rejectedCells' | 'notFinite'>> {
  const cells = plan.channels.map((channel) => sqlName(cellName(channel.index)));
  const columns = cells.map((cell, at) => `${cell}, ${numbers[at]} AS ${numberName(at)}`);
  const counted = await readCounts(connection, CELLS, columns, (at) => [
    `count(${cells[at]}) - count(${numberName(at)})`,
    `count(*) FILTER (WHERE NOT isfinite(${numberName(at)}))`,
  ]);
  const open = counted.flatMap(([lacking = 0], at) => (lacking > 0 ? [at] : []));
  const openCells = open.map((at) => cells[at] ?? 'NULL');
  const badCounts = await readCounts(connection, CELLS, openCells, (at) => [
    `count(*) FILTER (WHERE ${bad[open[at] ?? 0]})`,
  ]);
  const rejectedCells = plan.channels.map(() => 0);
  for (const [at, channel] of open.entries()) rejectedCells[channel] = badCounts[at]?.[0] ?? 0;
  return { rejectedCells, notFinite: counted.map(([, notFinite = 0]) => notFinite) };
}

async function listBadCells(
  input: PassInput,
  bad: readonly string[],
  rejectedCells: readonly number[],
): Promise<BadCell[]> {
  const parts = input.plan.channels.flatMap((channel, index) =>
    (rejectedCells[index] ?? 0) === 0
      ? []
      : `SELECT r, ${index} AS channel, ${sqlName(cellName(channel.index))} AS cell FROM ${CELLS} WHERE ${bad[index]}`,
  );
  if (parts.length === 0) return [];
  const reader = await input.connection.runAndReadAll(
    `SELECT * FROM (${parts.join(' UNION ALL ')}) ORDER BY r, channel LIMIT ${MOST_REJECTS}`,
  );
  return reader.getRows().map(([row, channel, cell]) => ({
    row: Number(row),
    channel: Number(channel),
    text: String(cell ?? ''),
  }));
}

/** The rows that stand, in the order of time. Each number is read once, below where it is judged. */
async function writeRows(
  { connection, plan, dataFile, metadataOf }: PassInput,
  numbers: readonly string[],
): Promise<void> {
  const texts = plan.texts.map((text) => sqlName(cellName(text.index)));
  const read = ['r', ...numbers.map((number, at) => `${number} AS ${numberName(at)}`), ...texts];
  const columns = [
    `s.t AS ${TIME_COLUMN}`,
    ...plan.channels.map((channel, at) => {
      const number = storedNumberSql(numberName(at), channel);
      return `CASE WHEN isfinite(${number}) THEN ${number} END AS ${sqlName(channel.stored)}`;
    }),
    ...plan.texts.map((text, at) => `${texts[at]} AS ${sqlName(text.stored)}`),
  ];
  await connection.run(
    `COPY (SELECT ${columns} FROM (SELECT ${read} FROM ${CELLS}) JOIN ${STAMPS} AS s USING (r) ORDER BY s.t)
     TO ${sqlText(dataFile)} ${parquetOptions(metadataOf(plan.channels))}`,
  );
}

export async function runTextPass(input: PassInput): Promise<TextPass> {
  const { connection, plan } = input;
  const types = Array.from({ length: plan.columnCount }, () => 'VARCHAR' as const);
  const scan = csvScanSql({ ...input, types, rejectsTable: 'text_rejects' });
  await connection.run(
    `CREATE TEMP TABLE ${CELLS} AS SELECT CAST(row_number() OVER () - 1 AS DOUBLE) AS r, * FROM ${scan}`,
  );
  const setAside = await readSetAside(connection, 'text_rejects');
  const { tS: read, unreadable, remarks } = await readStampTexts(input);
  await leaveOutRemarks(connection, remarks);
  const { tS, ...days } = carryStamps(input, read);
  const order = checkStampOrder(tS);
  await writeStampTable(connection, tS, order);

  const numbers = plan.channels.map((channel) =>
    cellNumberSql(channel.index, input.dialect.decimal),
  );
  const bad = plan.channels.map((channel, index) =>
    badCellSql(sqlName(cellName(channel.index)), numbers[index] ?? 'NULL', input.absentWords),
  );
  await writeRows(input, numbers);
  const counts = await countCells(input, bad, numbers);
  const badCells = await listBadCells(input, bad, counts.rejectedCells);
  await connection.run(`DROP TABLE ${CELLS}`);
  await connection.run(`DROP TABLE ${STAMPS}`);
  return {
    rowsScanned: tS.length,
    order,
    unreadableStamps: unreadable,
    remarks: remarks.length,
    setAside,
    badCells,
    ...days,
    ...counts,
  };
}
