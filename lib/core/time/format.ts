/** Instants as text. */
import { DAY_S, dateFromDay, dayOfYearFromDay } from './calendar';
import type { Instant } from './instant';
import { utcFromTaiSeconds } from './leap-seconds';
import { TAI_MINUS_GPS_S, TT_MINUS_TAI_NS } from './scale';
import type { TimeScale } from './time-code';

export type FormatOptions = Readonly<{
  /** Digits after the point of the second, 0 to 9. */
  decimals: number;
  /** `calendar` (default): 2031-04-17; `day-of-year`: 2031-107 (CCSDS code B). */
  date?: 'calendar' | 'day-of-year';
}>;

/** Nanoseconds to add to TAI for a scale; UTC is done by the table. */
function scaleShiftNs(scale: TimeScale): bigint {
  if (scale === 'TT') return BigInt(TT_MINUS_TAI_NS);
  return scale === 'GPS' ? -BigInt(TAI_MINUS_GPS_S) * 1_000_000_000n : 0n;
}

function floorDivide(value: bigint, by: bigint): bigint {
  const quotient = value / by;
  return value % by < 0n ? quotient - 1n : quotient;
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0');
}

/**
 * An instant as ISO 8601 text on a scale; UTC ends in `Z`, the others carry no mark.
 *
 * Rounded half up before the date is made, so a leap second prints as second 60 and
 * 23:59:59.9999999 does not become second 60 on an ordinary day.
 *
 * @param scale the scale to read the instant on
 * @returns `2031-04-17T09:12:30.000Z`
 */
export function formatInstant(instant: Instant, scale: TimeScale, options: FormatOptions): string {
  const unitNs = 10n ** BigInt(9 - options.decimals);
  const units = floorDivide(instant.taiNs + scaleShiftNs(scale) + unitNs / 2n, unitNs);
  const perSecond = 10n ** BigInt(options.decimals);
  const wholeS = floorDivide(units, perSecond);
  const fraction = String(units - wholeS * perSecond).padStart(options.decimals, '0');
  const seconds = Number(wholeS);
  const plainDay = Math.floor(seconds / DAY_S);
  const { day, secondOfDay } =
    scale === 'UTC'
      ? utcFromTaiSeconds(seconds)
      : { day: plainDay, secondOfDay: seconds - plainDay * DAY_S };
  // Second 86 400 belongs to the last minute: it is written 23:59:60.
  const minuteOfDay = Math.min(1439, Math.floor(secondOfDay / 60));
  const time = `${pad(Math.floor(minuteOfDay / 60), 2)}:${pad(minuteOfDay % 60, 2)}:${pad(secondOfDay - minuteOfDay * 60, 2)}`;
  const point = options.decimals === 0 ? '' : `.${fraction}`;
  return `${formatDay(day, options.date ?? 'calendar')}T${time}${point}${scale === 'UTC' ? 'Z' : ''}`;
}

function formatDay(day: number, form: 'calendar' | 'day-of-year'): string {
  if (form === 'day-of-year') {
    const { year, dayOfYear } = dayOfYearFromDay(day);
    return `${pad(year, 4)}-${pad(dayOfYear, 3)}`;
  }
  const { year, month, dayOfMonth } = dateFromDay(day);
  return `${pad(year, 4)}-${pad(month, 2)}-${pad(dayOfMonth, 2)}`;
}
