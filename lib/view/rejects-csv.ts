/** What was set aside of a source, as a file for a spreadsheet. */
import { csvTextCell } from './csv-cell';

/** A row or a cell that was set aside; `column` is null for a whole row. */
export type SetAside = Readonly<{
  /** The file it stands in, where the source has several. */
  file: string | null;
  /** 1-based. */
  line: number;
  column: string | null;
  cell: string;
  reason: string;
}>;

/** What was set aside, and how much of it is beyond what is kept one by one. */
export type SetAsideList = Readonly<{ rows: readonly SetAside[]; leftOut: number }>;

/**
 * Lines of the file, its header first; a column of files only where a row names one. What is in no
 * row is counted in the last line.
 */
export function* rejectsCsv({ rows, leftOut }: SetAsideList): Generator<string> {
  const hasFiles = rows.some(({ file }) => file !== null);
  yield `${hasFiles ? 'file,' : ''}line,column,cell,reason`;
  for (const { file, line, column, cell, reason } of rows) {
    const texts = [column ?? '', cell, reason].map(csvTextCell);
    yield [...(hasFiles ? [csvTextCell(file ?? '')] : []), `${line}`, ...texts].join(',');
  }
  if (leftOut === 0) return;
  const more = `${leftOut} more rows and cells were set aside and are not listed; the first ${rows.length} are`;
  yield `${hasFiles ? ',' : ''},,,${csvTextCell(more)}`;
}
