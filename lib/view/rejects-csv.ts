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

/** Lines of the file, its header first; a column of files only where a row names one. */
export function* rejectsCsv(rows: readonly SetAside[]): Generator<string> {
  const hasFiles = rows.some(({ file }) => file !== null);
  yield `${hasFiles ? 'file,' : ''}line,column,cell,reason`;
  for (const { file, line, column, cell, reason } of rows) {
    const texts = [column ?? '', cell, reason].map(csvTextCell);
    yield [...(hasFiles ? [csvTextCell(file ?? '')] : []), `${line}`, ...texts].join(',');
  }
}
