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
  if (!Number.isFinite(timeS)) return 'unknown';
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
 * Writes a length of time: seconds under two minutes, else minutes and seconds, else hours too.
 *
 * @param durationS length, s
 * @param decimals decimals of the seconds where it stays under two minutes
 */
export function durationText(durationS: number, decimals = 1): string {
  const sign = durationS < 0 ? '\u2212' : '';
  const lengthS = Math.abs(durationS);
  if (lengthS < 120) {
    const text = lengthS.toFixed(decimals);
    return `${Number(text) === 0 ? '' : sign}${text} s`;
  }
  const whole = Math.round(lengthS);
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  const parts = [hours > 0 ? `${hours} h` : '', `${minutes} min`, `${whole % 60} s`];
  return sign + parts.filter((part) => part !== '').join(' ');
}
