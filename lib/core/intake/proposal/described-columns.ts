/** The sampled cells of a table as numbers in SI, read as a description says. */
import type { Instant } from '../../time/instant';
import { parseInstant } from '../../time/parse';
import { makeStampReader } from '../../time/stamp-reader';
import { findUnit } from '../../units/unit';
import type { CheckedTable } from './cross-check';
import type { DescribedFile } from './session-proposal';
import type { TableSketch } from './table-proposal';

/** A true minus and an exponent with D as a program writes them. */
function plainNumber(cell: string): string {
  return cell.replace('\u2212', '-').replace(/d(?=[+-]?\d+\s*$)/i, 'e');
}

/**
 * Reads the sampled rows of a wide table.
 *
 * @param table the sampled cells
 * @param file how it is described
 * @param zero the instant of session time 0
 * @returns times (s from zero) and described columns (SI), NaN where a cell does not read; null
 *   for a long table, or where code or column of the times are not said
 */
export function describedColumns(
  table: TableSketch,
  file: DescribedFile,
  zero: Instant,
): CheckedTable | null {
  const { time, layout, channels } = file;
  if (layout === 'long' || time === null || time.code === null) return null;
  const cellsOf = (name: string | undefined): readonly string[] | null =>
    name === undefined ? null : (table.cells[table.columns.indexOf(name)] ?? null);
  const [first, second] = [cellsOf(time.columns[0]), cellsOf(time.columns[1])];
  if (first === null) return null;
  const from = time.from === null ? zero : (parseInstant(time.from, 'UTC') ?? zero);
  const { columns, code, dateOrder } = time;
  const order = dateOrder === null || dateOrder === 'open' ? {} : { dateOrder };
  const read = makeStampReader({ columns, code, scale: time.scale ?? 'UTC', from, ...order }, zero);
  const number = (cell: string): number =>
    cell.trim() === '' ? Number.NaN : Number(plainNumber(cell.replace(table.decimal, '.')));
  return {
    tS: Float64Array.from(first, (cell, row) => read(cell, second?.[row] ?? '')),
    blocks: table.blocks,
    columns: channels.flatMap(({ column, as, unit, sign }) => {
      const cells = cellsOf(column);
      if (as === null || cells === null) return [];
      const factor = sign * (findUnit(unit ?? '')?.toSi ?? 1);
      return [{ column, as, values: Float64Array.from(cells, (cell) => factor * number(cell)) }];
    }),
  };
}
