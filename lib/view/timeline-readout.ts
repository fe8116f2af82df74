/** Texts at the cursor: times, values of strips, the last words said. */
import { formatInstant } from '../core/time/format';
import { formatNumber } from '../core/units/number-text';
import type { NearestSamples, Reading } from './charts/strip-reading';
import { formatSessionTime } from './format-time';
import type { LogMark } from './log-mark';

/** UTC of a session time, `2031-04-17 09:30:44.0`; second 60 where there is a leap second. */
export function utcText(zeroTaiNs: string, tS: number): string {
  const instant = { taiNs: BigInt(zeroTaiNs) + BigInt(Math.round(tS * 1e9)) };
  return formatInstant(instant, 'UTC', { decimals: 1 }).replace('T', ' ').replace('Z', '');
}

/** One value where the pixel holds one, else both ends of what it holds; `none` in a gap. */
export function readingText(reading: Reading | null, decimals: number): string {
  if (reading === null) return 'none';
  const low = formatNumber(reading.low, decimals);
  const high = formatNumber(reading.high, decimals);
  return low === high ? low : `${low} to ${high}`;
}

/**
 * What a strip without samples says, with the way to the nearest ones.
 *
 * @param clock writes an instant on the axis of the reader
 */
export function noSamplesText(
  { beforeS, afterS }: NearestSamples,
  clock: Readonly<{ text: (tS: number) => string }>,
): string {
  const none = 'No samples in this window.';
  if (beforeS !== null && afterS !== null)
    return `${none} The nearest: before about ${clock.text(beforeS)} and after about ${clock.text(afterS)}.`;
  if (beforeS !== null) return `${none} The last are at about ${clock.text(beforeS)}.`;
  return afterS === null ? none : `${none} The first are at about ${clock.text(afterS)}.`;
}

/** Who said what; an event of a log by its name. */
export function logText(mark: Pick<LogMark, 'speaker' | 'text'>): string {
  return mark.speaker === null || mark.speaker === '' ? mark.text : `${mark.speaker}: ${mark.text}`;
}

/** The last entry at or before an instant. @param log in time order */
export function lastWords(log: readonly LogMark[], tS: number): LogMark | null {
  let low = 0;
  let high = log.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((log[middle]?.tS ?? Number.POSITIVE_INFINITY) <= tS) low = middle + 1;
    else high = middle;
  }
  return log[low - 1] ?? null;
}

/**
 * A session time as somebody types it: `00:18:14.5`, `18:14`, `1094.5`, with an optional minus.
 *
 * @returns seconds; null when it is none of these
 */
export function parseSessionTime(text: string): number | null {
  const clean = text.trim().replace('\u2212', '-');
  const clock = /^(-?)(?:(\d{1,3}):)?(\d{1,3}):(\d{1,2}(?:[.,]\d+)?)$/.exec(clean);
  if (clock !== null) {
    const [, sign, hours = '0', minutes = '0', seconds = '0'] = clock;
    const value = Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds.replace(',', '.'));
    if (Number(seconds.replace(',', '.')) >= 60) return null;
    return sign === '-' ? -value : value;
  }
  return /^-?\d+(?:[.,]\d+)?$/.test(clean) ? Number(clean.replace(',', '.')) : null;
}

/** How a session time is put into a field: to the millisecond, no digits that say nothing. */
export function fieldTime(tS: number): string {
  const full = formatSessionTime(tS, 3).replace('\u2212', '-');
  return full.replace(/(\.\d)\d*?0*$/, (tail) => tail.replace(/0+$/, '').padEnd(2, '0'));
}
