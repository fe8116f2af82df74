/**
 * Tables as Markdown. It knows no spans: the words of a cell stand in its first place, the others are
 * empty.
 *
 * Source: GitHub Flavored Markdown Spec 0.29 (2019), 4.10 (tables).
 */
import type { TableBlock, TableCell } from '../resolved';
import { markdownRuns, markdownText } from './markdown-text';

type Grid = (string | undefined)[][];

function fill(rows: readonly (readonly TableCell[])[]): Grid {
  const grid: Grid = rows.map(() => []);
  rows.forEach((cells, y) => {
    let x = 0;
    for (const cell of cells) {
      while (grid[y]?.[x] !== undefined) x += 1;
      for (let down = 0; down < cell.rowspan; down += 1) {
        for (let along = 0; along < cell.colspan; along += 1) {
          const row = grid[y + down];
          if (row !== undefined) row[x + along] = '';
        }
      }
      const own = grid[y];
      if (own !== undefined) own[x] = markdownRuns(cell.runs, '<br>');
      x += cell.colspan;
    }
  });
  return grid;
}

const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;

/**
 * One table.
 *
 * @param head labels of the columns, escaped; empty ones where it has none
 * @param rows cells, escaped
 * @param align of each column
 */
export function pipeTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  align: readonly ('start' | 'end')[],
): string {
  const rule = head.map((_, at) => (align[at] === 'end' ? '---:' : '---'));
  return [line(head), line(rule), ...rows.map(line)].join('\n');
}

/** The rows with its head, without caption and note. */
export function markdownTable(table: TableBlock): string {
  const grid = fill(table.rows);
  const width = grid.reduce(
    (most, { length }) => Math.max(most, length),
    Math.max(table.columns.length, 1),
  );
  const full = grid.map((row) => Array.from({ length: width }, (_, at) => row[at] ?? ''));
  const isHead = table.columns.length === 0 && (table.rows[0] ?? []).every(({ header }) => header);
  const labels = table.columns.map(({ label }) => markdownText(label));
  const head = isHead ? full.shift() : Array.from({ length: width }, (_, at) => labels[at] ?? '');
  const align = table.columns.map((column) => column.align);
  return pipeTable(head ?? [], full, align);
}
