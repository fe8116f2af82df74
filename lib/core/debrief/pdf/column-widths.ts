/** How wide the columns of a table are set: those of short cells as they need, words share the rest. */
import { runsText } from '../html/html-runs';
import type { TableBlock } from '../resolved';

/** A cell up to this many characters is short: a number with its half-width, a verdict. */
const SHORT = 20;

/**
 * One width a column: `auto`, or its share of what is left.
 *
 * @param table the table as resolved
 * @param count columns, those of spanned cells included
 */
export function columnWidths(table: TableBlock, count: number): readonly ('auto' | number)[] {
  const lengths = Array.from({ length: count }, (): number[] => []);
  for (const row of table.rows) {
    row.forEach((cell, at) => {
      if (cell.colspan === 1) lengths[at]?.push(runsText(cell.runs).length);
    });
  }
  const heads = table.columns.map(({ label }) =>
    Math.max(0, ...label.split(' ').map((word) => word.length)),
  );
  const longest = lengths.map((each, at) => Math.max(heads[at] ?? 0, ...each));
  if (longest.every((length) => length <= SHORT))
    return longest.map((length) => Math.max(4, length));
  return longest.map((length, at) => {
    if (length <= SHORT) return 'auto';
    const mean =
      (lengths[at] ?? []).reduce((sum, each) => sum + each, 0) / (lengths[at]?.length || 1);
    return Math.round(Math.sqrt(Math.max(SHORT, mean)) * 100) / 100;
  });
}
