/** Session time as a person reads it: hours, minutes and seconds from the session's zero. */

/**
 * Writes session time as a clock.
 *
 * Rounded first, then split, so that 59.97 s with one decimal is 00:01:00.0 and never 00:00:60.0.
 *
 * @param timeS elapsed SI seconds from zero; may be negative
 * @param digits decimals of the seconds, or `minutes` to leave the seconds out
 * @returns `hh:mm:ss`, `hh:mm:ss.s` or `hh:mm`, with a minus sign before zero; hours may pass 24
 */
export function sessionTimeText(timeS: number, digits: number | 'minutes' = 0): string {
  if (!Number.isFinite(timeS)) return 'not known';
  const decimals = digits === 'minutes' ? 0 : Math.min(6, Math.max(0, digits));
  const scale = digits === 'minutes' ? 1 / 60 : 10 ** decimals;
  const rounded = Math.round(Math.abs(timeS) * scale) / scale;
  const sign = timeS < 0 && rounded > 0 ? '\u2212' : '';
  const whole = Math.floor(rounded + 1e-9);
  const hours = String(Math.floor(whole / 3600)).padStart(2, '0');
  const minutes = String(Math.floor(whole / 60) % 60).padStart(2, '0');
  if (digits === 'minutes') return `${sign}${hours}:${minutes}`;
  const seconds = (rounded - 60 * Math.floor(whole / 60))
    .toFixed(decimals)
    .padStart(decimals === 0 ? 2 : decimals + 3, '0');
  return `${sign}${hours}:${minutes}:${seconds}`;
}

/**
 * Writes a length of time as minutes and seconds, with hours from one hour on.
 *
 * @param durationS length, s; may be negative
 * @param decimals decimals of the seconds
 * @returns `02:57.9`, `1:02:10`, with a true minus sign
 */
export function minutesText(durationS: number, decimals = 1): string {
  const text = sessionTimeText(durationS, decimals);
  return text.replace(/^(\u2212?)00:/, '$1').replace(/^(\u2212?)0(\d:\d\d:)/, '$1$2');
}

/**
 * Writes a difference of two lengths of time: `+02:04.5`, `\u221200:33.4`, `00:00.0`.
 *
 * @param differenceS difference, s
 * @param decimals decimals of the seconds
 * @returns as `minutesText`, with a plus where it is above zero as written
 */
export function signedMinutesText(differenceS: number, decimals = 1): string {
  const text = minutesText(differenceS, decimals);
  return differenceS > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/**
 * Writes a length of time for a sentence: `42.0 s`, `2 min 57.9 s`, `1 h 2 min 10.0 s`.
 *
 * @param durationS length, s; may be negative
 * @param decimals decimals of the seconds
 */
export function durationText(durationS: number, decimals = 1): string {
  if (!Number.isFinite(durationS)) return 'not known';
  const clock = sessionTimeText(Math.abs(durationS), decimals).split(':');
  const [hours = 0, minutes = 0] = clock.map(Number);
  const seconds = (clock[2] ?? '0').replace(/^0(?=\d)/, '');
  const sign = durationS < 0 && /[1-9]/.test(clock.join('')) ? '\u2212' : '';
  const parts = [
    hours > 0 ? `${hours} h` : '',
    hours > 0 || minutes > 0 ? `${minutes} min` : '',
    `${seconds} s`,
  ];
  return sign + parts.filter((part) => part !== '').join(' ');
}

/**
 * An instant in UTC as it is read: `2016-03-08 09:12:30 UTC`.
 *
 * @param iso ISO 8601 with a final Z, as stored; decimals are left out where they are zeros
 * @returns the text as given where it is of another form, such as a day of the year
 */
export function utcText(iso: string): string {
  const parts = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2}:\d{2})(\.\d+)?Z$/.exec(iso);
  if (parts === null) return iso;
  const [, date, time, decimals = ''] = parts;
  return `${date} ${time}${/[1-9]/.test(decimals) ? decimals : ''} UTC`;
}

/** `2016-03-08 09:12 UTC`: bookkeeping needs no more than the minute; the record has the rest. */
export function utcMinuteText(iso: string): string {
  return utcText(iso).replace(/:\d{2}(\.\d+)? UTC$/, ' UTC');
}

/** Session time of an instant that somebody named, s: tenths only where it has some. */
export function instantText(atS: number): string {
  return sessionTimeText(atS, Number.isInteger(atS) ? 0 : 1);
}
