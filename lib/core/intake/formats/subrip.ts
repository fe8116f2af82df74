/** SubRip captions as a log. There is no formal standard; common practice is followed. */
import type { Parsed } from '../../result';
import {
  type EventLog,
  type EventReader,
  type LogText,
  makeLogBuilder,
  refuseLog,
} from '../event-reader';
import { splitLines, withoutByteOrderMark } from '../split-lines';
import { addCue, captionOffsetS } from './webvtt';

/**
 * Comma or point before the thousandths; coordinates behind the end are let be. Programs that shift
 * captions write a minus before what comes to lie before zero.
 */
const TIMING =
  /^\s*([-−]?\d{1,4}):(\d{2}):(\d{2})[,.](\d{1,3})\s*-->\s*([-−]?\d{1,4}):(\d{2}):(\d{2})[,.](\d{1,3})(?:\s|$)/;

function seconds(parts: readonly (string | undefined)[]): number {
  const [hours = '', minutes = '', whole = '', thousandths = ''] = parts;
  if (Number(minutes) > 59 || Number(whole) > 59) return NaN;
  const wholeS = (Number(hours.replace(/^[-−]/, '')) * 60 + Number(minutes)) * 60 + Number(whole);
  const sizeS = (wholeS * 1000 + Number(thousandths.padEnd(3, '0'))) / 1000;
  return /^[-−]/.test(hours) ? -sizeS : sizeS;
}

function readTiming(line: string): Readonly<{ startS: number; endS: number }> | null {
  const match = TIMING.exec(line);
  if (match === null) return null;
  const startS = seconds(match.slice(1, 5));
  const endS = seconds(match.slice(5, 9));
  return Number.isNaN(startS) || Number.isNaN(endS) ? null : { startS, endS };
}

function fault(line: string): string {
  return `"${line.trim().slice(0, 60)}" is no pair of times; they are written 00:00:12,000 --> 00:00:15,123`;
}

/**
 * Reads SubRip: counter (optional), `00:00:12,000 --> 00:00:15,123`, text, blank line.
 *
 * @returns entries by time; a bad cue is one warning; null where no line has an arrow
 */
export function readSubRip(log: LogText): Parsed<EventLog> {
  const lines = splitLines(log.text);
  const builder = makeLogBuilder(log.fileName);
  const offsetS = captionOffsetS(log);
  let cueCount = 0;
  for (let index = 0; index < lines.length; index += 1) {
    const timingText = lines[index] ?? '';
    if (!timingText.includes('-->')) continue;
    const payload: string[] = [];
    let next = index + 1;
    while (
      next < lines.length &&
      lines[next]?.trim() !== '' &&
      lines[next]?.includes('-->') !== true
    ) {
      payload.push((lines[next] ?? '').replace(/\{\\[^}]*\}/g, ''));
      next += 1;
    }
    // Without a blank line between, the next cue's counter stands at the end of this text.
    if (lines[next]?.includes('-->') && /^\s*\d+\s*$/.test(payload.at(-1) ?? '')) payload.pop();
    cueCount += 1;
    addCue(
      { line: index + 1, timing: readTiming(timingText), fault: fault(timingText), payload },
      offsetS,
      builder,
    );
    index = next - 1;
  }
  if (cueCount === 0 && log.text.trim() !== '') {
    return refuseLog(log.fileName, {
      code: 'subrip-no-cue',
      message: 'no line has the form 00:00:12,000 --> 00:00:15,123',
      expected: '00:00:12,000 --> 00:00:15,123',
      received: (lines[0] ?? '').slice(0, 60),
    });
  }
  return builder.finish(cueCount);
}

export const SUBRIP: EventReader = {
  format: 'subrip',
  endings: ['srt'],
  hasSignature: (text) =>
    /^\s*\d+\s*\r?\n\s*\d{1,4}:\d{2}:\d{2}[,.]\d{1,3}\s*-->/.test(
      withoutByteOrderMark(text.slice(0, 200)),
    ),
  read: readSubRip,
};
