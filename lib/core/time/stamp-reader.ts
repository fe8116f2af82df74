/** Stamps to seconds from zero, in bulk. */
import { type DateForm, dateLength, readDate, readTimeOfDay } from './calendar-stamp';
import { type Instant, NS_PER_S, secondsBetween, secondsFromParts } from './instant';
import { dateFormOf, isDateCode, joinDate, parseStamp, taiFromStamp } from './parse';
import type { TimeScale, TimeSpec } from './time-code';

/** Reads the stamp of one row; NaN where the cell is no stamp. */
export type StampReader = (text: string, secondText?: string) => number;

/**
 * Seconds of one stamp from the session's zero.
 *
 * @param text the cell; `secondText` is the second cell of `gps-week-seconds`
 * @param zero the instant of session time 0
 * @returns stamp - zero, s, on the source's own clock; NaN where the text is no stamp
 */
export function stampSeconds(text: string, spec: TimeSpec, zero: Instant, secondText = ''): number {
  const instant = parseStamp(text, spec, secondText);
  return instant === null ? NaN : secondsBetween(zero, instant);
}

function splitInstant(instant: Instant): Readonly<{ wholeS: number; ns: number }> {
  const big = BigInt(NS_PER_S);
  const rest = instant.taiNs % big;
  const ns = rest < 0n ? rest + big : rest;
  return { wholeS: Number((instant.taiNs - ns) / big), ns: Number(ns) };
}

/** Dated stamps: the date is read once for as long as it stays the same, no big integers. */
function makeDatedReader(form: DateForm, scale: TimeScale, zero: Instant): StampReader {
  const origin = splitInstant(zero);
  let lastDate = '';
  let lastDay = NaN;
  return (cell, secondCell = '') => {
    const text = secondCell === '' ? cell.trim() : joinDate(cell, secondCell);
    const length = dateLength(text);
    if (length < 0) return NaN;
    if (length !== lastDate.length || !text.startsWith(lastDate)) {
      lastDate = text.slice(0, length);
      lastDay = readDate(lastDate, form);
    }
    if (Number.isNaN(lastDay)) return NaN;
    const stamp = readTimeOfDay(text, length + 1, lastDay);
    const tai = stamp === null ? null : taiFromStamp(stamp, scale);
    if (tai === null) return NaN;
    const ns = tai.ns - origin.ns;
    const wholeS = tai.wholeS - origin.wholeS;
    return ns < 0 ? secondsFromParts(wholeS - 1, ns + NS_PER_S) : secondsFromParts(wholeS, ns);
  };
}

const PLAIN_DECIMAL = /^[+-]?(?:\d+\.?\d{0,9}|\.\d{1,9})$/;

/** Elapsed seconds: up to nine decimals the nearest double of the text is the exact answer. */
function makeElapsedReader(spec: TimeSpec, zero: Instant): StampReader {
  const offsetS = secondsBetween(zero, spec.from);
  return (cell) => {
    const text = cell.trim();
    if (offsetS === 0 && text.length < 16 && PLAIN_DECIMAL.test(text)) return Number(text);
    return stampSeconds(text, spec, zero);
  };
}

/**
 * A reader of many stamps of one source. It agrees with `stampSeconds` to the last bit.
 *
 * @param spec code, scale and epoch of the stamps
 * @param zero the instant of session time 0
 * @returns a function from the cell's text (and, for `gps-week-seconds`, the second cell's) to
 *   seconds from zero on the source's own clock; NaN where the text is no stamp
 */
export function makeStampReader(spec: TimeSpec, zero: Instant): StampReader {
  if (spec.dateOrder !== undefined) {
    return (text, secondText = '') => stampSeconds(text, spec, zero, secondText);
  }
  if (isDateCode(spec.code)) return makeDatedReader(dateFormOf(spec.code), spec.scale, zero);
  if (spec.code === 'elapsed-seconds') return makeElapsedReader(spec, zero);
  return (text, secondText = '') => stampSeconds(text, spec, zero, secondText);
}
