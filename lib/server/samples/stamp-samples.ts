/** Stamps of lines spread over a source, for trying the SQL form of its time code on. */
import type { ColumnPlan } from './column-plan';
import type { CsvDialect } from './csv-scan';
import type { SourceScan } from './source-scan';

const HEAD_SAMPLES = 200;

/** Cells of the stamp's columns; lines with quotes or another number of cells are passed over. */
export function sampleStamps(
  scan: SourceScan,
  dialect: CsvDialect,
  plan: ColumnPlan,
): readonly (readonly string[])[] {
  const head = scan.head
    .toString('latin1')
    .split('\n')
    .slice(dialect.rowsAfterLine, dialect.rowsAfterLine + HEAD_SAMPLES)
    .map((line) => line.replace(/\r$/, ''));
  return [...head, ...scan.sampleLines].flatMap((line) => {
    if (line === '' || line.includes(dialect.quote)) return [];
    const cells = line.split(dialect.separator);
    if (cells.length !== plan.columnCount) return [];
    const stamp = plan.stamps.map((index) => cells[index] ?? '');
    return stamp.some((cell) => cell.trim() === '') ? [] : [stamp];
  });
}
