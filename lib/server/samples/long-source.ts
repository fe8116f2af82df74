/**
 * A long source (a row a sample: stamp, channel's name, value) into the wide data.parquet. Each
 * channel keeps its own stamps; a row of the result has the samples that share its stamp.
 */
import { COMMENT } from '@/lib/core/intake/find-table';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { ColumnPlan, PlannedChannel } from './column-plan';
import type { PassInput } from './data-pass';
import { type DataResult, MOST_REJECTS, type Reject } from './data-result';
import { countNames, MOST_LONG_CHANNELS, nameIssues, planChannels } from './long-channels';
import { findLongFaults, LONG_FAULTS } from './long-faults';
import { countRows, listBadRows, loadSamples, patchStamps, SAMPLES } from './long-samples';
import { findRecordLines, type RecordLines } from './record-lines';
import { sqlText } from './sql-text';
import { placeTurns, turnRows } from './stamp-days';
import { readSetAside, type SetAsideRecord } from './text-pass';
import { writeLongData } from './write-long-data';

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

/** What stands for a source that is not written: its issues tell why. */
function refused(input: PassInput, issues: readonly Issue[]): LongResult {
  const none = {
    rows: 0,
    rowsRead: 0,
    rowsRejected: 0,
    remarks: 0,
    rowsOutOfOrder: 0,
    rowsBack: 0,
    isBackwards: false,
    stampFaults: [],
    rejects: [],
    rejectedCells: [],
    notFinite: [],
  };
  return { plan: { ...input.plan, channels: [], texts: [] }, issues, data: none };
}

/** A row that could not be used, or whose value could not; `column` null for the whole row. */
type BadRow = Readonly<{ row: number } & Pick<Reject, 'column' | 'text' | 'reason'>>;

async function badRows(
  input: PassInput,
  channels: readonly PlannedChannel[],
): Promise<readonly BadRow[]> {
  const nameless = await listBadRows(input, 'name IS NULL');
  const names = channels.map((channel) => sqlText(channel.name)).join(', ');
  const cells = names === '' ? [] : await listBadRows(input, `bad AND name IN (${names})`);
  return [
    ...nameless.map(({ row, text }): BadRow => {
      return { row, column: null, text, reason: 'row-unreadable' };
    }),
    ...cells.map(({ row, name, text }): BadRow => {
      return { row, column: name, text, reason: 'not-a-number' };
    }),
  ];
}

function rejectsOf(
  setAside: readonly SetAsideRecord[],
  rows: readonly BadRow[],
  lines: RecordLines,
): readonly Reject[] {
  const rejects = [
    ...setAside.map(({ record, text, reason }): Reject => {
      return { line: lines.lineOfRecord.get(record) ?? record, column: null, text, reason };
    }),
    ...rows.map(({ row, ...bad }): Reject => ({ line: lines.lineOfRow.get(row) ?? 0, ...bad })),
  ];
  return rejects.sort((a, b) => a.line - b.line).slice(0, MOST_REJECTS);
}

function linesOf(
  input: PassInput,
  rows: readonly Readonly<{ row: number }>[],
  aside: readonly SetAsideRecord[],
): Promise<RecordLines> {
  return findRecordLines({
    file: input.file,
    firstDataLine: input.dialect.rowsAfterLine + 1,
    quote: input.hasQuote ? input.dialect.quote.charCodeAt(0) : null,
    separator: Buffer.from(input.dialect.separator).at(-1) ?? 0,
    setAside: new Set(aside.map((record) => record.record)),
    rows: [...new Set(rows.map(({ row }) => row))].sort((a, b) => a - b),
  });
}

/** Imports a long source; `plan` of the result has the channels that the rows name. */
export async function importLong(input: PassInput, spec: TelemetrySpec): Promise<LongResult> {
  const { connection } = input;
  await loadSamples(input, spec);
  const aside = await readSetAside(connection, 'long_rejects');
  const setAside = aside.filter((record) => !COMMENT.test(record.text));
  const unread = await patchStamps(input);
  const names = await countNames(input);
  const issues = nameIssues(spec, names);
  if (hasErrors(issues)) return refused(input, issues);
  const faults = await findLongFaults(input);
  const channels = planChannels(spec, names.slice(0, MOST_LONG_CHANNELS));
  const rows = await writeLongData(input, SAMPLES, channels);
  const stampColumns = input.time.columns.join(', ');
  const bad = [
    ...unread.unreadable.map(({ row, text }): BadRow => {
      return { row, column: stampColumns, text, reason: 'stamp-unreadable' };
    }),
    ...(await badRows(input, channels)),
  ];
  const counts = await countRows(input);
  await connection.run(`DROP TABLE ${SAMPLES}`);
  await connection.run(`DROP TABLE ${LONG_FAULTS}`);
  const turned = turnRows(unread).map((row) => ({ row }));
  const lines = await linesOf(input, [...faults.runs, ...bad, ...turned], aside);
  return {
    plan: { ...input.plan, channels, texts: [] },
    issues,
    data: {
      rows,
      rowsRead: counts.all + setAside.length,
      rowsRejected: setAside.length + unread.count + counts.nameless,
      remarks: aside.length - setAside.length + unread.remarks,
      rowsOutOfOrder: faults.rowsOut,
      rowsBack: faults.rowsBack,
      isBackwards: faults.isBackwards,
      stampFaults: faults.runs.map(({ row, ...run }) => {
        return { ...run, line: lines.lineOfRow.get(row) ?? 0 };
      }),
      ...placeTurns(unread, (row) => lines.lineOfRow.get(row) ?? 0),
      rejects: rejectsOf(setAside, bad, lines),
      rejectedCells: channels.map(({ index }) => names[index]?.bad ?? 0),
      notFinite: channels.map(({ index }) => names[index]?.notFinite ?? 0),
    },
  };
}
