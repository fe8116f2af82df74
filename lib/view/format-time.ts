/** Session time, durations and UTC as text. All arguments are seconds. */
import { MINUS } from './format-number';

type Clock = Readonly<{ negative: boolean; hours: number; minutes: number; seconds: string }>;

/** Rounds first, so that 59.96 s never prints as 60.0. */
function clockParts(seconds: number, decimals: number): Clock {
  const scale = 10 ** decimals;
  const ticks = Math.round(Math.abs(seconds) * scale);
  const whole = Math.floor(ticks / scale);
  const fraction = decimals === 0 ? '' : `.${String(ticks % scale).padStart(decimals, '0')}`;
  return {
    negative: seconds < 0 && ticks > 0,
    hours: Math.floor(whole / 3600),
    minutes: Math.floor(whole / 60) % 60,
    seconds: `${String(whole % 60).padStart(2, '0')}${fraction}`,
  };
}

const pad = (value: number): string => String(value).padStart(2, '0');

/**
 * Session time as hh:mm:ss with fixed decimals.
 *
 * @param seconds elapsed SI seconds from the session's zero
 * @returns `00:43:05.7`; `−00:00:12.0` before zero; `no time` for NaN
 */
export function formatSessionTime(seconds: number, decimals = 1): string {
  if (!Number.isFinite(seconds)) return 'no time';
  const clock = clockParts(seconds, decimals);
  const sign = clock.negative ? MINUS : '';
  return `${sign}${pad(clock.hours)}:${pad(clock.minutes)}:${clock.seconds}`;
}

/** A length of time as mm:ss.s, h:mm:ss.s from an hour on. */
export function formatDuration(seconds: number, decimals = 1): string {
  if (!Number.isFinite(seconds)) return 'no time';
  const clock = clockParts(seconds, decimals);
  const sign = clock.negative ? MINUS : '';
  const head = clock.hours > 0 ? `${clock.hours}:${pad(clock.minutes)}` : pad(clock.minutes);
  return `${sign}${head}:${clock.seconds}`;
}

/** A difference of two durations: `+02:04.5`, `−00:33.4`, `00:00.0`. */
export function formatSignedDuration(seconds: number, decimals = 1): string {
  const text = formatDuration(seconds, decimals);
  return seconds > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** A length of time in words for a sentence: `42 s`, `2 min 57.9 s`, `1 h 02 min 10 s`. */
export function spokenDuration(seconds: number, decimals = 0): string {
  if (!Number.isFinite(seconds)) return 'no time';
  const clock = clockParts(seconds, decimals);
  const bare = clock.seconds.replace(/^0(?=\d)/, '');
  if (clock.hours > 0) return `${clock.hours} h ${pad(clock.minutes)} min ${bare} s`;
  return clock.minutes > 0 ? `${clock.minutes} min ${bare} s` : `${bare} s`;
}

/** Two session times as one stretch, the decimals of both alike. */
export function formatStretch(fromS: number, toS: number, decimals = 1): string {
  return fromS === toS
    ? formatSessionTime(fromS, decimals)
    : `${formatSessionTime(fromS, decimals)} to ${formatSessionTime(toS, decimals)}`;
}
