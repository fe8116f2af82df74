/** Constant offsets between time scales, and day-and-second readings turned into TAI. */
import { DAY_S } from './calendar';
import { mayHoldLeapSecond, taiMinusUtcS } from './leap-seconds';
import type { TimeScale } from './time-code';

export const TT_MINUS_TAI_NS = 32_184_000_000; // IAU 1991 Res. A4, Rec. IV
export const TAI_MINUS_GPS_S = 19; // IS-GPS-200: GPS time set equal to UTC at 1980-01-06T00:00:00
/** TAI seconds since 1970 at the GPS epoch, 1980-01-06T00:00:00 UTC (POSIX 315 964 800). */
export const GPS_EPOCH_TAI_S = 315_964_819;
/** Seconds in a GPS week; IS-GPS-200. */
export const WEEK_S = 604_800;

/** Whole TAI seconds since 1970-01-01T00:00:00 TAI, and nanoseconds (0 to 999 999 999). */
export type TaiParts = Readonly<{ wholeS: number; ns: number }>;

/**
 * TAI of a date and time read on a scale.
 *
 * @param day day number on that scale, 0 = 1970-01-01
 * @param secondOfDay whole second of the day; 86 400 only for a UTC leap second
 * @param ns nanoseconds, 0 to 999 999 999
 * @returns TAI parts; null for a second 60 that does not exist
 */
export function taiFromDay(
  scale: TimeScale,
  day: number,
  secondOfDay: number,
  ns: number,
): TaiParts | null {
  if (secondOfDay >= DAY_S && !(scale === 'UTC' && mayHoldLeapSecond(day))) return null;
  const wholeS = day * DAY_S + secondOfDay;
  if (scale === 'UTC') return { wholeS: wholeS + taiMinusUtcS(day), ns };
  return taiFromCount(scale, wholeS, ns);
}

/**
 * TAI of a steady count of seconds on a scale without leap seconds.
 *
 * @param wholeS whole seconds since 1970-01-01T00:00:00 of that scale
 */
export function taiFromCount(
  scale: Exclude<TimeScale, 'UTC'>,
  wholeS: number,
  ns: number,
): TaiParts {
  if (scale === 'TAI') return { wholeS, ns };
  if (scale === 'GPS') return { wholeS: wholeS + TAI_MINUS_GPS_S, ns };
  const shifted = ns - (TT_MINUS_TAI_NS % 1_000_000_000);
  const borrow = shifted < 0 ? 1 : 0;
  return { wholeS: wholeS - 32 - borrow, ns: shifted + borrow * 1_000_000_000 };
}
