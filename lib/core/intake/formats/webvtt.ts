/** WebVTT captions as a log. */
import type { Parsed } from '../../result';
import { secondsBetween } from '../../time/instant';
import {
  type EventLog,
  type EventReader,
  type LogBuilder,
  type LogText,
  makeLogBuilder,
  refuseLog,
} from '../event-reader';
import { splitLines, withoutByteOrderMark } from '../split-lines';
import { readCueText } from './cue-text';

/** Hours are optional; a first number that is not two digits, or over 59, can only be hours. */
const STAMP = /^(\d+):(\d{2})(?::(\d{2}))?\.(\d{3})(?!\d)/;

/**
 * A stamp at the start of a text: seconds and how many characters it takes; null otherwise.
 *
 * Source: W3C WebVTT, "collect a WebVTT timestamp".
 */
function readStampAt(text: string): Readonly<{ timeS: number; length: number }> | null {
  const match = STAMP.exec(text);
  if (match === null) return null;
  const [whole, first = '', second = '', third, thousandths = ''] = match;
  const mustBeHours = first.length !== 2 || Number(first) > 59;
  if (third === undefined && mustBeHours) return null;
  const hours = third === undefined ? 0 : Number(first);
  const minutes = Number(third === undefined ? first : second);
  const seconds = Number(third ?? second);
  if (minutes > 59 || seconds > 59) return null;
  const timeS = ((hours * 60 + minutes) * 60 + seconds) * 1000 + Number(thousandths);
  return { timeS: timeS / 1000, length: whole.length };
}

type Timing = Readonly<{ startS: number; endS: number }>;

const STAMP_FORM = '[hours:]minutes:seconds.thousandths, as 00:01:02.345';

/** What is wrong with a timing line, for people. */
function timingFault(line: string): string {
  const shown = `"${line.trim().slice(0, 60)}"`;
  const arrow = line.indexOf('-->');
  const sides = [line.slice(0, arrow), line.slice(arrow + 3)].map((side) => side.trim());
  const [start = '', end = ''] = sides;
  if (start === '' || end === '')
    return `${shown} has no time on ${start === '' ? 'the left' : 'the right'} of the arrow`;
  const startTime = readStampAt(start);
  if (startTime === null || startTime.length < start.length) {
    return `${shown}: the start "${start.slice(0, 30)}" is no time; it is written ${STAMP_FORM}`;
  }
  const word = end.split(/[ \t]/)[0] ?? end;
  return `${shown}: the end "${word.slice(0, 30)}" is no time; it is written ${STAMP_FORM}`;
}

/** Start and end of a timing line; settings behind the end are let be. */
function readTiming(line: string): Timing | null {
  const text = line.trimStart();
  const start = readStampAt(text);
  if (start === null) return null;
  const arrow = text.slice(start.length).trimStart();
  if (!arrow.startsWith('-->')) return null;
  const end = readStampAt(arrow.slice(3).trimStart());
  return end === null ? null : { startS: start.timeS, endS: end.timeS };
}

/** `fault` says why there is no timing. */
type Cue = { line: number; timing: Timing | null; fault: string; payload: string[] };

/**
 * Blocks of the file that have a timing line.
 *
 * A block ends at a blank line, or before a line with an arrow that cannot belong to it.
 */
function collectCues(lines: readonly string[], start: number): Cue[] {
  const cues: Cue[] = [];
  let index = start;
  while (index < lines.length) {
    while (index < lines.length && lines[index] === '') index += 1;
    let cue: Cue | null = null;
    for (let count = 1; index < lines.length; count += 1) {
      const line = lines[index] ?? '';
      if (line === '') break;
      if (line.includes('-->')) {
        if (cue !== null || count > 2) break;
        const timing = readTiming(line);
        const fault = timing === null ? timingFault(line) : '';
        cue = { line: index + 1, timing, fault, payload: [] };
      } else cue?.payload.push(line);
      index += 1;
    }
    if (cue !== null) cues.push(cue);
  }
  return cues;
}

/** Puts one cue into the log, one entry for each voice in it. */
export function addCue(cue: Cue, offsetS: number, builder: LogBuilder): void {
  const { timing, line } = cue;
  if (timing === null) {
    builder.reject({
      code: 'cue-timing',
      line,
      message: cue.fault,
      expected: '00:01:02.345 --> 00:01:04.000',
    });
    return;
  }
  const parts = readCueText(cue.payload.join('\n'));
  if (parts.length === 0) {
    builder.reject({ code: 'cue-empty', line, message: 'a cue without text' });
    return;
  }
  const endsEarly = timing.endS < timing.startS;
  if (timing.endS <= timing.startS) {
    builder.remark({
      code: 'cue-ends-early',
      line,
      message: endsEarly
        ? `the cue ends at ${timing.endS} s, before it starts at ${timing.startS} s; its end is left out`
        : `the cue ends when it starts, at ${timing.startS} s; an end is later`,
    });
  }
  for (const { speaker, text } of parts) {
    builder.accept({
      sourceS: offsetS + timing.startS,
      sourceEndS: endsEarly ? null : offsetS + timing.endS,
      event: null,
      text,
      speaker,
      line,
    });
  }
}

/** Seconds from zero at which a caption file's own time 0 lies. */
export function captionOffsetS(log: LogText): number {
  return log.time === null ? 0 : secondsBetween(log.zero, log.time.from);
}

/**
 * Reads WebVTT: a cue's start is its time, a voice span its speaker.
 *
 * @param log text, file name, optional time (its `from` moves the file's own zero), and zero
 * @returns entries by time; a bad cue is one warning and reading goes on; null where the file does
 *   not start with WEBVTT
 *
 * Source: W3C WebVTT, "WebVTT parser algorithm", "collect a WebVTT block".
 */
export function readWebVtt(log: LogText): Parsed<EventLog> {
  const lines = splitLines(log.text);
  if (!hasWebVttSignature(log.text)) {
    return refuseLog(log.fileName, {
      code: 'webvtt-signature',
      line: 1,
      message: 'must start with the line WEBVTT',
      expected: 'WEBVTT',
      received: (lines[0] ?? '').slice(0, 60),
    });
  }
  // What follows the first line up to a blank one is the header.
  let start = 1;
  while (start < lines.length && lines[start] !== '' && lines[start]?.includes('-->') !== true) {
    start += 1;
  }
  const builder = makeLogBuilder(log.fileName);
  const cues = collectCues(lines, start);
  const offsetS = captionOffsetS(log);
  let lastS = Number.NEGATIVE_INFINITY;
  for (const cue of cues) {
    addCue(cue, offsetS, builder);
    const startS = cue.timing?.startS ?? lastS;
    if (startS < lastS) {
      const message = `the cue starts at ${startS} s, before the one above it at ${lastS} s`;
      builder.remark({ code: 'stamp-goes-back', line: cue.line, message });
    }
    lastS = startS;
  }
  return builder.finish(cues.length);
}

function hasWebVttSignature(text: string): boolean {
  return /^WEBVTT(?:[ \t\r\n]|$)/.test(withoutByteOrderMark(text.slice(0, 64)));
}

export const WEBVTT: EventReader = {
  format: 'webvtt',
  endings: ['vtt'],
  hasSignature: hasWebVttSignature,
  read: readWebVtt,
};
