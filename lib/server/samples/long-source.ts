/**
 * A long source (a row a sample: stamp, channel's name, value) into the wide data.parquet. Each
 * channel keeps its own stamps; a row of the result has the samples that share its stamp.
 */
import { COMMENT } from '@/lib/core/intake/find-table';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { StampFault } from '@/lib/core/session/stamp-fault';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import {
  type ColumnPlan,
  missingNumbers,
  type PlannedChannel,
  planStoredNames,
} from './column-plan';
import { cellName, cellNumberSql, csvScanSql } from './csv-scan';
import { type PassInput, provenStampSql } from './data-pass';
import { type DataResult, MOST_REJECTS, type Reject } from './data-result';
import { appendDoubles, readDoubles } from './double-chunks';
import { findRecordLines } from './record-lines';
import { sqlName, sqlText } from './sql-text';
import { readSetAside } from './text-pass';
import { writeLongData } from './write-long-data';

export const MOST_LONG_CHANNELS = 2000;
const SAMPLES = 'long_samples';

export type LongResult = Readonly<{ plan: ColumnPlan; data: DataResult; issues: readonly Issue[] }>;

/** What the head of a long source must have. */
export function checkLongHeader(header: readonly string[], spec: TelemetrySpec): Issue[] {
  const wanted = [...spec.time.columns, spec.nameColumn ?? '', spec.valueColumn ?? ''];
  return wanted
    .filter((name) => !header.includes(name))
    .map((name) => ({
      code: 'column-missing',
      severity: 'error',
      file: spec.file,
      message: `the column "${name}" is not in the header; the file has ${header.map((each) => `"${each}"`).join(', ')}`,
      expected: name,
      received: header.join(', '),
    }));
}

/** Position of every row's stamp, name and number in one table; rows keep their order as `r`. */
async function loadSamples(input: PassInput, spec: TelemetrySpec): Promise<void> {
  const { connection, plan } = input;
  const at = (name: string | null) => input.header.indexOf(name ?? '');
  const [nameIndex, valueIndex] = [at(spec.nameColumn), at(spec.valueColumn)];
  const isNumber = input.time.code === 'elapsed-seconds';
  const cells = plan.stamps.map((index) => sqlName(cellName(index)));
  const stamp = (await provenStampSql(input)) ?? "'nan'::DOUBLE";
  const types = input.header.map(() => 'VARCHAR' as const);
  const scan = csvScanSql({ ...input, types, rejectsTable: 'long_rejects' });
  // The proven form takes elapsed seconds as numbers; here every cell is text.
  const typed = isNumber
    ? `(SELECT * REPLACE (${cellNumberSql(plan.stamps[0] ?? 0, input.dialect.decimal)} AS ${cells[0]}), ${cells[0]} AS stamp_text FROM ${scan})`
    : `(SELECT *, ${cells[0]} AS stamp_text FROM ${scan})`;
  const second = cells[1] === undefined ? "''" : `coalesce(${cells[1]}, '')`;
  await connection.run(
    `CREATE TEMP TABLE ${SAMPLES} AS SELECT CAST(row_number() OVER () - 1 AS DOUBLE) AS r,
       coalesce(${stamp}, 'nan'::DOUBLE) AS t, coalesce(stamp_text, '') AS stamp_text, ${second} AS second_text,
       ${sqlName(cellName(nameIndex))} AS name, ${sqlName(cellName(valueIndex))} AS cell,
       ${cellNumberSql(valueIndex, input.dialect.decimal)} AS number
     FROM ${typed}`,
  );
}

/** Stamps that SQL did not read, through the core's reader; what stays unread is told. */
async function patchStamps(input: PassInput): Promise<{ row: number; text: string }[]> {
  const { connection } = input;
  const reader = await connection.runAndReadAll(
    `SELECT r, stamp_text, second_text FROM ${SAMPLES} WHERE isnan(t) ORDER BY r`,
  );
  const rows = reader.getRows();
  if (rows.length === 0) return [];
  const read = makeStampReader(input.time, input.zero);
  const isElapsed = input.time.code === 'elapsed-seconds' || input.time.code === 'elapsed-dhms';
  const comma = input.dialect.decimal === ',' && isElapsed;
  const unreadable: { row: number; text: string }[] = [];
  const found: { row: number; stampS: number }[] = [];
  for (const [row, text, second] of rows) {
    const stamp = String(text);
    const stampS = read(comma ? stamp.replace(',', '.') : stamp, String(second));
    if (Number.isFinite(stampS)) found.push({ row: Number(row), stampS });
    else unreadable.push({ row: Number(row), text: `${stamp} ${String(second)}`.trim() });
  }
  await connection.run('CREATE TEMP TABLE patches (r DOUBLE, t DOUBLE)');
  const appender = await connection.createAppender('patches');
  appendDoubles(appender, [
    Float64Array.from(found, (patch) => patch.row),
    Float64Array.from(found, (patch) => patch.stampS),
  ]);
  appender.closeSync();
  await connection.run(
    `UPDATE ${SAMPLES} SET t = patches.t FROM patches WHERE ${SAMPLES}.r = patches.r`,
  );
  await connection.run('DROP TABLE patches');
  return unreadable;
}

/** Marks rows that repeat or step back among those of their own channel. */
async function findFaults(
  input: PassInput,
): Promise<(Omit<StampFault, 'line'> & { row: number })[]> {
  const { connection } = input;
  await connection.run(
    `CREATE TEMP TABLE long_faults AS SELECT r, t, latest FROM (
       SELECT r, t, max(t) OVER (PARTITION BY name ORDER BY r ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS latest
       FROM ${SAMPLES} WHERE NOT isnan(t) AND name IS NOT NULL) WHERE t <= latest`,
  );
  const [rows, stamps, latest] = await readDoubles(
    connection,
    'SELECT r, t, latest FROM long_faults ORDER BY r',
    16,
  );
  return Array.from(rows ?? [], (row, index) => {
    const startS = stamps?.[index] ?? Number.NaN;
    const endS = latest?.[index] ?? Number.NaN;
    return { row, startS, endS, kind: startS === endS ? 'duplicate' : 'out_of_order' };
  });
}

type NameCount = Readonly<{ name: string; filled: number; numbers: number; notFinite: number }>;

async function countNames(input: PassInput): Promise<NameCount[]> {
  const reader = await input.connection.runAndReadAll(
    `SELECT name, CAST(count(cell) AS DOUBLE), CAST(count(number) AS DOUBLE),
       CAST(count(*) FILTER (WHERE NOT isfinite(number)) AS DOUBLE)
     FROM ${SAMPLES} WHERE name IS NOT NULL GROUP BY name ORDER BY min(r)`,
  );
  return reader.getRows().map(([name, filled, numbers, notFinite]) => ({
    name: String(name),
    filled: Number(filled),
    numbers: Number(numbers),
    notFinite: Number(notFinite),
  }));
}

function planChannels(spec: TelemetrySpec, names: readonly NameCount[]): PlannedChannel[] {
  const mapped = new Map(spec.channels.map((channel) => [channel.column, channel]));
  const store = planStoredNames();
  return names.flatMap(({ name, filled, numbers }, index) => {
    const channel = mapped.get(name);
    if (channel === undefined && filled > 0 && 2 * numbers < filled) return [];
    return [
      {
        index,
        name,
        stored: store(name),
        as: channel?.as ?? name,
        unit: channel?.siUnit ?? '',
        sourceUnit: channel?.unit ?? null,
        mapped: channel !== undefined,
        factor: channel === undefined ? 1 : channel.sign * channel.scale * channel.toSi,
        missing: missingNumbers(spec),
      },
    ];
  });
}

function nameIssues(spec: TelemetrySpec, names: readonly NameCount[]): Issue[] {
  const known = new Set(names.map((each) => each.name));
  // A source without a row has a fault of its own, told by the check of the result.
  if (known.size === 0) return [];
  const issues: Issue[] = spec.channels
    .filter((channel) => !known.has(channel.column))
    .map((channel) => ({
      code: 'channel-missing',
      severity: 'error',
      file: spec.file,
      message: `no row is named "${channel.column}"; the file has ${[...known].slice(0, 12).join(', ')}${known.size > 12 ? ` and ${known.size - 12} more` : ''}`,
      expected: channel.column,
    }));
  if (names.length > MOST_LONG_CHANNELS) {
    issues.push({
      code: 'too-many-channels',
      severity: 'error',
      file: spec.file,
      message: `the column "${spec.nameColumn}" holds ${names.length} different names; at most ${MOST_LONG_CHANNELS} are read`,
      expected: `at most ${MOST_LONG_CHANNELS}`,
      received: String(names.length),
    });
  }
  for (const { column } of spec.channels) {
    const count = names.find((each) => each.name === column);
    if (count === undefined || 2 * count.numbers >= count.filled) continue;
    issues.push({
      code: 'channel-not-numeric',
      severity: 'error',
      file: spec.file,
      message: `${count.filled - count.numbers} of ${count.filled} values of "${column}" are no numbers; the decimal sign or the column may be another`,
      expected: 'numbers',
    });
  }
  return issues;
}

async function listBadCells(input: PassInput, channels: readonly PlannedChannel[]) {
  const names = channels.map((channel) => sqlText(channel.name)).join(', ');
  if (names === '') return [];
  const reader = await input.connection.runAndReadAll(
    `SELECT r, name, cell FROM ${SAMPLES} WHERE cell IS NOT NULL AND number IS NULL AND name IN (${names})
     ORDER BY r LIMIT ${MOST_REJECTS}`,
  );
  return reader.getRows().map(([row, name, cell]) => ({
    row: Number(row),
    name: String(name),
    text: String(cell),
  }));
}

async function listNameless(input: PassInput) {
  const reader = await input.connection.runAndReadAll(
    `SELECT r, coalesce(cell, '') FROM ${SAMPLES} WHERE name IS NULL ORDER BY r LIMIT ${MOST_REJECTS}`,
  );
  return reader.getRows().map(([row, text]) => ({ row: Number(row), text: String(text) }));
}

/** What stands for a source that is not written: its issues tell why. */
function refused(input: PassInput, issues: readonly Issue[]): LongResult {
  const none = {
    rows: 0,
    rowsRead: 0,
    rowsRejected: 0,
    remarks: 0,
    rowsOutOfOrder: 0,
    stampFaults: [],
    rejects: [],
    rejectedCells: [],
    notFinite: [],
  };
  return { plan: { ...input.plan, channels: [], texts: [] }, issues, data: none };
}

/** Imports a long source; `plan` of the result has the channels that the rows name. */
export async function importLong(input: PassInput, spec: TelemetrySpec): Promise<LongResult> {
  const { connection } = input;
  await loadSamples(input, spec);
  const aside = await readSetAside(connection, 'long_rejects');
  const setAside = aside.filter((record) => !COMMENT.test(record.text));
  const unreadable = await patchStamps(input);
  const faults = await findFaults(input);
  const names = await countNames(input);
  const issues = nameIssues(spec, names);
  const channels = planChannels(spec, names.slice(0, MOST_LONG_CHANNELS));
  if (hasErrors(issues)) return refused(input, issues);
  const rows = await writeLongData(input, SAMPLES, channels);
  const badCells = await listBadCells(input, channels);
  const nameless = await listNameless(input);
  const [counts] = await readDoubles(
    connection,
    `SELECT CAST(count(*) AS DOUBLE) FROM ${SAMPLES}`,
    1,
  );
  await connection.run(`DROP TABLE ${SAMPLES}`);
  await connection.run('DROP TABLE long_faults');

  const marked = [...faults, ...unreadable, ...nameless, ...badCells].map((each) => each.row);
  const lines = await findRecordLines({
    file: input.file,
    firstDataLine: input.dialect.rowsAfterLine + 1,
    quote: input.hasQuote ? input.dialect.quote.charCodeAt(0) : null,
    setAside: new Set(aside.map((record) => record.record)),
    rows: [...new Set(marked)].sort((a, b) => a - b),
  });
  const lineOf = (row: number) => lines.lineOfRow.get(row) ?? 0;
  const rejects: Reject[] = [
    ...setAside.map(({ record, text, reason }) => ({
      line: lines.lineOfRecord.get(record) ?? record,
      column: null,
      text,
      reason,
    })),
    ...unreadable.map(({ row, text }) => ({
      line: lineOf(row),
      column: input.time.columns.join(', '),
      text,
      reason: 'stamp-unreadable' as const,
    })),
    ...nameless.map(({ row, text }) => ({
      line: lineOf(row),
      column: null,
      text,
      reason: 'row-unreadable' as const,
    })),
    ...badCells.map(({ row, name, text }) => ({
      line: lineOf(row),
      column: name,
      text,
      reason: 'not-a-number' as const,
    })),
  ].sort((a, b) => a.line - b.line);
  const countOf = (channel: PlannedChannel) => names[channel.index];
  const readRows = (counts?.[0] ?? 0) + setAside.length;
  return {
    plan: { ...input.plan, channels, texts: [] },
    issues,
    data: {
      rows,
      rowsRead: readRows,
      rowsRejected: setAside.length + unreadable.length + nameless.length,
      remarks: aside.length - setAside.length,
      rowsOutOfOrder: faults.length,
      stampFaults: faults.map(({ row, ...fault }) => ({ ...fault, line: lineOf(row) })),
      rejects: rejects.slice(0, MOST_REJECTS),
      rejectedCells: channels.map((channel) => {
        const count = countOf(channel);
        return count === undefined ? 0 : count.filled - count.numbers;
      }),
      notFinite: channels.map((channel) => countOf(channel)?.notFinite ?? 0),
    },
  };
}
