/** rejects.parquet: written, read again, and what is said of it in an import's report. */
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { STAMP_EXAMPLES, stampHint } from '@/lib/core/intake/stamp-words';
import type { Issue } from '@/lib/core/result';
import type { TimeSpec } from '@/lib/core/time/time-code';
import type { SetAside, SetAsideList } from '@/lib/view/rejects-csv';
import { columnsOf, samplePath } from './columns-of';
import { type Reject, type RejectReason, rejectReasons } from './data-result';
import { withConnection } from './engine';
import type { SampleManifest } from './sample-manifest';
import { REJECTS_FILE } from './seal-folder';
import { sqlText } from './sql-text';

const WORDS: Readonly<Record<RejectReason, string>> = {
  'not-a-number': 'is not a number',
  'stamp-unreadable': 'is not a time stamp of the stated code',
  'too-few-cells': 'has fewer cells than the header',
  'too-many-cells': 'has more cells than the header',
  'row-unreadable': 'could not be taken apart into cells',
};
const SHOWN_LENGTH = 80;
const SHOWN_REJECTS = 20;

export async function writeRejects(
  connection: DuckDBConnection,
  file: string,
  rejects: readonly Reject[],
): Promise<void> {
  await connection.run(
    'CREATE TEMP TABLE rejects (line BIGINT, "column" VARCHAR, text VARCHAR, reason VARCHAR, file VARCHAR)',
  );
  const appender = await connection.createAppender('rejects');
  for (const reject of rejects) {
    appender.appendBigInt(BigInt(reject.line));
    if (reject.column === null) appender.appendNull();
    else appender.appendVarchar(reject.column);
    appender.appendVarchar(reject.text);
    appender.appendVarchar(reject.reason);
    if (reject.file === undefined) appender.appendNull();
    else appender.appendVarchar(reject.file);
    appender.endRow();
  }
  appender.closeSync();
  await connection.run(
    `COPY (SELECT * FROM rejects ORDER BY line) TO ${sqlText(file)} (FORMAT parquet, COMPRESSION zstd)`,
  );
  await connection.run('DROP TABLE rejects');
}

function shorten(text: string): string {
  return text.length > SHOWN_LENGTH ? `${text.slice(0, SHOWN_LENGTH)}…` : text;
}

function rejectMessage({ reason, column, text }: Reject): string {
  const shown = shorten(text);
  if (column === null) return `the row ${WORDS[reason]} and is left out: ${shown}`;
  const what = `"${shown}" in column "${column}" ${WORDS[reason]}`;
  return reason === 'stamp-unreadable'
    ? `${what}${stampHint(text)}; the row is left out`
    : `${what}; the cell stays empty`;
}

/**
 * One warning a reject for the first of them, then one for the rest.
 *
 * @param source its name, and how it writes its times
 */
export function rejectIssues(
  { file, time }: Readonly<{ file: string; time: Pick<TimeSpec, 'code'> }>,
  rejects: readonly Reject[],
  total: number,
): Issue[] {
  const issues: Issue[] = rejects.slice(0, SHOWN_REJECTS).map((reject) => ({
    code: reject.reason,
    severity: 'warning',
    file: reject.file ?? file,
    line: reject.line,
    message: rejectMessage(reject),
    ...(reject.reason === 'stamp-unreadable' ? { expected: STAMP_EXAMPLES[time.code] } : {}),
    received: shorten(reject.text),
  }));
  if (total > issues.length) {
    const leftOut = total - rejects.length;
    const list =
      leftOut > 0
        ? `has the first ${rejects.length} with their lines; ${leftOut} are not listed one by one`
        : 'has them all, with their lines';
    issues.push({
      code: 'more-rejects',
      severity: 'warning',
      file,
      message: `${total - issues.length} more rows or cells could not be used; the list to download on Sources ${list}`,
    });
  }
  return issues;
}

/** Longer cells are cut in the list that people download. */
const LISTED_LENGTH = 500;

function stampRejects({ stampFaults }: SampleManifest): SetAside[] {
  const leftOut = stampFaults.filter(({ kind }) => kind !== 'jump');
  return leftOut.map(({ kind, startS, endS, line, file }) => ({
    file: file ?? null,
    line,
    column: null,
    cell: '',
    reason:
      kind === 'duplicate'
        ? 'from this row on, rows repeat the stamp above them and are left out of the series'
        : `from this row on, stamps lie up to ${Number((endS - startS).toFixed(9))} s before the latest one; the rows are left out of the series`,
  }));
}

function byPlace(found: readonly SetAside[], { parts }: SampleManifest): readonly SetAside[] {
  const orderOf = (file: string | null) => parts.findIndex(({ name }) => name === file);
  return [...found].sort((a, b) => orderOf(a.file) - orderOf(b.file) || a.line - b.line);
}

/**
 * Everything of a source that is in its samples folder's list of rejects or was kept out of order,
 * with the number of rejects that the list has no room for; by file, in the order in which the files were given, and line.
 */
export async function readRejects(samplesRoot: string, folder: string): Promise<SetAsideList> {
  const manifest = await columnsOf(samplesRoot, folder);
  const stamps = stampRejects(manifest);
  const total = manifest.rowsRejected + manifest.cellsRejected;
  if (!manifest.files.some(({ name }) => name === REJECTS_FILE)) {
    return { rows: byPlace(stamps, manifest), leftOut: total };
  }
  const file = sqlText(path.resolve(samplePath(samplesRoot, folder), REJECTS_FILE));
  const rows = await withConnection(samplesRoot, async (connection) => {
    // Folders made before the list had a column of files have none of it.
    const sql = `SELECT *, left(text, ${LISTED_LENGTH}) AS cell FROM read_parquet(${file}) ORDER BY line`;
    return (await connection.runAndReadAll(sql)).getRowObjects();
  });
  const rejects = rows.map((row): SetAside => {
    const reason = rejectReasons.find((each) => each === row.reason);
    return {
      file: typeof row.file === 'string' ? row.file : null,
      line: Number(row.line),
      column: typeof row.column === 'string' ? row.column : null,
      cell: String(row.cell ?? ''),
      reason: reason === undefined ? String(row.reason) : WORDS[reason],
    };
  });
  return {
    rows: byPlace([...rejects, ...stamps], manifest),
    leftOut: Math.max(0, total - rejects.length),
  };
}
