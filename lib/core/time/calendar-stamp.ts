/**
 * Date-and-time text taken apart: `2031-04-17T09:12:30.250Z`, `2031-107T09:12:30`, with a space for
 * the T, a decimal comma, `Z` or an offset; `20310417T091230Z`, the basic format of ISO 8601;
 * `2031/04/17 09:12:30 UTC` and `2031:107:09:12:30` as ground systems write them. By hand, character by character: a telemetry file has
 * millions of these.
 */
import { DAY_S, dayFromDate, dayFromDayOfYear } from './calendar';

/** Which spellings of the date are taken: `2031-04-17`, `2031-107`, or both. */
export type DateForm = 'calendar' | 'day-of-year' | 'either';

/** Day number and second as written (second 60 kept), on whatever scale the file uses. */
export type CalendarStamp = Readonly<{
  day: number;
  /** Start of the written minute, s of the day; with an offset taken off, `day` moved with it. */
  minuteStartS: number;
  /** 0 to 60. */
  second: number;
  ns: number;
  /** Whether an offset other than `Z` was written. */
  hasOffset: boolean;
}>;

/** Value of two digits at `index`; NaN where they are not digits. */
function twoDigits(text: string, index: number): number {
  const tens = text.charCodeAt(index) - 48;
  const ones = text.charCodeAt(index + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : NaN;
}

function isDigit(text: string, index: number): boolean {
  const digit = text.charCodeAt(index) - 48;
  return digit >= 0 && digit <= 9;
}

const DATE = /^(\d{4})(?:-(\d{2})-(\d{2})|\/(\d{2})\/(\d{2})|[-:/](\d{3}))$/;
/** The basic format, without marks between the parts: ISO 8601-1:2019, 5.2.2.1 and 5.2.3.1. */
const BASIC_DATE = /^(\d{4})(?:(\d{2})(\d{2})|(\d{3}))$/;

function readBasicDate(text: string): number {
  const match = BASIC_DATE.exec(text);
  if (match === null) return NaN;
  const [, year, month, dayOfMonth, dayOfYear] = match;
  return dayOfYear === undefined
    ? dayFromDate(Number(year), Number(month), Number(dayOfMonth))
    : dayFromDayOfYear(Number(year), Number(dayOfYear));
}

/**
 * Day number of a written date.
 *
 * @param form `either` takes the basic format too, which CCSDS codes A and B do not have
 * @returns days since 1970-01-01; NaN where the text is no date of the form asked for
 */
export function readDate(text: string, form: DateForm): number {
  const match = DATE.exec(text);
  if (match === null) return form === 'either' ? readBasicDate(text) : NaN;
  const [, year, dashedMonth, dashedDay, slashedMonth, slashedDay, dayOfYear] = match;
  if (dayOfYear !== undefined) {
    return form === 'calendar' ? NaN : dayFromDayOfYear(Number(year), Number(dayOfYear));
  }
  if (form === 'day-of-year') return NaN;
  const [month, dayOfMonth] = [dashedMonth ?? slashedMonth, dashedDay ?? slashedDay];
  return dayFromDate(Number(year), Number(month), Number(dayOfMonth));
}

/**
 * Length of the date part of a stamp: up to `T`, `t` or a space; of `2031:107:09` and
 * `2031/107/09`, to the second mark.
 *
 * @param text the stamp
 * @returns 10 (calendar), 8 (day of year, or basic) or 7 (basic, day of year) characters; -1 where
 *   there is none
 */
export function dateLength(text: string): number {
  for (const length of [10, 8, 7]) {
    const code = text.charCodeAt(length);
    if (code === 84 || code === 116 || code === 32) return length;
  }
  const mark = text.charCodeAt(8);
  return (mark === 58 || mark === 47) && text.charCodeAt(4) === mark ? 8 : -1;
}

/** Minutes of `+hh:mm`, `-hhmm` or `+hh` from `index` to the end; NaN otherwise. */
function readOffsetMinutes(text: string, index: number): number {
  const sign = text[index] === '-' ? -1 : 1;
  const hours = twoDigits(text, index + 1);
  let next = index + 3;
  if (next === text.length) return sign * hours * 60;
  if (text[next] === ':') next += 1;
  const minutes = twoDigits(text, next);
  return next + 2 === text.length && hours < 24 && minutes < 60
    ? sign * (hours * 60 + minutes)
    : NaN;
}

/**
 * The time of day that follows a date.
 *
 * @param text the whole stamp, no white space round it
 * @param index where the hour's first digit stands
 * @param day day number of the date before it
 * @returns the stamp; null where the text is no time of day. Digits after the ninth round half up
 */
export function readTimeOfDay(text: string, index: number, day: number): CalendarStamp | null {
  // One mark between the parts, or none at all.
  const gap = text[index + 2] === ':' ? 1 : 0;
  const hour = twoDigits(text, index);
  const minute = twoDigits(text, index + 2 + gap);
  // 24:00:00 is the end of the day.
  if (!(hour < 24 ? minute < 60 : hour === 24 && minute === 0)) return null;
  let next = index + 4 + gap;
  let second = 0;
  let ns = 0;
  if (gap === 1 ? text[next] === ':' : isDigit(text, next)) {
    second = twoDigits(text, next + gap);
    if (!(second <= 60)) return null;
    next += 2 + gap;
    const mark = text[next];
    if (mark === '.' || mark === ',') {
      const start = next + 1;
      let place = 100_000_000;
      for (next = start; next < text.length; next += 1) {
        const digit = text.charCodeAt(next) - 48;
        if (digit < 0 || digit > 9) break;
        if (place >= 1) ns += digit * place;
        else if (place > 0.05 && digit >= 5) ns += 1;
        place /= 10;
      }
      if (next === start) return null;
    }
  }
  if (hour === 24 && second + ns > 0) return null;
  let minuteStartS = hour * 3600 + minute * 60;
  let hasOffset = false;
  if (next < text.length) {
    const mark = text[next];
    if (mark === '+' || mark === '-') {
      const offsetMinutes = readOffsetMinutes(text, next);
      if (Number.isNaN(offsetMinutes)) return null;
      hasOffset = true;
      minuteStartS -= offsetMinutes * 60;
    } else {
      const suffix = text.slice(next).trim();
      if (suffix !== 'Z' && suffix !== 'z' && suffix !== 'UTC') return null;
      // The word says the scale, as an offset does.
      hasOffset = suffix === 'UTC';
    }
  }
  const shift = Math.floor(minuteStartS / DAY_S);
  return {
    day: day + shift,
    minuteStartS: minuteStartS - shift * DAY_S,
    second,
    ns,
    hasOffset,
  };
}
