/** rejects.parquet, and what is said about rejects in an import's report. */
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Issue } from '@/lib/core/result';
import type { Reject, RejectReason } from './data-result';
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
    'CREATE TEMP TABLE rejects (line BIGINT, "column" VARCHAR, text VARCHAR, reason VARCHAR)',
  );
  const appender = await connection.createAppender('rejects');
  for (const reject of rejects) {
    appender.appendBigInt(BigInt(reject.line));
    if (reject.column === null) appender.appendNull();
    else appender.appendVarchar(reject.column);
    appender.appendVarchar(reject.text);
    appender.appendVarchar(reject.reason);
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

/** One warning a reject for the first of them, then one for the rest. */
export function rejectIssues(file: string, rejects: readonly Reject[], total: number): Issue[] {
  const issues: Issue[] = rejects.slice(0, SHOWN_REJECTS).map((reject) => ({
    code: reject.reason,
    severity: 'warning',
    file: reject.file ?? file,
    line: reject.line,
    message:
      reject.column === null
        ? `the row ${WORDS[reject.reason]} and is left out: ${shorten(reject.text)}`
        : `"${shorten(reject.text)}" in column "${reject.column}" ${WORDS[reject.reason]}; ${
            reject.reason === 'stamp-unreadable' ? 'the row is left out' : 'the cell stays empty'
          }`,
    received: shorten(reject.text),
  }));
  if (total > issues.length) {
    issues.push({
      code: 'more-rejects',
      severity: 'warning',
      file,
      message: `${total - issues.length} more rows or cells could not be used; rejects.parquet lists them with their lines`,
    });
  }
  return issues;
}
