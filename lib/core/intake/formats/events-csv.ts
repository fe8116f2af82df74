/** Event logs as delimited text: a time column and at least one of `event`, `text`, `speaker`. */
import type { Issue, Parsed } from '../../result';
import { makeStampReader } from '../../time/stamp-reader';
import { type Dialect, detectDialect } from '../dialect';
import {
  type EventLog,
  type EventReader,
  type LogBuilder,
  type LogText,
  makeLogBuilder,
  refuseLog,
  textOrNull,
} from '../event-reader';
import { COMMENT } from '../find-table';
import { type CsvRow, readCsvRows } from '../split-lines';
import { findLogColumns, type LogColumns } from './log-columns';

const HEAD_CHARACTERS = 65_536;

type Columns = LogColumns & Readonly<{ time: readonly number[] }>;

/** Positions of the columns; -1 where there is none. Names of the three words match in any case. */
function findColumns(dialect: Dialect, timeColumns: readonly string[]): Columns {
  const time = timeColumns.map((name) => dialect.columns.indexOf(name));
  return { time, ...findLogColumns(dialect.columns) };
}

/** Most characters of a header's names that a message quotes. */
const MOST_SHOWN = 400;

function namesShown(names: readonly string[]): string {
  const all = names.join(', ');
  return all.length <= MOST_SHOWN ? all : `${all.slice(0, MOST_SHOWN)}… (${names.length} names)`;
}

function columnIssue(
  log: LogText,
  dialect: Dialect,
  columns: Columns,
): Omit<Issue, 'severity' | 'file'> | null {
  const received = namesShown(dialect.columns);
  const line = dialect.headerLine;
  const words = [...(log.time?.columns ?? []), 'event', 'text', 'speaker'];
  const twice = dialect.repeated.find(
    (name) => words.includes(name) || words.includes(name.toLowerCase()),
  );
  if (twice !== undefined) {
    return {
      code: 'column-ambiguous',
      line,
      message: `the header names "${twice}" more than once; give each of these columns a name of its own`,
      expected: 'each name once',
      received: twice,
    };
  }
  const missing = (log.time?.columns ?? []).filter((_, index) => (columns.time[index] ?? -1) < 0);
  if (missing.length > 0) {
    const expected = missing.map((name) => `"${name}"`).join(', ');
    return {
      code: 'column-missing',
      line,
      message: `there is no column ${expected}; the header names ${received}`,
      expected,
      received,
    };
  }
  if (columns.event >= 0 || columns.text >= 0 || columns.speaker >= 0) return null;
  return {
    code: 'column-missing',
    line,
    message: `needs at least one of the columns event, text, speaker; the header names ${received}`,
    expected: 'event, text or speaker',
    received,
  };
}

type ReadStamp = (row: CsvRow) => Readonly<{ stamp: string; sourceS: number }>;

function readRow(
  row: CsvRow & Readonly<{ isOpen: boolean }>,
  columns: Columns,
  width: number,
  readStamp: ReadStamp,
  builder: LogBuilder,
): void {
  const { line, cells } = row;
  if (row.isOpen) {
    builder.reject({
      code: 'quote-open',
      line,
      message: 'a quoted cell is not closed before the file ends',
    });
    return;
  }
  if (cells.length !== width) {
    builder.reject({
      code: 'cells-count',
      line,
      message: `has ${cells.length} cells, the header has ${width}; text with a separator in it needs quotes`,
      expected: `${width} cells`,
      received: `${cells.length} cells`,
    });
    return;
  }
  const { stamp, sourceS } = readStamp(row);
  if (Number.isNaN(sourceS)) {
    builder.reject({
      code: 'stamp-not-readable',
      line,
      message: `"${stamp.slice(0, 60)}" is no time stamp of the code stated`,
      received: stamp.slice(0, 60),
    });
    return;
  }
  const entry = {
    sourceS,
    sourceEndS: null,
    event: textOrNull(cells[columns.event]),
    text: textOrNull(cells[columns.text]),
    speaker: textOrNull(cells[columns.speaker]),
    line,
  };
  if (entry.event === null && entry.text === null && entry.speaker === null) {
    builder.reject({
      code: 'entry-empty',
      line,
      message: 'has a time but neither event, text nor speaker',
    });
    return;
  }
  builder.accept(entry);
}

/** A line that is a remark: it reads as no row, and starts with the mark of one. */
function isRemark(row: CsvRow, width: number, readStamp: ReadStamp): boolean {
  if (!COMMENT.test(row.cells[0] ?? '')) return false;
  return row.cells.length !== width || Number.isNaN(readStamp(row).sourceS);
}

/**
 * Reads an event log in delimited text. Blank lines and remarks (`#`, `%`, `//`) are no rows.
 *
 * @param log text, file name, time specification and zero
 * @returns entries on the source's own clock, by time; rows that cannot be read are counted and
 *   listed as warnings; null where the file has no such table
 *
 * Source: RFC 4180 for quotes and line ends; other separators are found by reading.
 */
export function readEventsCsv(log: LogText): Parsed<EventLog> {
  const { text, fileName, time, zero, separator: stated = null } = log;
  if (time === null) {
    return refuseLog(fileName, {
      code: 'key-missing',
      message: 'the session file gives no time for this log: column, code and scale of its stamps',
      expected: 'time: { column, code, scale }',
    });
  }
  const dialect = detectDialect(text.slice(0, HEAD_CHARACTERS), {
    separator: stated,
    decimal: null,
    encoding: null,
  });
  if (dialect.value === null) {
    return { value: null, issues: dialect.issues.map((issue) => ({ file: fileName, ...issue })) };
  }
  const { separator, rowsAfterLine, columns: names } = dialect.value;
  const columns = findColumns(dialect.value, time.columns);
  const wrong = columnIssue(log, dialect.value, columns);
  if (wrong !== null) return refuseLog(fileName, wrong);
  const readSeconds = makeStampReader(time, zero);
  const readStamp: ReadStamp = (row) => {
    const [stamp = '', second = ''] = columns.time.map((index) => row.cells[index] ?? '');
    return { stamp, sourceS: readSeconds(stamp, second) };
  };
  const builder = makeLogBuilder(fileName);
  if (columns.takenAsText !== null) {
    builder.remark({
      code: 'column-taken',
      line: dialect.value.headerLine,
      message: `the column "${columns.takenAsText}" is read as what was said; call it text to say so`,
    });
  }
  let rowsRead = 0;
  for (const row of readCsvRows(text, separator)) {
    const isBlank = row.cells.every((cell) => cell.trim() === '');
    if (row.line <= rowsAfterLine || isBlank || isRemark(row, names.length, readStamp)) continue;
    rowsRead += 1;
    readRow(row, columns, names.length, readStamp, builder);
  }
  return builder.finish(rowsRead);
}

export const EVENTS_CSV: EventReader = {
  format: 'csv',
  endings: ['csv', 'tsv', 'tab'],
  hasSignature: () => false,
  read: readEventsCsv,
};
