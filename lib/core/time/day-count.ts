/** Instants written as days with a fraction: Julian dates, and the serial days of spreadsheets. */
import { DAY_S } from './calendar';
import { NS_PER_S } from './instant';
import { leapAtEndOf } from './leap-seconds';
import { type TaiParts, taiFromDay } from './scale';
import type { DayCode, TimeScale } from './time-code';

type DayCount = Readonly<{
  /** The count at 1970-01-01T00:00:00, in half days so that it is whole. */
  halfDaysAt1970: number;
  /** Smallest whole count that is read. */
  least: number;
  /** Whether a day with a leap second has 86,401 s, so that its second 60 has a fraction of its own, or 86,399 s without. */
  leapDay: 'longer' | 'as others';
}>;

/**
 * Spreadsheets count 1 January 1900 as 1 and give 1900 a 29 February, number 60, that it never had: from
 * 61 on the count is the days since 30 December 1899, and what lies before is not read. With the other
 * epoch 1 January 1904 is 0. Their days all have 86,400 s.
 *
 * Source: ISO/IEC 29500-1:2016, 18.17.4.1 (date systems; clause from memory). A Julian date of UTC is
 * quasi-JD, as in the IAU's SOFA `utctai`.
 */
const COUNTS: Readonly<Record<DayCode, DayCount>> = {
  'julian-date': { halfDaysAt1970: 4_881_175, least: 0, leapDay: 'longer' },
  'modified-julian-date': { halfDaysAt1970: 81_174, least: 0, leapDay: 'longer' },
  'days-since-1900': { halfDaysAt1970: 51_138, least: 61, leapDay: 'as others' },
  'days-since-1904': { halfDaysAt1970: 48_214, least: 0, leapDay: 'as others' },
};

const DAYS = /^(\d{1,9})(?:[.,](\d{0,20}))?$/;

/**
 * Reads a count of days.
 *
 * @param text digits with a point or a comma; every digit counts, none passes through a double
 * @returns TAI parts, rounded half up to the nanosecond; null where the text is no such count
 */
export function readDays(text: string, code: DayCode, scale: TimeScale): TaiParts | null {
  const match = DAYS.exec(text);
  if (match === null) return null;
  const { halfDaysAt1970, least, leapDay } = COUNTS[code];
  if (Number(match[1]) < least) return null;
  const fraction = `${match[2] ?? ''}0`;
  const one = 10n ** BigInt(fraction.length);
  const digits = BigInt((match[1] ?? '0') + fraction);
  // A Julian day begins at noon: half a day is put on before the day is cut off.
  const total = digits + (halfDaysAt1970 % 2 === 0 ? 0n : one / 2n);
  const day = Number(total / one) - Math.ceil(halfDaysAt1970 / 2);
  const dayS = DAY_S + (leapDay === 'longer' && scale === 'UTC' ? leapAtEndOf(day) : 0);
  const dayNs = BigInt(dayS) * BigInt(NS_PER_S);
  const ns = ((total % one) * dayNs + one / 2n) / one;
  const second = Number(ns / BigInt(NS_PER_S));
  const restNs = Number(ns % BigInt(NS_PER_S));
  return second >= dayS
    ? taiFromDay(scale, day + 1, 0, restNs)
    : taiFromDay(scale, day, second, restNs);
}

/** What stamps of a count of days can tell apart, s: by the digits written, and by a double. */
export type DayResolution = Readonly<{ decimals: number; writtenS: number; doubleS: number }>;

/**
 * How finely written days tell times apart.
 *
 * @param stamps some of a file
 * @returns null where none is a count of days; `doubleS` is the step of a double of that size, below
 *   which digits written say nothing where the file was made from doubles
 *
 * Source: IEEE 754-2019, binary64 has 53 significant bits: 50,000 days are stepped by 2^-37 days, 0.63 us.
 */
export function dayResolution(stamps: readonly string[]): DayResolution | null {
  const found = stamps.flatMap((stamp) => {
    const match = DAYS.exec(stamp.trim());
    return match === null ? [] : [{ days: Number(match[1]), decimals: (match[2] ?? '').length }];
  });
  if (found.length === 0) return null;
  const decimals = Math.max(...found.map((each) => each.decimals));
  const days = Math.max(1, ...found.map((each) => each.days));
  return {
    decimals,
    writtenS: DAY_S / 10 ** decimals,
    doubleS: DAY_S * 2 ** (Math.floor(Math.log2(days)) - 52),
  };
}
