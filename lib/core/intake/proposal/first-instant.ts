/** The instant at which a described file begins, and what the dates of other files say of its times. */
import type { Instant } from '../../time/instant';
import { parseInstant, parseStamp } from '../../time/parse';
import { type DateOrder, isElapsedCode, type TimeCode, type TimeScale } from '../../time/time-code';
import { DAY_READINGS, type DayReading, isDayReading } from './day-numbers';
import type { CellColumns } from './time-proposal';

/** How the stamps of a file are to be read; null entries are for a person to fill in. */
export type DescribedTime = Readonly<{
  columns: readonly string[];
  code: TimeCode | null;
  scale: TimeScale | null;
  /** UTC instant that an elapsed code counts from; null: session time 0; empty: a person must say it. */
  from: string | null;
  /** Of dates that end in the year; `open` where a person must say it, null where none do. */
  dateOrder: DateOrder | 'open' | null;
}>;

/**
 * The first stamp of a file that is an instant.
 *
 * @param table its columns; null for a file without any
 * @param time as described
 * @returns null where its stamps count from a moment that is not said
 */
export function firstInstant(
  table: CellColumns | null,
  time: DescribedTime | null,
): Instant | null {
  if (table === null || time === null || time.code === null || time.dateOrder === 'open')
    return null;
  const { columns, code, scale, dateOrder } = time;
  const from = parseInstant(time.from ?? '', 'UTC');
  if (isElapsedCode(code) && from === null) return null;
  const cells = columns.map((name) => table.cells[table.columns.indexOf(name)] ?? []);
  const [first = [], second = []] = cells;
  const order = dateOrder === null ? {} : { dateOrder };
  const spec = { columns, code, scale: scale ?? 'UTC', from: from ?? { taiNs: 0n }, ...order };
  for (const [row, cell] of first.entries()) {
    const instant = parseStamp(cell.trim(), spec, second[row] ?? '');
    if (instant !== null) return instant;
  }
  return null;
}

/** Days of one session lie this near to each other. Our own choice. */
const SAME_SESSION_NS = 30n * 86_400n * 1_000_000_000n;

/**
 * The count of days that puts a file beside the others, where numbers alone leave several.
 *
 * @param table its columns
 * @param time as proposed
 * @param others first instants of files with dates
 * @returns the reading that lies within a month of one of the others; null where the one proposed
 *   does, none or more than one does, or the file counts no days
 */
export function readingBeside(
  table: CellColumns | null,
  time: DescribedTime | null,
  others: readonly Instant[],
): DayReading | null {
  if (time === null || time.code === null || !isDayReading(time.code)) return null;
  const isBeside = (code: DayReading): boolean => {
    const instant = firstInstant(table, { ...time, code });
    return others.some(({ taiNs }) => {
      const apart = taiNs - (instant?.taiNs ?? 0n);
      return instant !== null && apart < SAME_SESSION_NS && apart > -SAME_SESSION_NS;
    });
  };
  const [found, ...more] = DAY_READINGS.filter(isBeside);
  return found === undefined || more.length > 0 || found === time.code ? null : found;
}
