/** The order of dates that end in the year, from every stamp of a source. */

import { shownCell } from '@/lib/core/intake/shown-cell';
import { dateOrderFault } from '@/lib/core/intake/stamp-words';
import type { Issue } from '@/lib/core/result';
import { findDateOrder, numbersBeforeYear } from '@/lib/core/time/ordered-date';
import type { DateOrder } from '@/lib/core/time/time-code';
import { cellName, csvScanSql } from './csv-scan';
import type { PassInput } from './data-pass';
import { readDoubles } from './double-chunks';
import { sqlName, sqlText } from './sql-text';

const ENDS_IN_YEAR = '^\\s*(\\d{1,2})[/.-](\\d{1,2})[/.-]\\d{4}';

export type ReadOrder = Readonly<{ order: DateOrder | null; issue: Issue | null }>;

const NONE: ReadOrder = { order: null, issue: null };

/** The largest of the two numbers before the year, over all rows. */
async function largestNumbers(input: PassInput): Promise<readonly [number, number]> {
  const [stamp = 0] = input.plan.stamps;
  const types = input.header.map(() => 'VARCHAR' as const);
  const scan = csvScanSql({ ...input, types, rejectsTable: 'date_order_rejects' });
  const cell = sqlName(cellName(stamp));
  const largest = (group: number): string =>
    `coalesce(max(TRY_CAST(regexp_extract(${cell}, ${sqlText(ENDS_IN_YEAR)}, ${group}) AS DOUBLE)), 0)`;
  const sql = `SELECT ${largest(1)}, ${largest(2)} FROM ${scan}`;
  const [first, second] = await readDoubles(input.connection, sql, 1);
  return [first?.[0] ?? 0, second?.[0] ?? 0];
}

/**
 * Finds the order where the session file states none.
 *
 * @param input the source, its stamps not read yet
 * @returns the order that all dates allow; an issue where they allow both or neither; nothing where
 *   an order is stated, or no stamp that was looked at ends in the year
 */
export async function readDateOrder(input: PassInput, file: string): Promise<ReadOrder> {
  const { time, stampSamples } = input;
  if (time.code !== 'iso8601' || time.dateOrder !== undefined) return NONE;
  const date = stampSamples.map(([stamp = '']) => stamp).find((stamp) => numbersBeforeYear(stamp));
  if (date === undefined) return NONE;
  const order = findDateOrder(...(await largestNumbers(input)));
  if (order !== 'open' && order !== 'mixed') return { order, issue: null };
  return { order: null, issue: { file, ...dateOrderFault(order, shownCell(date)) } };
}
