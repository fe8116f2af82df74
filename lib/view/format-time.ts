/** Session time and lengths of time as the screens write them. All arguments are seconds. */
import {
  durationText,
  minutesText,
  sessionTimeText,
  signedMinutesText,
} from '../core/time/session-time-text';

/**
 * Session time as hh:mm:ss with fixed decimals.
 *
 * @param seconds elapsed SI seconds from the session's zero
 * @returns `00:43:05.7`; `−00:00:12.0` before zero; `not known` for NaN
 */
export function formatSessionTime(seconds: number, decimals = 1): string {
  return sessionTimeText(seconds, decimals);
}

/** A length of time as mm:ss.s, h:mm:ss.s from an hour on. */
export function formatDuration(seconds: number, decimals = 1): string {
  return minutesText(seconds, decimals);
}

/** A difference of two durations: `+02:04.5`, `−00:33.4`, `00:00.0`. */
export function formatSignedDuration(seconds: number, decimals = 1): string {
  return signedMinutesText(seconds, decimals);
}

/** A length of time in words for a sentence: `42 s`, `2 min 57.9 s`, `1 h 2 min 10 s`. */
export function spokenDuration(seconds: number, decimals = 0): string {
  return durationText(seconds, decimals);
}

/** Two session times as one stretch, the decimals of both alike. */
export function formatStretch(fromS: number, toS: number, decimals = 1): string {
  return fromS === toS
    ? formatSessionTime(fromS, decimals)
    : `${formatSessionTime(fromS, decimals)} to ${formatSessionTime(toS, decimals)}`;
}
