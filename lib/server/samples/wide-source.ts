/** A wide source (one row a stamp) into data.parquet: the quick pass, else the careful one. */
import { rename } from 'node:fs/promises';
import { COMMENT } from '@/lib/core/intake/find-table';
import type { StampFault } from '@/lib/core/session/stamp-fault';
import { type PassCare, type PassInput, parquetOptions, runTypedPass } from './data-pass';
import { type DataResult, MOST_REJECTS, type Reject } from './data-result';
import { appendDoubles } from './double-chunks';
import { findRecordLines, type RecordLines } from './record-lines';
import { sqlText } from './sql-text';
import { carryStamps, placeTurns, turnRows } from './stamp-days';
import { checkStampOrder, type StampOrder, type StampRun } from './stamp-order';
import { runTextPass, type TextPass } from './text-pass';

function faultsOf(runs: readonly StampRun[], lines: RecordLines): StampFault[] {
  return runs.map(({ row, ...run }) => ({ ...run, line: lines.lineOfRow.get(row) ?? 0 }));
}

/** Lines of the rows and records that something is said about; the file is read only if any. */
async function linesFor(
  input: PassInput,
  rows: Iterable<number>,
  setAside: readonly number[],
): Promise<RecordLines> {
  const wanted = [...new Set(rows)].sort((a, b) => a - b);
  return findRecordLines({
    file: input.file,
    firstDataLine: input.dialect.rowsAfterLine + 1,
    quote: input.hasQuote ? input.dialect.quote.charCodeAt(0) : null,
    separator: Buffer.from(input.dialect.separator).at(-1) ?? 0,
    setAside: new Set(setAside),
    rows: wanted,
  });
}

/** Writes data.parquet again in the order of time, without the rows that cannot stand in it. */
async function leaveOut(input: PassInput, rows: readonly number[]): Promise<void> {
  const { connection, dataFile } = input;
  await connection.run('CREATE TEMP TABLE left_out (r DOUBLE)');
  const appender = await connection.createAppender('left_out');
  appendDoubles(appender, [Float64Array.from(rows)]);
  appender.closeSync();
  const shorter = `${dataFile}.shorter`;
  await connection.run(
    `COPY (SELECT * EXCLUDE (file_row_number) FROM read_parquet(${sqlText(dataFile)}, file_row_number = true)
     WHERE CAST(file_row_number AS DOUBLE) NOT IN (SELECT r FROM left_out) ORDER BY t)
     TO ${sqlText(shorter)} ${parquetOptions(input.metadataOf(input.plan.channels))}`,
  );
  await connection.run('DROP TABLE left_out');
  await rename(shorter, dataFile);
}

async function quickResult(
  input: PassInput,
  order: StampOrder,
  rowsRead: number,
  notFinite: readonly number[],
): Promise<DataResult> {
  if (order.dropped.length > 0 || order.isBackwards) await leaveOut(input, order.dropped);
  const rows = order.runs.map((run) => run.row);
  const stampFaults =
    rows.length === 0 ? [] : faultsOf(order.runs, await linesFor(input, rows, []));
  return {
    rows: rowsRead - order.dropped.length,
    rowsRead,
    rowsRejected: 0,
    remarks: 0,
    rowsOutOfOrder: order.dropped.length,
    rowsBack: order.back,
    isBackwards: order.isBackwards,
    stampFaults,
    rejects: [],
    rejectedCells: input.plan.channels.map(() => 0),
    notFinite,
  };
}

/** True for a line inside the table that is a remark and no row. */
function isRemark(text: string): boolean {
  return COMMENT.test(text);
}

function rejectsOf(input: PassInput, pass: TextPass, lines: RecordLines): Reject[] {
  const lineOf = (row: number) => lines.lineOfRow.get(row) ?? 0;
  const header = input.plan.channels;
  const rejects: Reject[] = [
    ...pass.setAside
      .filter((record) => !isRemark(record.text))
      .map((record) => ({
        line: lines.lineOfRecord.get(record.record) ?? record.record,
        column: null,
        text: record.text,
        reason: record.reason,
      })),
    ...pass.unreadableStamps.map((stamp) => ({
      line: lineOf(stamp.row),
      column: input.time.columns.join(', '),
      text: stamp.text,
      reason: 'stamp-unreadable' as const,
    })),
    ...pass.badCells.map((cell) => ({
      line: lineOf(cell.row),
      column: header[cell.channel]?.name ?? null,
      text: cell.text,
      reason: 'not-a-number' as const,
    })),
  ];
  return rejects.sort((a, b) => a.line - b.line).slice(0, MOST_REJECTS);
}

async function carefulResult(input: PassInput): Promise<DataResult> {
  const pass = await runTextPass(input);
  const lines = await linesFor(
    input,
    [
      ...pass.order.runs.map((run) => run.row),
      ...pass.unreadableStamps.map((stamp) => stamp.row),
      ...pass.badCells.map((cell) => cell.row),
      ...turnRows(pass),
    ],
    pass.setAside.map((record) => record.record),
  );
  const { dropped, unreadable, runs } = pass.order;
  const remarksAside = pass.setAside.filter((record) => isRemark(record.text)).length;
  const remarks = remarksAside + pass.remarks;
  const setAside = pass.setAside.length - remarksAside;
  return {
    rows: pass.rowsScanned - dropped.length - unreadable.length,
    rowsRead: pass.rowsScanned + setAside - pass.remarks,
    rowsRejected: setAside + unreadable.length - pass.remarks,
    remarks,
    rowsOutOfOrder: dropped.length,
    rowsBack: pass.order.back,
    isBackwards: pass.order.isBackwards,
    stampFaults: faultsOf(runs, lines),
    ...placeTurns(pass, (row) => lines.lineOfRow.get(row) ?? 0),
    rejects: rejectsOf(input, pass, lines),
    rejectedCells: pass.rejectedCells,
    notFinite: pass.notFinite,
  };
}

export async function importWide(input: PassInput, care: PassCare): Promise<DataResult> {
  const quick = await runTypedPass(input, care);
  if (quick === null) return carefulResult(input);
  const order = checkStampOrder(quick.tS);
  // A counter that begins again is carried on row by row, in the careful pass.
  if (order.dropped.length > 0 && carryStamps(input, quick.tS).turns.length > 0)
    return carefulResult(input);
  return quickResult(input, order, quick.tS.length, quick.notFinite);
}
