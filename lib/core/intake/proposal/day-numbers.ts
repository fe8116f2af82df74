/** Columns of numbers that count days with a fraction, and which count they may be. */
import { formatInstant } from '../../time/format';
import { parseStamp } from '../../time/parse';
import type { DayCode, TimeCode } from '../../time/time-code';

/** Modified Julian dates and spreadsheet days of 1972 to 2100 lie in here. Common practice, no source. */
const DAYS = [20_000, 90_000] as const;
/** A day has 86,400 s: stamps apart by less than a minute and a half as days are no seconds apart. */
const LONGEST_DAY_STEP = 1e-3;

/**
 * True for numbers that are days with a fraction, as a spreadsheet saves dates: tens of thousands,
 * apart by next to nothing.
 */
export function areDays(first: number, last: number, count: number): boolean {
  const [low, high] = DAYS;
  return (
    Math.min(first, last) >= low &&
    Math.max(first, last) < high &&
    count > 1 &&
    Math.abs(last - first) < LONGEST_DAY_STEP * (count - 1)
  );
}

const READINGS = {
  'days-since-1900': 'a spreadsheet from 1900',
  'days-since-1904': 'a spreadsheet from 1904',
  'modified-julian-date': 'a modified Julian date',
} as const satisfies Partial<Record<DayCode, string>>;
export type DayReading = keyof typeof READINGS;
export const DAY_READINGS = Object.keys(READINGS) as readonly DayReading[];

/** True for a code that counts days and looks like others that do. */
export function isDayReading(code: TimeCode | null | undefined): code is DayReading {
  return DAY_READINGS.some((each) => each === code);
}

/** What a reading is, in words. */
export function dayReadingWords(code: DayReading): string {
  return READINGS[code];
}

/** Words of a column's name that say which count it is; common practice, no source. */
function namedReading(words: readonly string[]): DayReading | null {
  if (words.includes('mjd')) return 'modified-julian-date';
  if (words.some((word) => word.includes('1904'))) return 'days-since-1904';
  return words.some((word) => /^(?:serial|1900)$/.test(word)) ? 'days-since-1900' : null;
}

function dateAs(cell: string, code: DayReading): string {
  const spec = { columns: [], code, scale: 'UTC', from: { taiNs: 0n } } as const;
  const instant = parseStamp(cell, spec);
  return instant === null ? 'no date' : formatInstant(instant, 'UTC', { decimals: 0 }).slice(0, 10);
}

/**
 * Proposes which count of days a column holds.
 *
 * @param words of the column's name, in lower case
 * @param cell the first stamp
 * @returns the code and, for a person to choose by, the date that each count makes of the stamp
 */
export function proposeDays(
  words: readonly string[],
  cell: string,
): Readonly<{ code: DayReading; reason: string }> {
  const code = namedReading(words) ?? 'days-since-1900';
  const dates = DAY_READINGS.map((each) => `${dateAs(cell, each)} as ${READINGS[each]}`);
  return { code, reason: `days with a fraction: ${dates.join(', ')}` };
}
