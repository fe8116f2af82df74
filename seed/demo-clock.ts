/** Session zero of the invented flight, and its times as written in the demo's files. */

export const ZERO_UTC = '2027-04-06T13:05:00.000Z';
const ZERO_MS_OF_DAY = (13 * 60 + 5) * 60 * 1000;

/** Session time = voice recorder's time + this, s; stated in session.yaml. */
export const VOICE_OFFSET_S = 12.4;

/** Hours, minutes, seconds and milliseconds, `hh:mm:ss.mmm`. */
export function clockText(ms: number): string {
  const pad = (value: number, width: number) => String(value).padStart(width, '0');
  const hours = Math.floor(ms / 3_600_000);
  const minutes = Math.floor(ms / 60_000) % 60;
  const seconds = Math.floor(ms / 1000) % 60;
  return `${pad(hours, 2)}:${pad(minutes, 2)}:${pad(seconds, 2)}.${pad(ms % 1000, 3)}`;
}

/** UTC of a time after that time of day on a day of 2027; no leap second falls on either. */
export function utcText(sessionS: number, day = '2027-04-06'): string {
  return `${day}T${clockText(ZERO_MS_OF_DAY + Math.round(sessionS * 1000))}Z`;
}
