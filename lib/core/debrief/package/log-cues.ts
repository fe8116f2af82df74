/**
 * Logs on session time as WebVTT, for any player and any reader.
 *
 * Source: W3C, WebVTT: The Web Video Text Tracks Format, Candidate Recommendation 2019-04-04, 4.1
 * (file), 4.2.2 (cue text: & and < are escaped, a voice is `<v name>`).
 */
import type { SessionEvent } from '../../reconstruction/reconstruction';
import { plainText } from '../markup';

/** A cue without an end of its own is shown so long; our own choice, s. */
const SHOWN_S = 3;

function stamp(timeS: number): string {
  const ms = Math.round(timeS * 1000);
  const part = (value: number, digits: number) => String(value).padStart(digits, '0');
  const [hours, minutes, seconds] = [ms / 3_600_000, (ms / 60_000) % 60, (ms / 1000) % 60];
  return `${part(Math.floor(hours), 2)}:${part(Math.floor(minutes), 2)}:${part(Math.floor(seconds), 2)}.${part(ms % 1000, 3)}`;
}

function cueText(text: string): string {
  return plainText(text)
    .replace(/\s+/g, ' ')
    .trim()
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}

function cue({ timeS, endS, event, text, speaker }: SessionEvent): string {
  const end = endS !== null && endS > timeS ? endS : timeS + SHOWN_S;
  const said = cueText([event === null ? '' : `[${event}]`, text ?? ''].join(' '));
  const voice = speaker === null || speaker === '' ? '' : `<v ${cueText(speaker)}>`;
  return `${stamp(timeS)} --> ${stamp(end)}\n${voice}${said}\n`;
}

/**
 * One log as a WebVTT file.
 *
 * @param entries of one source, on session time
 * @returns the file's text; entries before the session's zero stand in a note, since a cue cannot
 */
export function logCues(entries: readonly SessionEvent[]): string {
  const before = entries.filter(({ timeS }) => timeS < 0);
  const notes = before.map(
    ({ timeS, event, text }) => `${timeS.toFixed(3)} s: ${cueText(`${event ?? ''} ${text ?? ''}`)}`,
  );
  const note = notes.length === 0 ? [] : [`NOTE before session time 0\n${notes.join('\n')}\n`];
  const cues = entries.filter(({ timeS }) => timeS >= 0).sort((a, b) => a.timeS - b.timeS);
  return ['WEBVTT Times are session time\n', ...note, ...cues.map(cue)].join('\n');
}
