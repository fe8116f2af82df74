/** Text of a time stamp to an instant, for every code and scale that the readers know. */

import { DAY_S } from './calendar';
import {
  type CalendarStamp,
  type DateForm,
  dateLength,
  readDate,
  readTimeOfDay,
} from './calendar-stamp';
import { LEAP_DAYS_AHEAD } from './carry-days';
import { leapSecondsAfter } from './carry-leap-second';
import { readDays } from './day-count';
import { readDecimal, readElapsed, type SecondParts } from './decimal-parts';
import { withFullDay } from './half-day';
import { type Instant, NS_PER_S } from './instant';
import { isoOfOrdered } from './ordered-date';
import { GPS_EPOCH_TAI_S, type TaiParts, taiFromCount, taiFromDay, WEEK_S } from './scale';
import type { TimeCode, TimeScale, TimeSpec } from './time-code';

export type DateCode = 'iso8601' | 'ccsds-a' | 'ccsds-b';

/**
 * The date spellings a code allows.
 *
 * @param code a code that writes a date
 * @returns calendar, day of year, or either
 *
 * Source: CCSDS 301.0-B-4, section 3.5: code A is calendar, code B day of year.
 */
export function dateFormOf(code: DateCode): DateForm {
  if (code === 'ccsds-a') return 'calendar';
  return code === 'ccsds-b' ? 'day-of-year' : 'either';
}

/** True for the codes that write a calendar date. */
export function isDateCode(code: TimeCode): code is DateCode {
  return code === 'iso8601' || code === 'ccsds-a' || code === 'ccsds-b';
}

/**
 * TAI of a stamp taken apart.
 *
 * @param stamp day, minute, second and nanoseconds as written
 * @param scale the scale it counts on
 * @returns TAI parts; null for an offset off UTC or a second 60 that does not exist
 */
export function taiFromStamp(stamp: CalendarStamp, scale: TimeScale): TaiParts | null {
  if (stamp.hasOffset && scale !== 'UTC') return null;
  if (stamp.second === 60 && stamp.minuteStartS !== DAY_S - 60) return null;
  const carry = stamp.ns >= NS_PER_S ? 1 : 0;
  const parts = taiFromDay(
    scale,
    stamp.day,
    stamp.minuteStartS + stamp.second,
    stamp.ns - carry * NS_PER_S,
  );
  return parts === null || carry === 0 ? parts : { wholeS: parts.wholeS + carry, ns: parts.ns };
}

function readOrdered(text: string, { dateOrder, scale }: TimeSpec): TaiParts | null {
  const iso = dateOrder === undefined ? null : isoOfOrdered(text, dateOrder);
  return readDated(iso ?? text, 'iso8601', scale);
}

function readDated(text: string, code: DateCode, scale: TimeScale): TaiParts | null {
  const length = dateLength(text);
  if (length < 0) return null;
  const day = readDate(text.slice(0, length), dateFormOf(code));
  if (Number.isNaN(day)) return null;
  const stamp = readTimeOfDay(text, length + 1, day);
  return stamp === null ? null : taiFromStamp(stamp, scale);
}

function readUnix(text: string, power: 0 | 3 | 6 | 9, scale: TimeScale): TaiParts | null {
  const parts = readDecimal(text, power);
  if (parts === null) return null;
  if (scale !== 'UTC') return taiFromCount(scale, parts.wholeS, parts.ns);
  const day = Math.floor(parts.wholeS / DAY_S);
  return taiFromDay('UTC', day, parts.wholeS - day * DAY_S, parts.ns);
}

function readGpsWeek(weekText: string, secondsText: string): TaiParts | null {
  if (!/^\d{1,5}$/.test(weekText)) return null;
  const seconds = readDecimal(secondsText, 0);
  if (seconds === null || seconds.wholeS < 0 || seconds.wholeS >= WEEK_S) return null;
  return { wholeS: GPS_EPOCH_TAI_S + Number(weekText) * WEEK_S + seconds.wholeS, ns: seconds.ns };
}

function afterEpoch(parts: SecondParts | null, from: Instant): Instant | null {
  if (parts === null) return null;
  return {
    taiNs: from.taiNs + BigInt(parts.wholeS) * BigInt(NS_PER_S) + BigInt(parts.ns),
  };
}

/** Second 60 is one of a clock that counts from a midnight of UTC, within days of a leap second. */
function readClock(cell: string, from: Instant): SecondParts | null {
  const plain = readElapsed(cell);
  if (plain !== null || !cell.includes(':60')) return plain;
  return readElapsed(cell, leapSecondsAfter(from)(LEAP_DAYS_AHEAD) > 0 ? 61 : 60);
}

/** A date and its time of day that stand in two cells, as one stamp. */
export function joinDate(dateText: string, timeText: string): string {
  return timeText === '' ? dateText : `${dateText.trim()} ${timeText.trim()}`;
}

function toInstant(parts: TaiParts | null): Instant | null {
  if (parts === null) return null;
  return { taiNs: BigInt(parts.wholeS) * BigInt(NS_PER_S) + BigInt(parts.ns) };
}

/**
 * Reads one time stamp.
 *
 * @param text the cell; white space round it is ignored
 * @param spec code, scale and, for elapsed codes, where they count from
 * @param secondText the second cell: seconds of the week for `gps-week-seconds`, or the time of day
 *   where a date stands in a column of its own; '' where there is none
 * @returns the instant, to the nanosecond (digits beyond round half up); null where the text is no
 *   stamp of that code: another form, a date that does not exist, a second 60 that the leap-second
 *   table does not have, an offset on a scale other than UTC
 *
 * Source: ISO 8601 and RFC 3339 (dates), CCSDS 301.0-B-4 section 3.5 (codes A and B), POSIX 4.16
 * (seconds since the epoch), IS-GPS-200 (week and seconds; weeks counted without rollover).
 */
export function parseStamp(text: string, spec: TimeSpec, secondText = ''): Instant | null {
  const cell = text.trim();
  switch (spec.code) {
    case 'iso8601':
      return toInstant(readOrdered(joinDate(cell, secondText), spec));
    case 'ccsds-a':
    case 'ccsds-b':
      return toInstant(readDated(joinDate(cell, secondText), spec.code, spec.scale));
    case 'unix-seconds':
      return toInstant(readUnix(cell, 0, spec.scale));
    case 'unix-milliseconds':
      return toInstant(readUnix(cell, 3, spec.scale));
    case 'unix-nanoseconds':
      return toInstant(readUnix(cell, 9, spec.scale));
    case 'unix-microseconds':
      return toInstant(readUnix(cell, 6, spec.scale));
    case 'gps-week-seconds':
      return toInstant(readGpsWeek(cell, secondText.trim()));
    case 'julian-date':
    case 'modified-julian-date':
    case 'days-since-1900':
    case 'days-since-1904':
      return toInstant(readDays(cell, spec.code, spec.scale));
    case 'elapsed-milliseconds':
      return afterEpoch(readDecimal(cell, 3), spec.from);
    case 'elapsed-seconds':
      return afterEpoch(readDecimal(cell, 0), spec.from);
    case 'elapsed-dhms': {
      const clock = /\d$/.test(cell) ? cell : withFullDay(cell);
      return clock === null ? null : afterEpoch(readClock(clock, spec.from), spec.from);
    }
  }
}

/**
 * Reads a date and time in ISO 8601, calendar or day-of-year, on a scale.
 *
 * @returns the instant, or null where the text is none
 */
export function parseInstant(text: string, scale: TimeScale): Instant | null {
  return toInstant(readDated(text.trim(), 'iso8601', scale));
}
