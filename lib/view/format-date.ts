/** Days and bookkeeping times as people write them. */
import { formatInstant } from '../core/time/format';

const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** `2016-03-08...` as `8 Mar 2016`; text that is no ISO date comes back as it was. */
export function dayText(iso: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})/.exec(iso);
  const month = MONTHS[Number(match?.[2]) - 1];
  return match === null || month === undefined ? iso : `${Number(match[3])} ${month} ${match[1]}`;
}

/** A bookkeeping time: `8 Mar 2016, 10:30 UTC`. */
export function stampText(iso: string): string {
  return `${dayText(iso)}, ${iso.slice(11, 16)} UTC`;
}

/** The day of a session's zero in UTC. */
export function dayOfZero(zeroTaiNs: string): string {
  return dayText(formatInstant({ taiNs: BigInt(zeroTaiNs) }, 'UTC', { decimals: 0 }));
}

/**
 * The UTC time of day at a session time.
 *
 * @param zeroTaiNs the session's zero, integer TAI nanoseconds as text
 * @param timeS session time, s
 * @returns `09:55:35.8 UTC`
 */
export function utcTimeText(zeroTaiNs: string, timeS: number): string {
  const taiNs = BigInt(zeroTaiNs) + BigInt(Math.round(timeS * 1e9));
  return `${formatInstant({ taiNs }, 'UTC', { decimals: 1 }).slice(11, 21)} UTC`;
}
